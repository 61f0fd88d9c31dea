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
func (e Edge) farthestFrom(f Edge) (d float64, at orb.Point) {
	d, at = f.Dist(e.A), e.A
	if l := f.Dist(e.B); l > d {
		d, at = l, e.B
	}
	if e.Straight() {
		if f.Straight() {
			return d, at
		}
		l := dist(e.A, e.B)
		if l == 0 {
			return d, at
		}
		u := orb.Point{(e.B[0] - e.A[0]) / l, (e.B[1] - e.A[1]) / l}
		try := func(t float64) {
			if t > 0 && t < l {
				q := orb.Point{e.A[0] + t*u[0], e.A[1] + t*u[1]}
				if k := f.Dist(q); k > d {
					d, at = k, q
				}
			}
		}
		c, _ := f.Arc()
		try((c[0]-e.A[0])*u[0] + (c[1]-e.A[1])*u[1])
		// |q-A| = |q-B|: (q - m)·v = 0, m the middle of f's chord v
		vx, vy := f.B[0]-f.A[0], f.B[1]-f.A[1]
		if k := u[0]*vx + u[1]*vy; k != 0 {
			mx, my := (f.A[0]+f.B[0])/2, (f.A[1]+f.B[1])/2
			try(((mx-e.A[0])*vx + (my-e.A[1])*vy) / k)
		}
		return d, at
	}
	c, r := e.Arc()
	if r > flat {
		d, at = Edge{e.A, e.B, 0}.farthestFrom(f)
		at, _, _ = e.Nearest(at)
		return d + math.Abs(e.Bulge)*dist(e.A, e.B)/2, at
	}
	_, ua, ub := e.ends()
	try := func(x, y float64) { // the point of the circle in this direction
		l := math.Hypot(x, y)
		if l == 0 {
			return
		}
		q := orb.Point{c[0] + x/l*r, c[1] + y/l*r}
		if ua[0]*(q[0]-e.A[0])+ua[1]*(q[1]-e.A[1]) <= 0 || ub[0]*(q[0]-e.B[0])+ub[1]*(q[1]-e.B[1]) >= 0 {
			return
		}
		if k := f.Dist(q); k > d {
			d, at = k, q
		}
	}
	try(c[0]-f.A[0], c[1]-f.A[1])
	try(c[0]-f.B[0], c[1]-f.B[1])
	vx, vy := f.B[0]-f.A[0], f.B[1]-f.A[1]
	if f.Straight() {
		try(-vy, vx)
		try(vy, -vx)
		return d, at
	}
	o, _ := f.Arc()
	try(o[0]-c[0], o[1]-c[1])
	try(c[0]-o[0], c[1]-o[1])
	if l := math.Hypot(vx, vy); l > 0 {
		// the bisector has the distance k from c along v
		k := (((f.A[0]+f.B[0])/2-c[0])*vx + ((f.A[1]+f.B[1])/2-c[1])*vy) / l
		if h := r*r - k*k; h > 0 {
			h = math.Sqrt(h)
			try(k*vx-h*vy, k*vy+h*vx)
			try(k*vx+h*vy, k*vy-h*vx)
		}
	}
	return d, at
}
