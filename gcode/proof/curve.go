package proof

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// A curve is an edge with what the distance functions need, worked out once.
//
// The centre is kept as seen from both ends: |q-c|-r is then
// (|w|²-2w·g)/(|w-g|+r) with w from A to q and g from A to c, which loses no
// digits however flat the arc is.
type curve struct {
	geom.Edge
	g, h orb.Point // from A and from B to the centre
	r    float64   // 0: a line
	l    float64   // length, mm
	box  orb.Bound
}

const (
	flattest  = 1e8  // mm: an arc of a larger radius is held as chords
	chordRise = 1e-7 // mm: what such a chord may miss
	slack     = 1e-9 // mm: ends and sectors are widened by this much
)

// curves appends the edge to dst: itself, or chords of an arc so flat that its
// centre would be lost in rounding.
func curves(dst []curve, e geom.Edge) []curve {
	if e.Straight() {
		return append(dst, line(e.A, e.B))
	}
	l := math.Hypot(e.B[0]-e.A[0], e.B[1]-e.A[1])
	rise := math.Abs(e.Bulge) * l / 2
	if rise < chordRise {
		return append(dst, line(e.A, e.B))
	}
	b := math.Abs(e.Bulge)
	if l*(1+b*b)/(4*b) > flattest {
		n := int(math.Ceil(math.Sqrt(rise / chordRise)))
		a := e.A
		for i := 1; i <= n; i++ {
			q := e.At(float64(i) / float64(n))
			dst = append(dst, line(a, q))
			a = q
		}
		return dst
	}
	return append(dst, arc(e))
}

func line(a, b orb.Point) curve {
	e := geom.Edge{A: a, B: b}
	return curve{Edge: e, l: gap(a, b), box: orb.Bound{
		Min: orb.Point{min(a[0], b[0]), min(a[1], b[1])}, Max: orb.Point{max(a[0], b[0]), max(a[1], b[1])}}}
}

func arc(e geom.Edge) curve {
	b := e.Bulge
	dx, dy := e.B[0]-e.A[0], e.B[1]-e.A[1]
	k := (1 - b*b) / (4 * b)
	c := curve{Edge: e, l: e.Length(), box: e.Bound()}
	c.g = orb.Point{dx/2 - k*dy, dy/2 + k*dx}
	c.h = orb.Point{c.g[0] - dx, c.g[1] - dy}
	c.r = math.Hypot(dx, dy) * (1 + b*b) / (4 * math.Abs(b))
	return c
}

func (c *curve) centre() orb.Point { return orb.Point{c.A[0] + c.g[0], c.A[1] + c.g[1]} }

// between is the piece of the curve between two fractions of its length.
func (c *curve) between(t0, t1 float64) curve {
	if t0 <= 0 && t1 >= 1 {
		return *c
	}
	if c.r == 0 {
		return line(c.At(t0), c.At(t1))
	}
	e := geom.Edge{A: c.At(t0), B: c.At(t1), Bulge: math.Tan((t1 - t0) * math.Atan(c.Bulge))}
	if e.Straight() {
		return line(e.A, e.B)
	}
	return arc(e)
}

// within tells whether q lies in the sector between the arc's ends. The sector
// of at most a half circle is convex, so two half planes decide; each is widened
// by slack.
func (c *curve) within(q orb.Point) bool {
	s := slack * c.r
	a := c.g[0]*(q[1]-c.A[1]) - c.g[1]*(q[0]-c.A[0])
	b := (q[0]-c.B[0])*c.h[1] - (q[1]-c.B[1])*c.h[0]
	if c.Bulge < 0 {
		a, b = -a, -b
	}
	return a <= s && b <= s
}

// sees tells whether the direction d from the centre lies within the arc.
func (c *curve) sees(d orb.Point) bool {
	a, b := c.g[0]*d[1]-c.g[1]*d[0], d[0]*c.h[1]-d[1]*c.h[0]
	if c.Bulge < 0 {
		a, b = -a, -b
	}
	s := 1e-12 * (math.Abs(d[0]) + math.Abs(d[1])) * c.r
	return a <= s && b <= s
}

// over is |q-c|-r, the distance outside the arc's circle.
func (c *curve) over(q orb.Point) float64 {
	wx, wy := q[0]-c.A[0], q[1]-c.A[1]
	vx, vy := wx-c.g[0], wy-c.g[1]
	return (wx*wx + wy*wy - 2*(wx*c.g[0]+wy*c.g[1])) / (math.Sqrt(vx*vx+vy*vy) + c.r)
}

// dist is the distance in mm from q to the curve.
func (c *curve) dist(q orb.Point) float64 {
	if c.r > 0 {
		if c.within(q) {
			return math.Abs(c.over(q))
		}
		return min(gap(q, c.A), gap(q, c.B))
	}
	wx, wy := q[0]-c.A[0], q[1]-c.A[1]
	dx, dy := c.B[0]-c.A[0], c.B[1]-c.A[1]
	l := dx*dx + dy*dy
	switch t := wx*dx + wy*dy; {
	case !(l > 0 && t > 0):
		return math.Sqrt(wx*wx + wy*wy)
	case t >= l:
		return gap(q, c.B)
	}
	return math.Abs(dx*wy-dy*wx) / math.Sqrt(l)
}

// What is asked most often below works on numbers: the compiler keeps them in
// registers, and points in memory.

func gap(a, b orb.Point) float64 {
	dx, dy := a[0]-b[0], a[1]-b[1]
	return math.Sqrt(dx*dx + dy*dy)
}

func sub(a, b orb.Point) orb.Point           { return orb.Point{a[0] - b[0], a[1] - b[1]} }
func dot(a, b orb.Point) float64             { return a[0]*b[0] + a[1]*b[1] }
func cross(a, b orb.Point) float64           { return a[0]*b[1] - a[1]*b[0] }
func mid(a, b orb.Point) orb.Point           { return orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2} }
func on(a, d orb.Point, t float64) orb.Point { return orb.Point{a[0] + t*d[0], a[1] + t*d[1]} }
