package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// Closest is the least distance in mm between a point of the paths a and a point
// of the paths b, and those points; 0 where they meet within 1e-9 mm. It is
// infinite if there is no vertex on either side.
func Closest(a, b []Path) (d float64, at, on orb.Point) {
	d = math.Inf(1)
	s, t := newSearch(a, 0), newSearch(b, 0)
	if len(s.to) == 0 || len(t.to) == 0 {
		return d, at, on
	}
	// Vertices give a bound; only edges nearer than that are compared.
	for i := range s.to {
		q := s.to[i].a
		t.tree.search(q[0], q[1], d*d, func(k int) float64 {
			if l := t.to[k].dist(q); l < d {
				d, at = l, q
				on, _, _ = t.edge(k).nearest(at)
			}
			return d * d
		})
	}
	s.tree.across(&t.tree, d, func(i, j int) {
		if d == 0 {
			return
		}
		if l, p, q := s.to[i].gap(&t.to[j]); l < d {
			d, at, on = l, p, q
		}
	})
	return d, at, on
}

func (s *search) edge(k int) Edge {
	t := &s.to[k]
	return Edge{t.a, t.b, t.bulge}
}

// gap is the least distance between two spans and where it is.
//
// It is 0, or it is reached from an end of either, or inside both along a common
// normal: through the centres of the arcs.
func (s *span) gap(t *span) (d float64, at, on orb.Point) {
	d = math.Inf(1)
	var h hits
	if h.find(s, t, join); h.n > 0 {
		at, _, _ = Edge{s.a, s.b, s.bulge}.nearest(h.at[0])
		on, _, _ = Edge{t.a, t.b, t.bulge}.nearest(h.at[0])
		if d = dist(at, on); d <= join {
			return 0, at, on
		}
	}
	try := func(p, q *span, x orb.Point) {
		if l := q.dist(x); l < d {
			y, _, _ := Edge{q.a, q.b, q.bulge}.nearest(x)
			d, at, on = l, x, y
			if p == t {
				at, on = y, x
			}
		}
	}
	try(s, t, s.a)
	try(s, t, s.b)
	try(t, s, t.a)
	try(t, s, t.b)
	p, q := s, t // q an arc, if any
	if q.k == 0 {
		p, q = q, p
	}
	if q.k == 0 {
		return d, at, on
	}
	o := q.centre()
	if p.k == 0 {
		if p.l > 0 && p.faces(o) {
			h := p.side(o)
			try(p, q, orb.Point{o[0] + h*p.t0[1], o[1] - h*p.t0[0]})
		}
		return d, at, on
	}
	c := p.centre()
	v := sub(o, c)
	l := math.Hypot(v[0], v[1])
	if l == 0 {
		return d, at, on // concentric: as near at an end
	}
	for _, r := range [2]float64{1 / p.k / l, -1 / p.k / l} {
		if x := (orb.Point{c[0] + r*v[0], c[1] + r*v[1]}); p.faces(x) {
			x, _, _ = Edge{p.a, p.b, p.bulge}.nearest(x) // a far centre loses digits
			try(p, q, x)
		}
	}
	return d, at, on
}
