package proof

import (
	"math"

	"github.com/paulmach/orb"
)

// farthest is an upper bound in mm of the distance from the points of p to f: the
// greatest one exactly wherever all feet lie on one feature of f (its inside, or
// one of its ends), and never more than half p's length above it.
//
// da and db are f.dist of p's ends, l is p's length.
func farthest(p, f *curve, da, db, l float64) float64 {
	if p.r == 0 && f.r == 0 {
		return max(da, db) // the distance to a convex set is convex
	}
	ub := (da + db + l) / 2 // the distance changes by at most the way
	ub = min(ub, min(toPoint(p, f.A), toPoint(p, f.B)))
	var x float64
	var ok bool
	switch {
	case p.r == 0:
		x, ok = lineFromArc(p, f)
	case f.r == 0:
		x, ok = arcFromLine(p, f)
	default:
		x, ok = arcFromArc(p, f)
	}
	if ok {
		ub = min(ub, x)
	}
	return max(ub, max(da, db))
}

// toPoint is the greatest distance from the points of p to q.
func toPoint(p *curve, q orb.Point) float64 {
	d := max(gap(p.A, q), gap(p.B, q))
	if p.r > 0 {
		vx, vy := p.A[0]+p.g[0]-q[0], p.A[1]+p.g[1]-q[1]
		if p.sees(orb.Point{vx, vy}) {
			d = max(d, math.Sqrt(vx*vx+vy*vy)+p.r)
		}
	}
	return d
}

// lineFromArc: |q-c|-r is convex along a line, so its size is greatest at an end
// or at the foot of the centre.
func lineFromArc(p, f *curve) (float64, bool) {
	if !f.within(p.A) || !f.within(p.B) {
		return 0, false
	}
	d := max(math.Abs(f.over(p.A)), math.Abs(f.over(p.B)))
	u := sub(p.B, p.A)
	if uu := dot(u, u); uu > 0 {
		t := -dot(sub(sub(p.A, f.A), f.g), u) / uu
		if t > 0 && t < 1 {
			d = max(d, math.Abs(f.over(on(p.A, u, t))))
		}
	}
	return d + slack, true
}

// arcFromLine: along and across the line an arc is farthest at its ends or where
// its radius points that way.
func arcFromLine(p, f *curve) (float64, bool) {
	u := sub(f.B, f.A)
	l := math.Sqrt(dot(u, u))
	if l == 0 {
		return 0, false
	}
	u = orb.Point{u[0] / l, u[1] / l}
	a, b, c := sub(p.A, f.A), sub(p.B, f.A), sub(p.centre(), f.A)
	lo, hi := min(dot(a, u), dot(b, u)), max(dot(a, u), dot(b, u))
	if p.sees(u) {
		hi = max(hi, dot(c, u)+p.r)
	}
	if p.sees(orb.Point{-u[0], -u[1]}) {
		lo = min(lo, dot(c, u)-p.r)
	}
	if lo < -slack || hi > l+slack {
		return 0, false
	}
	n := orb.Point{-u[1], u[0]}
	d := max(math.Abs(dot(a, n)), math.Abs(dot(b, n)))
	if p.sees(n) {
		d = max(d, math.Abs(dot(c, n)+p.r))
	}
	if p.sees(orb.Point{-n[0], -n[1]}) {
		d = max(d, math.Abs(dot(c, n)-p.r))
	}
	return d + slack, true
}

// arcFromArc: the distance from f's centre is monotone between the places where
// p's radius points along the line of centres.
func arcFromArc(p, f *curve) (float64, bool) {
	if !f.within(p.A) || !f.within(p.B) || !f.within(p.apex()) {
		return 0, false
	}
	d := max(math.Abs(f.over(p.A)), math.Abs(f.over(p.B)))
	cp := p.centre()
	v := sub(f.centre(), cp)
	if l := math.Sqrt(dot(v, v)); l > 1e-12 {
		for _, s := range [2]float64{1 / l, -1 / l} {
			if n := (orb.Point{s * v[0], s * v[1]}); p.sees(n) {
				d = max(d, math.Abs(f.over(on(cp, n, p.r))))
			}
		}
	}
	return d + slack, true
}

// apex is where the tangents at an arc's ends meet: arc and apex lie in one
// triangle with the chord. Of a half circle there is none; far away does.
func (c *curve) apex() orb.Point {
	k := c.Bulge / max(1e-12, 1-c.Bulge*c.Bulge)
	m := mid(c.A, c.B)
	return orb.Point{m[0] + k*(c.B[1]-c.A[1]), m[1] - k*(c.B[0]-c.A[0])}
}

// parting is the fraction of p's length at which its feet pass from the inside
// of f to one of its ends; one half where they do not.
func parting(p, f *curve) float64 {
	for _, side := range [2]int{0, 1} {
		a, b := f.zone(p.A, side), f.zone(p.B, side)
		if !(a*b < 0) {
			continue
		}
		t := a / (a - b)
		if p.r > 0 { // secant steps on the arc
			lo, hi, va, vb := 0.0, 1.0, a, b
			for range 8 {
				v := f.zone(p.At(t), side)
				if v*va > 0 {
					lo, va = t, v
				} else {
					hi, vb = t, v
				}
				if n := lo + (hi-lo)*va/(va-vb); math.Abs(n-t) < 1e-14 {
					break
				} else {
					t = n
				}
			}
		}
		if t > 1e-6 && t < 1-1e-6 {
			return t
		}
	}
	return 0.5
}

// zone is positive on the inner side of the normal to c at an end (0: A, 1: B).
func (c *curve) zone(q orb.Point, side int) float64 {
	if c.r == 0 {
		d := sub(c.B, c.A)
		if side == 0 {
			return dot(sub(q, c.A), d)
		}
		return dot(sub(c.B, q), d)
	}
	v := 0.0
	if side == 0 {
		v = -cross(c.g, sub(q, c.A))
	} else {
		v = -cross(sub(q, c.B), c.h)
	}
	if c.Bulge < 0 {
		v = -v
	}
	return v
}
