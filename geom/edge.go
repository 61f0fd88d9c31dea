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
	c, b := dist(e.A, e.B), math.Abs(e.Bulge)
	if b == 0 || b*c < 2*join { // as Straight has it
		return c
	}
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
	s := e.span()
	for k := range 2 {
		if s.t0[k] >= 0 && s.t1[k] <= 0 {
			b.Max[k] = math.Max(b.Max[k], e.A[k]+s.rise(k, 1))
		}
		if s.t0[k] <= 0 && s.t1[k] >= 0 {
			b.Min[k] = math.Min(b.Min[k], e.A[k]-s.rise(k, -1))
		}
	}
	return b
}

// rise is how far in mm an arc still rises after a towards the axis k, in the
// sense of sign, until it turns: r(1 - cos φ), φ the angle left to turn. For a
// small φ it is taken from the sine, which keeps the digits.
func (s *span) rise(k int, sign float64) float64 {
	n := orb.Point{s.t0[1], -s.t0[0]} // the outward normal of a counter-clockwise arc
	co := math.Copysign(sign, sign*s.k) * n[k]
	if co > 0 {
		return s.t0[k] * s.t0[k] / ((1 + co) * math.Abs(s.k))
	}
	return (1 - co) / math.Abs(s.k)
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
// On a straight edge the distance is a cross product, on an arc the span's: both
// keep the digits of a small distance.
func (e Edge) nearest(q orb.Point) (at orb.Point, d, t float64) {
	if e.Straight() {
		return e.nearestOnLine(q)
	}
	s := e.span()
	if s.l == 0 || !s.faces(q) {
		return e.nearestEnd(q)
	}
	h, u := s.side(q), s.tangent(q)
	at = orb.Point{q[0] + h*u[1], q[1] - h*u[0]}
	// Close to the centre the direction to q is little but rounding.
	if math.Abs(h*s.k) > 0.999 && math.Abs(h*s.k) < 1.001 && !s.faces(at) &&
		dist(at, e.A) > join && dist(at, e.B) > join {
		return e.A, dist(e.A, q), 0
	}
	return at, math.Abs(h), math.NaN()
}

// nearestOnLine is the same for a straight edge, without a span: it is asked most
// often.
func (e Edge) nearestOnLine(q orb.Point) (at orb.Point, d, t float64) {
	dx, dy := e.B[0]-e.A[0], e.B[1]-e.A[1]
	l := math.Sqrt(dx*dx + dy*dy)
	if l == 0 {
		return e.nearestEnd(q)
	}
	ux, uy := dx/l, dy/l
	wx, wy := q[0]-e.A[0], q[1]-e.A[1]
	if !(wx*ux+wy*uy >= 0 && (q[0]-e.B[0])*ux+(q[1]-e.B[1])*uy <= 0) {
		return e.nearestEnd(q)
	}
	h := wy*ux - wx*uy
	x, y := q[0]+h*uy, q[1]-h*ux
	return orb.Point{x, y}, math.Abs(h), math.Min(1, dist(e.A, orb.Point{x, y})/l)
}

// nearestEnd is the nearer of the edge's ends.
func (e Edge) nearestEnd(q orb.Point) (at orb.Point, d, t float64) {
	da, db := dist(e.A, q), dist(e.B, q)
	if da <= db {
		return e.A, da, 0
	}
	return e.B, db, 1
}

// fraction of the length at which the arc passes its point at: the angle between
// the chord to at and the tangent at A is half the angle swept until there.
func (e Edge) fraction(at orb.Point) float64 {
	s := e.span()
	v := orb.Point{at[0] - e.A[0], at[1] - e.A[1]}
	if math.Hypot(v[0], v[1]) < join {
		return 0
	}
	if b := math.Abs(e.Bulge); b < 0.1 {
		// a flat arc: from the chords' lengths, 2r·sin(φ/2), which keep the digits
		// that the small angles lose
		return math.Min(1, math.Asin(math.Min(1, math.Hypot(v[0], v[1])*math.Abs(s.k)/2))/(2*math.Atan(b)))
	}
	a := math.Atan2(cross(s.t0, v), dot(s.t0, v))
	t := 2 * a / e.Sweep()
	return math.Max(0, math.Min(1, t))
}
