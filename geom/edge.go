package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// An Edge is one line or arc from A to B, at most a half circle.
type Edge struct {
	A, B  orb.Point
	Bulge float64
}

// Straight tells whether the edge counts as a line: its arc rises less than
// 1e-9 mm above the chord.
func (e Edge) Straight() bool {
	return e.Bulge == 0 || math.Abs(e.Bulge)*dist(e.A, e.B) < 2*join
}

// Arc gives centre and radius in mm of an edge that is not [Edge.Straight].
//
// From the definition of the bulge b with chord c: r = c(1+b²)/(4|b|), and the
// centre lies c(1-b²)/(4b) to the left of the chord's middle (DXF Reference).
func (e Edge) Arc() (c orb.Point, r float64) {
	b := e.Bulge
	dx, dy := e.B[0]-e.A[0], e.B[1]-e.A[1]
	k := (1 - b*b) / (4 * b)
	c = orb.Point{(e.A[0]+e.B[0])/2 - k*dy, (e.A[1]+e.B[1])/2 + k*dx}
	return c, math.Hypot(dx, dy) * (1 + b*b) / (4 * math.Abs(b))
}

// Sweep is the included angle in radians, positive counter-clockwise, 0 for a line.
func (e Edge) Sweep() float64 { return 4 * math.Atan(e.Bulge) }

// Length in mm.
func (e Edge) Length() float64 {
	c := dist(e.A, e.B)
	if e.Straight() {
		return c
	}
	b := math.Abs(e.Bulge)
	return c * (1 + b*b) / b * math.Atan(b) // r·θ
}

// Reverse is the edge from B to A.
func (e Edge) Reverse() Edge { return Edge{e.B, e.A, -e.Bulge} }

// At is the point at the fraction t of the edge's length, 0 ≤ t ≤ 1.
func (e Edge) At(t float64) orb.Point {
	switch {
	case t <= 0:
		return e.A
	case t >= 1:
		return e.B
	case e.Straight():
		return orb.Point{e.A[0] + t*(e.B[0]-e.A[0]), e.A[1] + t*(e.B[1]-e.A[1])}
	}
	// The chord from A to the point has length c·sin(tθ/2)/sin(θ/2) and leaves
	// A turned by -(1-t)θ/2 from the whole chord. Without the centre, a flat arc
	// loses no digits.
	h := 2 * math.Atan(e.Bulge) // θ/2
	k := math.Sin(t*h) / math.Sin(h)
	s, c := math.Sincos(-(1 - t) * h)
	dx, dy := e.B[0]-e.A[0], e.B[1]-e.A[1]
	return orb.Point{e.A[0] + k*(c*dx-s*dy), e.A[1] + k*(s*dx+c*dy)}
}

// Direction is the unit tangent at the fraction t; the zero vector for an edge
// of no length.
func (e Edge) Direction(t float64) orb.Point {
	dx, dy := e.B[0]-e.A[0], e.B[1]-e.A[1]
	l := math.Hypot(dx, dy)
	if l == 0 {
		return orb.Point{}
	}
	dx, dy = dx/l, dy/l
	if e.Bulge == 0 {
		return orb.Point{dx, dy}
	}
	s, c := math.Sincos((2*t - 1) * 2 * math.Atan(e.Bulge))
	return orb.Point{c*dx - s*dy, s*dx + c*dy}
}

// Split cuts the edge at the fraction t of its length, 0 < t < 1.
func (e Edge) Split(t float64) (Edge, Edge) {
	m := e.At(t)
	if e.Bulge == 0 {
		return Edge{e.A, m, 0}, Edge{m, e.B, 0}
	}
	q := math.Atan(e.Bulge) // θ/4
	return Edge{e.A, m, math.Tan(t * q)}, Edge{m, e.B, math.Tan((1 - t) * q)}
}

// ends gives the length c of the chord and the unit tangents at A and B. From
// the bulge b, cos(θ/2) = (1-b²)/(1+b²) and sin(θ/2) = 2b/(1+b²): no function of
// an angle is needed.
func (e Edge) ends() (c float64, ua, ub orb.Point) {
	dx, dy := e.B[0]-e.A[0], e.B[1]-e.A[1]
	c = math.Sqrt(dx*dx + dy*dy)
	if c == 0 {
		return 0, ua, ub
	}
	b := e.Bulge
	k := 1 / ((1 + b*b) * c)
	co, si := (1-b*b)*k, 2*b*k
	return c, orb.Point{co*dx + si*dy, co*dy - si*dx}, orb.Point{co*dx - si*dy, co*dy + si*dx}
}

// power is the power of the point q with respect to the arc's circle, |q-c|²-r²:
// negative inside. Written about A it does not lose the digits that a far centre
// costs: with w = q-A and chord v, it is w·w - w·v - (1-b²)/(2b)·(v×w).
func (e Edge) power(q orb.Point) float64 {
	wx, wy := q[0]-e.A[0], q[1]-e.A[1]
	vx, vy := e.B[0]-e.A[0], e.B[1]-e.A[1]
	b := e.Bulge
	return wx*(wx-vx) + wy*(wy-vy) - (1-b*b)/(2*b)*(vx*wy-vy*wx)
}

