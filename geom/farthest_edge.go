package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// flat is the radius in mm above which rounding puts points of an arc that are
// taken from its centre off by more than about 1e-8 mm.
const flat = 1e5

// farthestFrom is the greatest distance in mm from a point of e to the edge f, and
// that point, in closed form: the maximum over the few points where it can lie.
//
// The distance to a line is convex, so along a line it is greatest at an end.
// Otherwise the distance to f is that to one of its ends, to its line or to its
// circle, and it is smooth but for the bisector of an arc's ends and the arc's
// centre. Its maxima are therefore among: the ends of e; where e is normal to the
// direction to the nearest point of f, that is on the line through the centres, on
// the normals through the centre of e, and opposite the ends of f; and where e
// crosses the bisector of the ends of an arc f.
//
// An arc e of more than 100 m radius is taken for its chord, its rise added to d.
func (e *span) farthestFrom(f *span) (d float64, at orb.Point) {
	d, at = f.dist(e.a), e.a
	if l := f.dist(e.b); l > d {
		d, at = l, e.b
	}
	if e.k == 0 {
		if f.k == 0 || e.l == 0 {
			return d, at
		}
		try := func(t float64) {
			if t > 0 && t < e.l {
				q := orb.Point{e.a[0] + t*e.t0[0], e.a[1] + t*e.t0[1]}
				if k := f.dist(q); k > d {
					d, at = k, q
				}
			}
		}
		try(dot(sub(f.centre(), e.a), e.t0))
		// |q-a| = |q-b|: (q - m)·v = 0, m the middle of f's chord v
		v := sub(f.b, f.a)
		if k := dot(e.t0, v); k != 0 {
			m := orb.Point{(f.a[0]+f.b[0])/2 - e.a[0], (f.a[1]+f.b[1])/2 - e.a[1]}
			try(dot(m, v) / k)
		}
		return d, at
	}
	r := 1 / math.Abs(e.k)
	if r > flat {
		chord := newSpan(e.a, e.b, 0)
		d, at = chord.farthestFrom(f)
		at, _, _ = Edge{e.a, e.b, e.bulge}.nearest(at)
		return d + math.Abs(e.bulge)*e.l/2, at
	}
	c := e.centre()
	try := func(u orb.Point) { // the point of the circle in this direction
		l := math.Sqrt(dot(u, u))
		if l == 0 {
			return
		}
		if q := (orb.Point{c[0] + u[0]/l*r, c[1] + u[1]/l*r}); e.faces(q) {
			if k := f.dist(q); k > d {
				d, at = k, q
			}
		}
	}
	try(sub(c, f.a))
	try(sub(c, f.b))
	v := sub(f.b, f.a)
	if f.k == 0 {
		try(orb.Point{-v[1], v[0]})
		try(orb.Point{v[1], -v[0]})
		return d, at
	}
	o := f.centre()
	try(sub(o, c))
	try(sub(c, o))
	if f.l > 0 {
		// the bisector has the distance k from c along v
		k := (((f.a[0]+f.b[0])/2-c[0])*v[0] + ((f.a[1]+f.b[1])/2-c[1])*v[1]) / f.l
		if h := r*r - k*k; h > 0 {
			h = math.Sqrt(h)
			try(orb.Point{k*v[0] - h*v[1], k*v[1] + h*v[0]})
			try(orb.Point{k*v[0] + h*v[1], k*v[1] - h*v[0]})
		}
	}
	return d, at
}
