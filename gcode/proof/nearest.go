package proof

import (
	"math"

	"github.com/paulmach/orb"
)

// nearest is the least distance in mm between two curves, exactly: 0 where they
// meet.
//
// A least distance that is not 0 has an end of one curve at one of its feet, or
// runs along a common normal; on two circles, or a circle and a line, the common
// normals go through the centres.
func nearest(p, f *curve) float64 {
	d := min(min(f.dist(p.A), f.dist(p.B)), min(p.dist(f.A), p.dist(f.B)))
	if d == 0 {
		return 0
	}
	switch {
	case p.r == 0 && f.r == 0:
		if lineMeetsLine(p, f) {
			return 0
		}
		return d
	case p.r == 0:
		return lineToArc(p, f, d)
	case f.r == 0:
		return lineToArc(f, p, d)
	}
	return arcToArc(p, f, d)
}

func lineMeetsLine(p, f *curve) bool {
	dp, df := sub(p.B, p.A), sub(f.B, f.A)
	a, b := cross(df, sub(p.A, f.A)), cross(df, sub(p.B, f.A))
	if a > 0 && b > 0 || a < 0 && b < 0 {
		return false
	}
	c, d := cross(dp, sub(f.A, p.A)), cross(dp, sub(f.B, p.A))
	return a*b < 0 && c*d < 0
}

// lineToArc lowers d, the least distance from ends, to that of the line l and
// the arc a.
func lineToArc(l, a *curve, d float64) float64 {
	u := sub(l.B, l.A)
	uu := dot(u, u)
	if uu == 0 {
		return d
	}
	w := sub(l.A, a.A)
	v := sub(w, a.g) // from the centre to the line's start
	b := dot(v, u)
	if t := -b / uu; t > 0 && t < 1 {
		d = min(d, a.dist(on(l.A, u, t)))
	}
	// |v + t·u|² = r²
	c := dot(w, w) - 2*dot(w, a.g)
	q := b*b - uu*c
	if q <= 0 {
		return d
	}
	k := -(b + math.Copysign(math.Sqrt(q), b))
	for _, t := range [2]float64{k / uu, c / k} {
		if t >= 0 && t <= 1 && a.within(on(l.A, u, t)) {
			return 0
		}
	}
	return d
}

func arcToArc(p, f *curve, d float64) float64 {
	cp, cf := p.centre(), f.centre()
	v := sub(cf, cp)
	l := math.Sqrt(dot(v, v))
	if l < 1e-12 {
		return d // one centre: the distance is the same all along
	}
	u := orb.Point{v[0] / l, v[1] / l}
	for _, s := range [2]float64{1, -1} {
		n := orb.Point{s * u[0], s * u[1]}
		if p.sees(n) {
			d = min(d, f.dist(on(cp, n, p.r)))
		}
		if f.sees(n) {
			d = min(d, p.dist(on(cf, n, f.r)))
		}
	}
	// Where the circles meet: x along the line of centres, y across.
	x := (l + (p.r-f.r)*(p.r+f.r)/l) / 2
	yy := (p.r - x) * (p.r + x)
	if yy < 0 {
		return d
	}
	y := math.Sqrt(yy)
	for _, s := range [2]float64{y, -y} {
		q := orb.Point{cp[0] + x*u[0] - s*u[1], cp[1] + x*u[1] + s*u[0]}
		if p.within(q) && f.within(q) {
			return 0
		}
	}
	return d
}
