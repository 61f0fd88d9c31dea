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

// Bound is the smallest box around the edge.
func (e Edge) Bound() orb.Bound {
	b := orb.Bound{
		Min: orb.Point{math.Min(e.A[0], e.B[0]), math.Min(e.A[1], e.B[1])},
		Max: orb.Point{math.Max(e.A[0], e.B[0]), math.Max(e.A[1], e.B[1])},
	}
	if e.Straight() {
		return b
	}
	c, r := e.Arc()
	for _, d := range [4]orb.Point{{r, 0}, {0, r}, {-r, 0}, {0, -r}} {
		if e.sees(c, d) {
			b = b.Extend(orb.Point{c[0] + d[0], c[1] + d[1]})
		}
	}
	return b
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
	if e.Straight() {
		dx, dy := e.B[0]-e.A[0], e.B[1]-e.A[1]
		l := dx*dx + dy*dy
		if l > 0 {
			t = ((q[0]-e.A[0])*dx + (q[1]-e.A[1])*dy) / l
		}
		t = math.Max(0, math.Min(1, t))
		at = e.At(t)
		return at, dist(at, q), t
	}
	c, r := e.Arc()
	v := orb.Point{q[0] - c[0], q[1] - c[1]}
	l := math.Hypot(v[0], v[1])
	if l > 0 && e.sees(c, v) {
		at = orb.Point{c[0] + v[0]/l*r, c[1] + v[1]/l*r}
		return at, math.Abs(l - r), e.fraction(at)
	}
	if da, db := dist(e.A, q), dist(e.B, q); da <= db {
		return e.A, da, 0
	} else {
		return e.B, db, 1
	}
}

// fraction of the length at which the arc passes its point at: the angle between
// the chord to at and the tangent at A is half the angle swept until there.
func (e Edge) fraction(at orb.Point) float64 {
	u := e.Direction(0)
	v := orb.Point{at[0] - e.A[0], at[1] - e.A[1]}
	a := math.Atan2(u[0]*v[1]-u[1]*v[0], u[0]*v[0]+u[1]*v[1])
	t := 2 * a / e.Sweep()
	return math.Max(0, math.Min(1, t))
}
