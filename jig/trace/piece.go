package trace

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// A piece is one line or circle of the profile, fitted to measured points. The board
// lies on its right.
type piece struct {
	round  bool
	at     orb.Point // of a line: a point on it and its direction, upward
	dir    orb.Point
	centre orb.Point // of a circle
	radius float64
	turn   float64   // 1 if travelled counter-clockwise, -1 if clockwise
	a, b   orb.Point // its ends
	q      []orb.Point
	e      []float64 // the points' distances, to the left positive
	sd     float64   // of one point
	tau    float64   // points that go together
	cov    []float64 // of the parameters, for one point's variance 1: offset and slope, or radius and centre
}

// off is the distance of a point from the whole line or circle, positive to its left.
func (p *piece) off(q orb.Point) float64 {
	if !p.round {
		return cross(p.dir, sub(q, p.at))
	}
	return p.turn * (p.radius - dist(q, p.centre))
}

// foot is the nearest point on the whole line or circle.
func (p *piece) foot(q orb.Point) orb.Point {
	if !p.round {
		return along(p.at, p.dir, dot(p.dir, sub(q, p.at)))
	}
	d := sub(q, p.centre)
	h := math.Hypot(d[0], d[1])
	if h == 0 {
		return orb.Point{p.centre[0] + p.radius, p.centre[1]}
	}
	return along(p.centre, d, p.radius/h)
}

// left is the unit normal to the left at a place.
func (p *piece) left(q orb.Point) orb.Point {
	if !p.round {
		return orb.Point{-p.dir[1], p.dir[0]}
	}
	d := sub(q, p.centre)
	h := math.Max(math.Hypot(d[0], d[1]), 1e-12)
	return orb.Point{-p.turn * d[0] / h, -p.turn * d[1] / h}
}

// edge is the stretch between the piece's ends.
func (p *piece) edge() geom.Edge {
	e := geom.Edge{A: p.a, B: p.b}
	if p.round {
		e.Bulge = p.bulge()
	}
	return e
}

// bulge of the arc between the piece's ends, held to a half circle.
func (p *piece) bulge() float64 {
	u, v := sub(p.a, p.centre), sub(p.b, p.centre)
	th := p.turn * math.Atan2(cross(u, v), dot(u, v))
	if th < 0 {
		th = 0 // the ends have passed each other
	}
	return p.turn * math.Tan(th/4)
}

// heading is the unit vector in which the piece runs at a place.
func (p *piece) heading(q orb.Point) orb.Point {
	l := p.left(q)
	return orb.Point{l[1], -l[0]}
}

// falls tells whether an arc runs downward at one of its ends by more than noise may
// make it: a straight pass leaves no such arc.
func (p *piece) falls() bool {
	const least = -0.1 // the sine of about 6°
	return p.round && (p.heading(p.a)[1] < least || p.heading(p.b)[1] < least)
}

// bend is the two lines that fit an arc's points best, as far as neither falls; nil if
// there are none.
func (p *piece) bend(floor float64) []*piece {
	var best []*piece
	least := math.Inf(1)
	for k := 4; k+4 <= len(p.q); k++ {
		a, ok := fitPiece(p.q[:k], false, floor)
		b, okB := fitPiece(p.q[k:], false, floor)
		if !ok || !okB || a.dir[1] < 0 || b.dir[1] < 0 {
			continue
		}
		if c := a.cost(0.1) + b.cost(0.1); c < least {
			least, best = c, []*piece{a, b}
		}
	}
	return best
}

// params is the number of figures that describe the piece.
func (p *piece) params() int {
	if p.round {
		return 3
	}
	return 2
}

