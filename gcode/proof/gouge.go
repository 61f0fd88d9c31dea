package proof

import (
	"math"

	"github.com/paulmach/orb"
)

// touching is the distance in mm under which a stretch counts as crossing the wall.
const touching = 1e-8

// A meeting is how a stretch lies to the part.
type meeting struct {
	deep  float64 // greatest depth of the centre in the part, mm; negative: least distance outside
	at    orb.Point
	curve int  // the wall that is nearest, where at is still to be found; -1: at is known
	loop  int  // the wall that is nearest
	over  bool // no deeper than a pocket's floor; deep is then only its side
}

// A prober walks the stretches of a program, one after the other, against a solid.
type prober struct {
	s     *solid
	scan  scan
	end   orb.Point // where the last stretch ended
	in    bool      // whether that was inside the part
	known bool
	hint  int
}

func newProber(s *solid) *prober {
	return &prober{s: s, scan: scan{c: s.field.c, left: budget}}
}

// probe tells how deep the stretch goes. A stretch that meets no wall lies on one
// side of it: outside, the exact least distance between curves is the answer.
// Only one that goes into the part has to be searched.
func (b *prober) probe(c *curve) meeting {
	d, k := b.s.field.near(c, b.hint)
	b.hint = k
	in := b.inside(c, d)
	m := meeting{curve: -1, loop: int(b.s.owner[k])}
	if d >= touching {
		if !in {
			m.deep, m.curve = -d, k
		} else {
			w := peak{stop: math.Inf(1), at: c.A}
			b.scan.over(b.s.field, c, &w)
			m.deep, m.at = w.d, w.at
		}
		b.end, b.in, b.known = c.B, in, true
		return m
	}
	b.known = false
	w := peak{d: -touching, stop: math.Inf(1), at: c.A}
	b.signed(c, &w)
	m.deep, m.at = w.d, w.at
	return m
}

// inside tells whether c, which is d away from the wall, begins inside the part: as
// the last stretch lay where it ended there and met no wall.
func (b *prober) inside(c *curve, d float64) bool {
	if b.known && gap(b.end, c.A) <= slack && d >= touching {
		return b.in
	}
	return b.s.inside(c.A)
}

// signed raises w to the greatest depth of c, which may cross walls.
func (b *prober) signed(c *curve, w *peak) {
	d, k := b.s.field.near(c, b.hint)
	if d >= touching {
		if b.s.inside(c.A) {
			b.scan.over(b.s.field, c, w)
		} else {
			w.see(-d, c.A)
		}
		return
	}
	f := &b.s.field.c[k]
	l := c.l
	ub := farthest(c, f, f.dist(c.A), f.dist(c.B), l)
	if ub <= w.d+Certain/2 {
		return
	}
	if b.scan.left <= 0 {
		w.see(ub, c.A)
		return
	}
	b.scan.left--
	t := parting(c, f)
	one, two := c.between(0, t), c.between(t, 1)
	b.signed(&one, w)
	b.signed(&two, w)
}

// place is where a meeting on the stretch c is worst.
func (b *prober) place(c *curve, m *meeting) orb.Point {
	if m.curve >= 0 {
		m.at, m.curve = b.nearestPoint(c, m.curve), -1
	}
	return m.at
}

// nearestPoint is the place of c that lies nearest to the curve k, for the report.
func (b *prober) nearestPoint(c *curve, k int) orb.Point {
	f := &b.s.field.c[k]
	at, d := c.A, f.dist(c.A)
	try := func(q orb.Point) {
		if x := f.dist(q); x < d {
			at, d = q, x
		}
	}
	try(c.B)
	try(footOn(c, f.A))
	try(footOn(c, f.B))
	if c.r == 0 && f.r > 0 {
		try(footOn(c, f.centre()))
	}
	if c.r > 0 && f.r > 0 {
		try(footOn(c, f.centre()))
		v := sub(c.centre(), f.centre())
		if l := math.Sqrt(dot(v, v)); l > 0 {
			try(footOn(c, on(f.centre(), v, f.r/l)))
			try(footOn(c, on(f.centre(), v, -f.r/l)))
		}
	}
	if c.r > 0 && f.r == 0 {
		v := sub(f.B, f.A)
		n := orb.Point{-v[1], v[0]}
		if l := math.Sqrt(dot(n, n)); l > 0 {
			try(footOn(c, on(c.centre(), n, c.r/l)))
			try(footOn(c, on(c.centre(), n, -c.r/l)))
		}
	}
	return at
}

func footOn(c *curve, q orb.Point) orb.Point {
	at, _, _ := c.Edge.Nearest(q)
	return at
}
