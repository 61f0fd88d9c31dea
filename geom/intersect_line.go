package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// parallel is the sine under which two lines are compared by their distance over
// the shared range instead of by solving for a point: the solution's error along
// the lines grows as one over the sine.
const parallel = 1e-3

// lines finds the common points of two lines.
func (h *hits) lines(a, b *span, tol float64) {
	s := cross(a.t0, b.t0)
	if math.Abs(s) < parallel {
		h.parallels(a, b, tol)
		return
	}
	d := orb.Point{b.a[0] - a.a[0], b.a[1] - a.a[1]}
	ta, tb := cross(d, b.t0)/s, cross(d, a.t0)/s
	q := orb.Point{a.a[0] + ta*a.t0[0], a.a[1] + ta*a.t0[1]}
	// How far beyond an end the lines meet, taken across the other one: within
	// tol the end itself is on the other line.
	slack := tol / math.Abs(s)
	if ta < -slack || ta > a.l+slack || tb < -slack || tb > b.l+slack {
		return
	}
	end := false
	switch {
	case ta < tol:
		end = true
		if ta < 0 {
			q = a.a
		}
	case ta > a.l-tol:
		end = true
		if ta > a.l {
			q = a.b
		}
	}
	switch {
	case tb < tol:
		end = true
		if tb < 0 {
			q = b.a
		}
	case tb > b.l-tol:
		end = true
		if tb > b.l {
			q = b.b
		}
	}
	if ta < 0 || ta > a.l || tb < 0 || tb > b.l {
		if a.dist(q) > tol || b.dist(q) > tol {
			h.ends(a, b, tol)
			return
		}
	}
	h.add(q, s, end, tol)
}

// parallels compares two all but parallel lines over the range they share along
// the first one.
func (h *hits) parallels(a, b *span, tol float64) {
	s0, s1 := dot(sub(b.a, a.a), a.t0), dot(sub(b.b, a.a), a.t0)
	d0, d1 := cross(a.t0, sub(b.a, a.a)), cross(a.t0, sub(b.b, a.a))
	if s0 > s1 {
		s0, s1, d0, d1 = s1, s0, d1, d0
	}
	lo, hi := max(0, s0), min(a.l, s1)
	if hi < lo-tol {
		return
	}
	at := func(s float64) (orb.Point, float64) { // on a, and b's distance from it
		return orb.Point{a.a[0] + s*a.t0[0], a.a[1] + s*a.t0[1]}, d0 + (d1-d0)*(s-s0)/(s1-s0)
	}
	if hi <= lo+tol {
		h.ends(a, b, tol)
		return
	}
	p, dp := at(lo)
	q, dq := at(hi)
	switch {
	case math.Abs(dp) <= tol && math.Abs(dq) <= tol:
		h.overlap = true
		h.add(p, 0, true, 0)
		h.add(q, 0, true, 0)
	case math.Abs(dp) <= tol:
		h.add(p, 0, true, tol)
	case math.Abs(dq) <= tol:
		h.add(q, 0, true, tol)
	case dp < 0 != (dq < 0):
		m, _ := at(lo + (hi-lo)*dp/(dp-dq))
		h.add(m, cross(a.t0, b.t0), false, tol)
	}
}

func sub(a, b orb.Point) orb.Point { return orb.Point{a[0] - b[0], a[1] - b[1]} }
