package route

import (
	"blockwright/geom"
)

// drop is how far the mill may sink over l mm of way: the ramp's slope less what
// rounding the words can add.
func (p *pen) drop(l float64) float64 {
	d := p.slope*l - rounding
	if d < 0 {
		return 0
	}
	return d
}

// drops tells whether one run along the path sinks the mill at all.
func (p *pen) drops(q geom.Path) bool {
	for i := range q.Edges() {
		if p.drop(q.Edge(i).Length()) > 0 {
			return true
		}
	}
	return false
}

// sinkAlong feeds along e while sinking towards z as far as the slope allows; the
// rest of the edge is level. It returns the way along e until z was reached, or
// the whole length.
func (p *pen) sinkAlong(e geom.Edge, z float64) float64 {
	l := e.Length()
	d := p.drop(l)
	if p.z-d >= z {
		p.edge(e, p.z-d)
		return l
	}
	if p.z <= z {
		p.edge(e, p.z)
		return 0
	}
	way := (p.z - z + rounding) / p.slope // so that drop(way) is the rest
	if l-way < 0.01 {
		p.edge(e, z)
		return l
	}
	a, b := e.Split(way / l)
	p.edge(a, z)
	p.edge(b, z)
	return way
}

// rampRound sinks the mill to z on its way round the loop, given as an open run
// that ends where it starts, from s mm along it. It stops where z is reached and
// returns that place. The loop must drop.
func (p *pen) rampRound(run geom.Path, s, z float64) float64 {
	if p.z <= z {
		return s
	}
	total := run.Length()
	for {
		piece := run.Cut(s, total)
		for i := range piece.Edges() {
			e := piece.Edge(i)
			l := e.Length()
			if d := p.drop(l); p.z-d > z {
				p.edge(e, p.z-d)
				s += l
				continue
			}
			way := (p.z - z + rounding) / p.slope
			if l-way < 0.01 {
				p.edge(e, z)
				return s + l
			}
			a, _ := e.Split(way / l)
			p.edge(a, z)
			return s + way
		}
		s = 0
	}
}

// rampToAndFro sinks the mill to z on an open run, turning at its ends, and then
// goes on level to the end ahead. It starts at the run's end if back is set, and
// returns whether the mill now stands at the start, looking the other way: the
// value for the next call. The run must drop.
func (p *pen) rampToAndFro(run geom.Path, back bool, z float64) bool {
	there := [2]geom.Path{run, run.Reverse()}
	k := 0
	if back {
		k = 1
	}
	for {
		q := there[k]
		for i := range q.Edges() {
			p.sinkAlong(q.Edge(i), z)
		}
		k = 1 - k
		if p.z <= z {
			return k == 1
		}
	}
}