// Bound is the smallest box around the edge.
func (e Edge) Bound() orb.Bound {
	b := orb.Bound{
		Min: orb.Point{math.Min(e.A[0], e.B[0]), math.Min(e.A[1], e.B[1])},
		Max: orb.Point{math.Max(e.A[0], e.B[0]), math.Max(e.A[1], e.B[1])},
	}
	if e.Straight() {
		return b
	}
	c, ua, ub := e.ends()
	r := c * (1 + e.Bulge*e.Bulge) / (4 * math.Abs(e.Bulge))
	for k := range 2 {
		if ua[k] >= 0 && ub[k] <= 0 {
			b.Max[k] = math.Max(b.Max[k], e.A[k]+r*rise(ua, e.Bulge, k, 1))
		}
		if ua[k] <= 0 && ub[k] >= 0 {
			b.Min[k] = math.Min(b.Min[k], e.A[k]-r*rise(ua, e.Bulge, k, -1))
		}
	}
	return b
}

// rise is how far, in radii, the arc with tangent ua at its start still rises
// towards the axis k in the sense of sign: 1 - cos φ, φ the angle left to turn.
// For a small φ it is taken from the sine, which keeps the digits.
func rise(ua orb.Point, bulge float64, k int, sign float64) float64 {
	// outward normal at A: to the right of a counter-clockwise arc
	n := orb.Point{ua[1], -ua[0]}
	if bulge < 0 {
		n = orb.Point{-ua[1], ua[0]}
	}
	if co := sign * n[k]; co > 0 {
		return ua[k] * ua[k] / (1 + co)
	} else {
		return 1 - co
	}
}

// sees tells whether the direction d from the centre c lies within the arc. The
// sector of at most a half circle is convex, so two cross products decide.
func (e Edge) sees(c, d orb.Point) bool {
	a0, a1 := e.A[0]-c[0], e.A[1]-c[1]
	b0, b1 := e.B[0]-c[0], e.B[1]-c[1]
	if e.Bulge < 0 {
		a0, a1, b0, b1 = b0, b1, a0, a1
	}
	return a0*d[1]-a1*d[0] >= 0 && d[0]*b1-d[1]*b0 >= 0
}

// Nearest is the point of the edge nearest to q, its distance in mm and its
// fraction of the length. From an arc's own centre every point is equally near:
// A is given.
func (e Edge) Nearest(q orb.Point) (at orb.Point, d, t float64) {
	at, d, t = e.nearest(q)
	if math.IsNaN(t) {
		t = e.fraction(at)
	}
	return at, d, t
}

// Dist is the distance in mm from q to the edge.
func (e Edge) Dist(q orb.Point) float64 {
	_, d, _ := e.nearest(q)
	return d
}

// nearest is Nearest but for the fraction of a point inside an arc, which it
// leaves open (not a number) because it costs two arc tangents.
//
// q lies in the arc's sector if it is not before A along the tangent there and
// not after B. Its distance to the circle is the power over |q-c| + r, which is
// exact for flat arcs too.
func (e Edge) nearest(q orb.Point) (at orb.Point, d, t float64) {
	if e.Straight() {
		dx, dy := e.B[0]-e.A[0], e.B[1]-e.A[1]
		l := dx*dx + dy*dy
		if l > 0 {
			t = ((q[0]-e.A[0])*dx + (q[1]-e.A[1])*dy) / l
		}
		switch {
		case !(t > 0):
			return e.A, dist(e.A, q), 0
		case t >= 1:
			return e.B, dist(e.B, q), 1
		}
		at = orb.Point{e.A[0] + t*dx, e.A[1] + t*dy}
		// the cross product keeps the digits of a small distance
		return at, math.Abs(dx*(q[1]-e.A[1])-dy*(q[0]-e.A[0])) / math.Sqrt(l), t
	}
	ch, ua, ub := e.ends()
	wx, wy := q[0]-e.A[0], q[1]-e.A[1]
	zx, zy := q[0]-e.B[0], q[1]-e.B[1]
	if ua[0]*wx+ua[1]*wy >= 0 && ub[0]*zx+ub[1]*zy <= 0 {
		b := e.Bulge
		r := ch * (1 + b*b) / (4 * math.Abs(b))
		// v = q - centre; the centre lies r to the left of the tangent at A, or
		// to the right of a clockwise one
		s := math.Copysign(r, b)
		vx, vy := wx+s*ua[1], wy-s*ua[0]
		if l := math.Hypot(vx, vy); l > 0 {
			h := e.power(q) / (l + r) // > 0 outside
			at = orb.Point{q[0] - vx/l*h, q[1] - vy/l*h}
			// close to the centre the direction to q is little but rounding
			if l > 1e-3*r || ua[0]*(at[0]-e.A[0])+ua[1]*(at[1]-e.A[1]) >= -join &&
				ub[0]*(at[0]-e.B[0])+ub[1]*(at[1]-e.B[1]) <= join {
				return at, math.Abs(h), math.NaN()
			}
		}
	}
	if da, db := math.Hypot(wx, wy), math.Hypot(zx, zy); da <= db {
		return e.A, da, 0
	} else {
		return e.B, db, 1
	}
}

// fraction of the length at which the arc passes its point at: the angle between
// the chord to at and the tangent at A is half the angle swept until there.
func (e Edge) fraction(at orb.Point) float64 {
	c, u, _ := e.ends()
	v := orb.Point{at[0] - e.A[0], at[1] - e.A[1]}
	if math.Hypot(v[0], v[1]) < join {
		return 0
	}
	if b := math.Abs(e.Bulge); b < 0.1 {
		// a flat arc: from the chords' lengths, 2r·sin(φ/2), which keep the digits
		// that the small angles lose
		r := c * (1 + b*b) / (4 * b)
		return math.Min(1, math.Asin(math.Min(1, math.Hypot(v[0], v[1])/(2*r)))/(2*math.Atan(b)))
	}
	a := math.Atan2(u[0]*v[1]-u[1]*v[0], u[0]*v[0]+u[1]*v[1])
	t := 2 * a / e.Sweep()
	return math.Max(0, math.Min(1, t))
}
