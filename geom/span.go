package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// A span is an edge made ready for computing: end tangents and signed curvature
// instead of centre and radius. With w = q - a, the points of its whole line or
// circle satisfy
//
//	w·n - k·|w|²/2 = 0,   n the unit normal to the left of the tangent at a
//
// which holds for lines (k = 0) and arcs alike and loses no digits on the
// flattest arc, whose centre lies too far off to be written down.
type span struct {
	a, b   orb.Point
	t0, t1 orb.Point // unit tangents at a and b
	k      float64   // curvature in 1/mm, positive counter-clockwise, 0 for a line
	l      float64   // chord in mm
	bulge  float64
}

// newSpan takes no angle functions: with b = tan(θ/4), cos(θ/2) = (1-b²)/(1+b²)
// and sin(θ/2) = 2b/(1+b²), the angle between chord and end tangents.
func newSpan(a, b orb.Point, bulge float64) (s span) {
	s.set(a, b, bulge)
	return s
}

// set makes the span that of the edge from a to b.
func (s *span) set(a, b orb.Point, bulge float64) {
	dx, dy := b[0]-a[0], b[1]-a[1]
	l := math.Sqrt(dx*dx + dy*dy)
	s.a, s.b, s.l, s.k, s.bulge = a, b, l, 0, 0
	if l == 0 {
		s.t0, s.t1 = orb.Point{}, orb.Point{}
		return
	}
	ux, uy := dx/l, dy/l
	if math.Abs(bulge)*l < 2*join {
		s.t0 = orb.Point{ux, uy}
		s.t1 = s.t0
		return
	}
	m := 1 / (1 + bulge*bulge)
	co, si := (1-bulge*bulge)*m, 2*bulge*m
	s.t0 = orb.Point{co*ux + si*uy, co*uy - si*ux}
	s.t1 = orb.Point{co*ux - si*uy, co*uy + si*ux}
	s.k = 4 * bulge * m / l
	s.bulge = bulge
}

func (e Edge) span() span { return newSpan(e.A, e.B, e.Bulge) }

// centre of an arc.
func (s *span) centre() orb.Point {
	return orb.Point{s.a[0] - s.t0[1]/s.k, s.a[1] + s.t0[0]/s.k}
}

// side is the signed distance in mm of q from the whole line or circle, positive
// to the left.
func (s *span) side(q orb.Point) float64 {
	wx, wy := q[0]-s.a[0], q[1]-s.a[1]
	f := wy*s.t0[0] - wx*s.t0[1]
	if s.k == 0 {
		return f
	}
	f -= s.k * (wx*wx + wy*wy) / 2
	g := 1 - 2*s.k*f // (k·|q-c|)²
	if g < 1e-4 && math.Abs(s.k) > 1e-6 {
		// close to the centre the root would keep half the digits
		return (1 - math.Abs(s.k)*math.Sqrt(dist2(s.centre(), q))) / s.k
	}
	return 2 * f / (1 + math.Sqrt(max(0, g)))
}

// faces tells whether the foot of q on the whole line or circle lies between the
// span's ends: two half planes, bounded by the normals at a and b.
func (s *span) faces(q orb.Point) bool {
	return (q[0]-s.a[0])*s.t0[0]+(q[1]-s.a[1])*s.t0[1] >= 0 &&
		(q[0]-s.b[0])*s.t1[0]+(q[1]-s.b[1])*s.t1[1] <= 0
}

// dist is the distance in mm from q to the span.
func (s *span) dist(q orb.Point) float64 {
	if s.l > 0 && s.faces(q) {
		return math.Abs(s.side(q))
	}
	return math.Sqrt(min(dist2(s.a, q), dist2(s.b, q)))
}