// fitPiece fits a line or a circle to the points, in the order of the path, by least
// squares of the normal distances reweighted so that what departs far does not count
// (A. E. Beaton, J. W. Tukey, Technometrics 16 (1974) 147-185). floor is the least
// standard deviation a point is believed to have.
func fitPiece(q []orb.Point, round bool, floor float64) (*piece, bool) {
	p := &piece{round: round, q: q, tau: 1}
	need := 4
	if round {
		need = 6
	}
	if len(q) < need {
		return nil, false
	}
	p.a, p.b = q[0], q[len(q)-1]
	if round {
		f, err := geom.FitCircle(q)
		if err != nil || !(f.Radius < 400) {
			return nil, false
		}
		p.centre, p.radius = f.Centre, f.Radius
		m := q[len(q)/2]
		if cross(sub(p.b, p.a), sub(m, p.a)) > 0 {
			p.turn = -1
		} else {
			p.turn = 1
		}
	} else {
		f, err := geom.FitLine(q)
		if err != nil {
			return nil, false
		}
		p.at, p.dir = f.At, f.Dir
		if dot(p.dir, sub(p.b, p.a)) < 0 {
			p.dir = orb.Point{-p.dir[0], -p.dir[1]}
		}
	}
	p.e = make([]float64, len(q))
	abs := make([]float64, len(q))
	for range 12 {
		for i, x := range q {
			p.e[i] = p.off(x)
			abs[i] = math.Abs(p.e[i])
		}
		cut := 4.7 * math.Max(1.4826*median(abs), floor)
		m := newNormal(p.params())
		for i, x := range q {
			t := p.e[i] / cut
			if math.Abs(t) >= 1 {
				continue
			}
			w := (1 - t*t) * (1 - t*t)
			if round {
				n := p.left(x)
				// moving the circle by its radius and centre moves it to the left by
				// -turn·δr + n·δc
				m.add([]float64{-p.turn, n[0], n[1]}, p.e[i], w)
			} else {
				m.add([]float64{1, dot(p.dir, sub(x, p.at))}, p.e[i], w)
			}
		}
		d, inv, ok := m.solve()
		if !ok {
			return nil, false
		}
		p.cov = inv
		p.nudge(d)
		if !(p.radius >= 0 && p.radius < 1000) {
			return nil, false
		}
	}
	var kept []float64
	for i, x := range q {
		p.e[i] = p.off(x)
		abs[i] = math.Abs(p.e[i])
	}
	s := math.Max(1.4826*median(abs), floor)
	sum := 0.0
	for _, e := range p.e {
		if math.Abs(e) < 4.7*s {
			kept = append(kept, e)
			sum += e * e
		}
	}
	if len(kept) == 0 {
		return nil, false
	}
	p.sd = math.Max(math.Sqrt(sum/float64(max(1, len(kept)-p.params()))), floor)
	p.tau = correlation(kept)
	p.a, p.b = p.foot(p.a), p.foot(p.b)
	return p, true
}

// nudge changes the parameters: of a line the offset to the left and the slope, of a
// circle radius and centre.
func (p *piece) nudge(d []float64) {
	if p.round {
		p.radius += d[0]
		p.centre = orb.Point{p.centre[0] + d[1], p.centre[1] + d[2]}
		return
	}
	n := p.left(p.at)
	p.at = along(p.at, n, d[0])
	p.dir = along(p.dir, n, d[1])
	h := math.Hypot(p.dir[0], p.dir[1])
	p.dir = orb.Point{p.dir[0] / h, p.dir[1] / h}
}

// cost is the sum of squared distances of the points, none counted beyond cut.
func (p *piece) cost(cut float64) float64 {
	s := 0.0
	for _, e := range p.e {
		s += math.Min(e*e, cut*cut)
	}
	return s
}

// meet is where two neighbours meet: where they cross near the place m, or, if they
// are all but parallel there, between the nearest points of both.
func meet(p, o *piece, m orb.Point) (orb.Point, bool) {
	at := m
	for range 60 {
		n1, n2 := p.left(at), o.left(at)
		det := cross(n1, n2)
		d1, d2 := p.off(at), o.off(at)
		var v orb.Point
		if math.Abs(det) < 0.06 { // 3.4°
			f, g := p.foot(at), o.foot(at)
			v = orb.Point{(f[0]+g[0])/2 - at[0], (f[1]+g[1])/2 - at[1]}
		} else {
			// off falls by n·v as the place moves by v to the left... it grows
			v = orb.Point{(-d1*n2[1] + d2*n1[1]) / det, (-n1[0]*d2 + n2[0]*d1) / det}
		}
		at = orb.Point{at[0] + v[0], at[1] + v[1]}
		if !(math.Abs(at[0]) < 1e4 && math.Abs(at[1]) < 1e4) {
			return m, false
		}
		if math.Hypot(v[0], v[1]) < 1e-10 {
			break
		}
	}
	return at, true
}

// atHeight is where the piece reaches the height z, near the place m.
func (p *piece) atHeight(z float64, m orb.Point) (orb.Point, bool) {
	level := &piece{at: orb.Point{m[0], z}, dir: orb.Point{1, 0}}
	if !p.round && math.Abs(p.dir[1]) < 0.05 {
		return orb.Point{m[0], z}, false
	}
	at, ok := meet(p, level, m)
	at[1] = z
	return at, ok && math.Abs(p.off(at)) < 0.05
}
