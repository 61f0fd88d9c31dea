package route

import (
	"math"
	"sort"

	"blockwright/geom"
)

// steps are the depths from just below from down to to, none more than down
// apart, all equal.
func steps(from, to, down float64) []float64 {
	n := int(math.Ceil((from-to)/down - tiny))
	var out []float64
	for i := 1; i < n; i++ {
		out = append(out, from+(to-from)*float64(i)/float64(n))
	}
	if from > to {
		out = append(out, to)
	}
	return out
}

// rough cuts the root and all that hangs on it down to bottom. With tabs, the
// whole loop goes down to their top and each stretch between them from there.
func (p *pen) rough(k *root, bottom float64) {
	if len(k.tabs) == 0 {
		p.loop(k, p.thick, bottom)
		return
	}
	top := p.tool.TabHeight
	p.loop(k, p.thick, top)
	for _, s := range k.stretches() {
		p.stretch(&s, top, bottom)
	}
}

// loop cuts a whole loop in steps, each ramped and then run level.
func (p *pen) loop(k *root, top, bottom float64) {
	lap := track{run: k.run, kids: append([]kid(nil), k.kids...)}
	for i := range k.wide {
		lap.kids = append(lap.kids, k.farLane(i))
	}
	sortKids(lap.kids)
	s := k.start
	p.goTo(k.run.Point(k.run.AtLength(s)), top+touch)
	for _, z := range steps(top, bottom, p.tool.StepDown) {
		s = p.rampRound(k.run, s, z)
		p.pass(&lap, s, math.Inf(1))
		p.pass(&lap, 0, s)
	}
}

// farLane is a far lane's loop as a kid of the root.
func (k *root) farLane(i int) kid {
	w := k.wide[i]
	return kid{k.place(k.near(w.V[0].Point)), &track{run: opened(w), loop: true}}
}

func sortKids(ks []kid) {
	sort.SliceStable(ks, func(a, b int) bool { return ks[a].at < ks[b].at })
}

// pass feeds along the track from s0 to s1 and round every kid that hangs in
// [s0, s1), at the present depth.
func (p *pen) pass(t *track, s0, s1 float64) {
	for _, k := range t.kids {
		if k.at < s0 || k.at >= s1 {
			continue
		}
		p.follow(t.run.Cut(s0, k.at))
		p.visit(k.t)
		s0 = k.at
	}
	if s1 > s0 {
		p.follow(t.run.Cut(s0, s1))
	}
}

// visit goes over to a kid, along it and back.
func (p *pen) visit(t *track) {
	from := p.at
	p.lineTo(t.run.Start())
	p.pass(t, 0, math.Inf(1))
	if !t.loop {
		p.follow(t.run.Reverse())
	}
	p.lineTo(from)
}

// A stretch is a piece of a loop between two tabs, both ways, with its kids, and
// the kerf's far lane beside it.
type stretch struct {
	there, back track
	wide        geom.Path // from there's start to its end; no vertices without a far lane
}

// stretches are what lies between the root's tabs, in the order of the loop.
func (k *root) stretches() []stretch {
	l := k.run.Length()
	kids := append([]kid(nil), k.kids...)
	for i := range k.wide {
		if i != k.tabs[0].wide {
			kids = append(kids, k.farLane(i))
		}
	}
	var out []stretch
	for i, g := range k.tabs {
		next := k.tabs[(i+1)%len(k.tabs)]
		s0, s1 := g.near.s1, ahead(next.near.s0, g.near.s1, l)
		s := stretch{there: track{run: loopCut(k.run, s0, s1)}}
		n := s.there.run.Length()
		for _, c := range kids {
			if at := ahead(c.at, s0, l) - s0; at <= n {
				s.there.kids = append(s.there.kids, kid{at, c.t})
			}
		}
		sortKids(s.there.kids)
		s.back.run = s.there.run.Reverse()
		for j := len(s.there.kids) - 1; j >= 0; j-- {
			s.back.kids = append(s.back.kids, kid{n - s.there.kids[j].at, s.there.kids[j].t})
		}
		if g.wide >= 0 {
			w := opened(k.wide[g.wide])
			s.wide = loopCut(w, g.far.s1, ahead(next.far.s0, g.far.s1, w.Length()))
		}
		out = append(out, s)
	}
	return out
}

// ahead is s plus as many whole lengths l as bring it to from or just beyond.
func ahead(s, from, l float64) float64 {
	if s < from && l > 0 {
		if s += l * math.Ceil((from-s)/l); s < from {
			s += l
		}
	}
	return s
}

// loopCut is the piece of a loop, given as an open run, from s0 to s1 mm; both
// may lie beyond its length.
func loopCut(run geom.Path, s0, s1 float64) geom.Path {
	l := run.Length()
	n := math.Floor(s0 / l)
	s0, s1 = s0-n*l, s1-n*l
	closed := geom.Path{V: run.V[:len(run.V)-1], Closed: true}
	return closed.Cut(s0, s1)
}

// stretch cuts a piece between two tabs from top, where it is cut already, to
// bottom: at each step ramped to and fro, then run level one way in the near
// lane and the other way in the far one.
func (p *pen) stretch(s *stretch, top, bottom float64) {
	p.goTo(s.there.run.Start(), top)
	atEnd := false
	for _, z := range steps(top, bottom, p.tool.StepDown) {
		atEnd = p.rampToAndFro(s.there.run, atEnd, z)
		near, far := &s.there, s.wide.Reverse()
		if atEnd {
			near, far = &s.back, s.wide
		}
		p.pass(near, 0, math.Inf(1))
		if len(far.V) == 0 {
			atEnd = !atEnd
			continue
		}
		p.lineTo(far.Start())
		p.follow(far)
		p.lineTo(near.run.Start())
	}
}
