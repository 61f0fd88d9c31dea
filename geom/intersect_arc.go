package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// arcs finds the common points of two spans of which at least one is an arc.
//
// Both satisfy an equation f(w) = w·n - k|w|²/2 = 0 (see span); the one with the
// smaller curvature, less k2/k1 times the other, is the straight line through
// the common points of the two circles, w·M = m. It is put into the equation of
// the more curved one. |M| is the distance of the centres times k2, 1 for a line.
func (h *hits) arcs(a, b *span, tol float64) {
	p, q := a, b // p the more curved
	if math.Abs(b.k) > math.Abs(a.k) {
		p, q = b, a
	}
	d := sub(q.a, p.a)
	n1 := orb.Point{-p.t0[1], p.t0[0]}
	n2 := orb.Point{-q.t0[1], q.t0[0]}
	k1, k2 := p.k, q.k
	r := k2 / k1
	mx := n2[0] + k2*d[0] - r*n1[0]
	my := n2[1] + k2*d[1] - r*n1[1]
	m := dot(d, n2) + k2*dot(d, d)/2
	ml := math.Sqrt(mx*mx + my*my)
	if ml < 1e-3 && k2 != 0 && h.sameCircle(a, b, tol) {
		return
	}
	if ml < 1e-14 {
		return
	}
	mx, my, m = mx/ml, my/ml, m/ml
	// w = m·M + s·e, e to the left of M: k1 s²/2 - (e·n1) s + (k1 m²/2 - m M·n1) = 0
	ex, ey := -my, mx
	en := ex*n1[0] + ey*n1[1]
	c0 := k1*m*m/2 - m*(mx*n1[0]+my*n1[1])
	disc := en*en - 2*k1*c0
	// 1/|k1| less the distance of the centre from the line is about disc/2|k1|;
	// the gap between the curves is at most that, or less by the factor ml.
	if edge := 8*math.Abs(k1)*tol/min(ml, 1) + 1e-14; math.Abs(disc) < edge {
		if t, gap := tangency(p, q, n1, mx, my, m, ex, ey, en); math.Abs(gap) <= tol {
			if a.within(t) && b.within(t) {
				h.add(t, 0, false, tol)
			} else {
				h.ends(a, b, tol)
				h.close = h.n == 2 && b.dist(a.middle(h.at[0], h.at[1])) <= tol
			}
			return
		}
	}
	if disc <= 0 {
		return
	}
	root := math.Sqrt(disc)
	u := en + math.Copysign(root, en)
	for _, s := range [2]float64{u / k1, 2 * c0 / u} {
		h.try(a, b, orb.Point{p.a[0] + m*mx + s*ex, p.a[1] + m*my + s*ey}, tol)
	}
}

// try adds the point x of both whole curves if it lies between the ends of both,
// or the end just short of it.
func (h *hits) try(a, b *span, x orb.Point, tol float64) {
	if math.IsNaN(x[0]) || math.IsInf(x[0], 0) {
		return
	}
	ta, tb := a.tangent(x), b.tangent(x)
	s := cross(ta, tb)
	slack := tol / max(math.Abs(s), 1e-7)
	ea, oka := a.snap(x, slack, tol)
	if !oka {
		return
	}
	eb, okb := b.snap(x, slack, tol)
	if !okb {
		return
	}
	switch {
	case ea == nil && eb == nil:
		h.add(x, s, false, tol)
	case ea == nil:
		if a.dist(*eb) <= tol {
			h.add(*eb, s, true, tol)
		}
	default:
		if b.dist(*ea) <= tol {
			h.add(*ea, s, true, tol)
		} else if eb != nil && a.dist(*eb) <= tol {
			h.add(*eb, s, true, tol)
		}
	}
}

// snap tells whether the point x of the whole curve lies on the span; beside or
// within tol of an end, or beyond it by at most slack, it gives that end.
func (s *span) snap(x orb.Point, slack, tol float64) (end *orb.Point, ok bool) {
	da, db := dist2(s.a, x), dist2(s.b, x)
	if da <= tol*tol && da <= db {
		return &s.a, true
	}
	if db <= tol*tol {
		return &s.b, true
	}
	if s.within(x) {
		return nil, true
	}
	if da <= db {
		return &s.a, da <= slack*slack
	}
	return &s.b, db <= slack*slack
}

// tangency is the point where two curves come closest without crossing, or where
// they overlap most, with the gap between them there.
func tangency(p, q *span, n1 orb.Point, mx, my, m, ex, ey, en float64) (t orb.Point, gap float64) {
	if math.Abs(p.k) > 1e-6 {
		// The point of p's circle towards the line of common points.
		c := p.centre()
		r := 1 / math.Abs(p.k)
		if (p.a[0]-c[0])*mx+(p.a[1]-c[1])*my+m < 0 {
			r = -r
		}
		t = orb.Point{c[0] + r*mx, c[1] + r*my}
		return t, q.side(t)
	}
	s := en / p.k
	t = orb.Point{p.a[0] + m*mx + s*ex, p.a[1] + m*my + s*ey}
	return t, max(math.Abs(p.side(t)), math.Abs(q.side(t)))
}

// sameCircle answers for two arcs whose circles are all but one: they share a
// stretch if its ends and its middle lie within tol of both.
func (h *hits) sameCircle(a, b *span, tol float64) bool {
	var ends [4]orb.Point
	n := 0
	put := func(q orb.Point, s *span) {
		if s.dist(q) > tol {
			return
		}
		for i := range n {
			if dist2(ends[i], q) <= tol*tol {
				return
			}
		}
		ends[n] = q
		n++
	}
	put(a.a, b)
	put(a.b, b)
	put(b.a, a)
	put(b.b, a)
	if n == 0 {
		return false
	}
	if n == 2 {
		p, q := ends[0], ends[1]
		if a.order(q) < a.order(p) {
			p, q = q, p
		}
		if b.dist(a.middle(p, q)) <= tol {
			h.overlap = true
			h.add(p, 0, true, 0)
			h.add(q, 0, true, 0)
			return true
		}
	}
	// Ends that touch: of one circle nothing else is common.
	c, d := a.centre(), b.centre()
	if dist2(c, d) > tol*tol || math.Abs(1/a.k)-math.Abs(1/b.k) > tol || math.Abs(1/b.k)-math.Abs(1/a.k) > tol {
		return false
	}
	for i := range min(n, 2) {
		h.add(ends[i], 0, true, tol)
	}
	return true
}