// tangent is the unit direction of travel at the point q of the span.
func (s *span) tangent(q orb.Point) orb.Point {
	if s.k == 0 {
		return s.t0
	}
	// the left normal at q is n - k·w
	wx, wy := q[0]-s.a[0], q[1]-s.a[1]
	nx, ny := -s.t0[1]-s.k*wx, s.t0[0]-s.k*wy
	l := math.Sqrt(nx*nx + ny*ny)
	if l == 0 {
		return s.t0
	}
	return orb.Point{ny / l, -nx / l}
}

// order is a number that grows from a to b for points q of the span, or just
// beyond its ends; it orders, it does not measure. Near either end it is the
// distance from that end, which is known best there.
func (s *span) order(q orb.Point) float64 {
	wx, wy := q[0]-s.a[0], q[1]-s.a[1]
	x := wx*s.t0[0] + wy*s.t0[1]
	if s.k == 0 {
		return x
	}
	zx, zy := q[0]-s.b[0], q[1]-s.b[1]
	da, db := wx*wx+wy*wy, zx*zx+zy*zy
	if da <= db {
		return math.Copysign(math.Sqrt(da), x)
	}
	return 2*s.l + math.Copysign(math.Sqrt(db), zx*s.t1[0]+zy*s.t1[1])
}

// middle is the point half way between two points p before q of the span.
func (s *span) middle(p, q orb.Point) orb.Point {
	m := orb.Point{(p[0] + q[0]) / 2, (p[1] + q[1]) / 2}
	if s.k == 0 {
		return m
	}
	// Sagitta to the right of a counter-clockwise chord of length c:
	// kc²/4 / (1+√(1-k²c²/4)). Near a half circle the root has no digits; there
	// the way from the centre is right.
	dx, dy := q[0]-p[0], q[1]-p[1]
	c2 := dx*dx + dy*dy
	x := 1 - s.k*s.k*c2/4
	h := math.Sqrt(c2)
	if x > 0.1 {
		h *= s.k / 4 / (1 + math.Sqrt(x))
	} else {
		m = s.centre()
		h = 1 / (s.k * h)
	}
	return orb.Point{m[0] + dy*h, m[1] - dx*h}
}

// box is the smallest box around the span.
func (s *span) box() box {
	b := box{s.a[0], s.a[1], s.b[0], s.b[1]}
	if b.x0 > b.x1 {
		b.x0, b.x1 = b.x1, b.x0
	}
	if b.y0 > b.y1 {
		b.y0, b.y1 = b.y1, b.y0
	}
	if s.k == 0 {
		return b
	}
	// An arc of at most a half circle turns once, if at all, in x and in y: where its
	// tangent has no part in that direction.
	if s.t0[0]*s.t1[0] < 0 {
		x := s.a[0] + s.turn(s.t0[0], -s.t0[1])
		b.x0, b.x1 = min(b.x0, x), max(b.x1, x)
	}
	if s.t0[1]*s.t1[1] < 0 {
		y := s.a[1] + s.turn(s.t0[1], s.t0[0])
		b.y0, b.y1 = min(b.y0, y), max(b.y1, y)
	}
	return b
}

// turn is how far an arc goes in one direction until it turns back: t and n are the
// parts in that direction of the tangent and the left normal at its beginning. It is
// what the normal makes of the way to the centre and out again, (±1 ± n)/|k|, with
// the digits that n close to ±1 would take from it.
func (s *span) turn(t, n float64) float64 {
	r := math.Abs(1 / s.k)
	if s.k < 0 {
		n = -n // towards the centre
	}
	if t < 0 {
		return -r * rest(t, -n)
	}
	return r * rest(t, n)
}

// rest is 1 + n where t² + n² = 1.
func rest(t, n float64) float64 {
	if n > 0 {
		return 1 + n
	}
	return t * t / (1 - n)
}

func dist2(a, b orb.Point) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	return dx*dx + dy*dy
}

func cross(a, b orb.Point) float64 { return a[0]*b[1] - a[1]*b[0] }

func dot(a, b orb.Point) float64 { return a[0]*b[0] + a[1]*b[1] }
