package geom

import (
	"errors"
	"math"

	"github.com/paulmach/orb"
)

// A Bezier is a rational Bézier curve by its control points, each with its weight: two
// points are a line, four of one weight the cubic curve of drawings. Weights are
// above 0.
type Bezier []Weighted

// A Weighted is a control point and its weight.
type Weighted struct {
	orb.Point
	W float64
}

// NewBezier is the curve of control points of one weight.
func NewBezier(q ...orb.Point) Bezier {
	b := make(Bezier, len(q))
	for i, p := range q {
		b[i] = Weighted{p, 1}
	}
	return b
}

// EllipseArc is the arc of the unit circle from the angle from, rad, over turn, carried
// by place, which has to keep lines straight and their parts in proportion: an arc of
// any ellipse, in curves of at most a quarter each.
func EllipseArc(from, turn float64, place func(orb.Point) orb.Point) []Bezier {
	n := max(1, int(math.Ceil(math.Abs(turn)/(math.Pi/2)-1e-9)))
	half := turn / float64(n) / 2
	w := math.Cos(half)
	at := func(angle, radius float64) orb.Point {
		s, c := math.Sincos(angle)
		return place(orb.Point{radius * c, radius * s})
	}
	out := make([]Bezier, n)
	for i := range out {
		a := from + float64(2*i)*half
		out[i] = Bezier{{at(a, 1), 1}, {at(a+half, 1/w), w}, {at(a+2*half, 1), 1}}
	}
	return out
}

// ErrTooFine tells of a curve that lines and arcs do not meet within the tolerance: it
// is not above 1e-9 of the curve's size, or the curve has a weight that is not above 0.
var ErrTooFine = errors.New("the curve needs too many arcs; want a greater tolerance")

// bezierHalvings and bezierPieces bound how finely a curve is parted.
const (
	bezierHalvings = 40
	bezierPieces   = 50_000
)

// Arcs is a path of lines and arcs along the curve, from its first control point to its
// last. No point of the curve lies farther than tol mm from the path, nor one of the
// path from the curve: each arc is held against the whole stretch of the curve that it
// stands for, not against samples of it. The control points of a curve bound it (the
// convex hull property: G. Farin, Curves and Surfaces for CAGD), also those of the
// squared distance from the arc's centre, which is such a curve of twice the degree.
func (b Bezier) Arcs(tol float64) (Path, error) {
	if len(b) < 2 || !(tol > 0) {
		return Path{}, ErrTooFine
	}
	size := 0.0
	for _, p := range b {
		if !(p.W > 0) || math.IsInf(p.W+p.Point[0]+p.Point[1], 0) || math.IsNaN(p.Point[0]+p.Point[1]) {
			return Path{}, ErrTooFine
		}
		size = math.Max(size, math.Hypot(p.Point[0]-b[0].Point[0], p.Point[1]-b[0].Point[1]))
	}
	if tol < 1e-9*size {
		return Path{}, ErrTooFine
	}
	out := Path{V: []Vertex{{Point: b[0].Point}}}
	if !b.arcs(tol, 0, &out) {
		return Path{}, ErrTooFine
	}
	return out, nil
}

// arcs puts the curve at the end of the path.
func (b Bezier) arcs(tol float64, depth int, out *Path) bool {
	if len(out.V) > bezierPieces {
		return false
	}
	left, right := b.halves()
	a, m, z := b[0].Point, right[0].Point, b[len(b)-1].Point
	bulge, ok := arcThrough(a, m, z)
	switch {
	case b.small(tol), b.alongLine(a, z, tol/20):
		bulge, ok = 0, true
	case ok && bulge == 0:
		ok = b.alongLine(a, z, tol)
	case ok:
		e := Edge{a, z, bulge}
		c, r := e.Arc()
		ok = b.alongArc(e, c, r, tol, 3)
	}
	if ok {
		out.V[len(out.V)-1].Bulge = bulge
		out.V = append(out.V, Vertex{Point: z})
		return true
	}
	return depth < bezierHalvings && left.arcs(tol, depth+1, out) && right.arcs(tol, depth+1, out)
}

// halves parts the curve in its middle (P. de Casteljau), homogeneous coordinates
// halved.
func (b Bezier) halves() (left, right Bezier) {
	n := len(b)
	h := make([][3]float64, n)
	for i, p := range b {
		h[i] = [3]float64{p.Point[0] * p.W, p.Point[1] * p.W, p.W}
	}
	point := func(v [3]float64) Weighted { return Weighted{orb.Point{v[0] / v[2], v[1] / v[2]}, v[2]} }
	left, right = make(Bezier, n), make(Bezier, n)
	left[0], right[n-1] = b[0], b[n-1]
	for k := 1; k < n; k++ {
		for i := 0; i+k < n; i++ {
			for c := range 3 {
				h[i][c] = (h[i][c] + h[i+1][c]) / 2
			}
		}
		left[k], right[n-1-k] = point(h[0]), point(h[n-1-k])
	}
	right[0] = left[n-1]
	return left, right
}

// small tells whether the whole curve lies within half of tol of its start: then it is
// near its chord too, however it turns.
func (b Bezier) small(tol float64) bool {
	for _, p := range b[1:] {
		if math.Hypot(p.Point[0]-b[0].Point[0], p.Point[1]-b[0].Point[1]) > tol/2 {
			return false
		}
	}
	return true
}

// alongLine tells whether the curve lies within tol of the line from a to z.
func (b Bezier) alongLine(a, z orb.Point, tol float64) bool {
	ux, uy := z[0]-a[0], z[1]-a[1]
	l := math.Hypot(ux, uy)
	if l == 0 {
		return false
	}
	ux, uy = ux/l, uy/l
	for _, p := range b {
		x, y := p.Point[0]-a[0], p.Point[1]-a[1]
		if s := ux*x + uy*y; math.Abs(ux*y-uy*x) > tol || s < -tol/2 || s > l+tol/2 {
			return false
		}
	}
	return true
}

// alongArc tells whether the curve lies within tol of the edge, an arc of the centre c
// and radius r; where its control points leave that open, its halves are looked at, to
// the depth given.
func (b Bezier) alongArc(e Edge, c orb.Point, r, tol float64, depth int) bool {
	if b.boundedBy(e, c, r, tol) {
		return true
	}
	if depth == 0 {
		return false
	}
	left, right := b.halves()
	if m := right[0].Point; math.Abs(math.Hypot(m[0]-c[0], m[1]-c[1])-r) > tol {
		return false
	}
	return left.alongArc(e, c, r, tol, depth-1) && right.alongArc(e, c, r, tol, depth-1)
}

func (b Bezier) boundedBy(e Edge, c orb.Point, r, tol float64) bool {
	n := len(b) - 1
	// In the arc's wedge: between its ends as seen from the centre.
	turn := math.Copysign(1, e.Bulge)
	ax, ay, zx, zy := e.A[0]-c[0], e.A[1]-c[1], e.B[0]-c[0], e.B[1]-c[1]
	slack := -tol / 2 * r
	for _, p := range b {
		x, y := p.Point[0]-c[0], p.Point[1]-c[1]
		if turn*(ax*y-ay*x) < slack || turn*(x*zy-y*zx) < slack {
			return false
		}
	}
	// (|w·(p - c)|² - r²·w²) / w² in Bernstein's form, numerator and denominator.
	binomial := make([]float64, n+1)
	binomial[0] = 1
	for i := 1; i <= n; i++ {
		binomial[i] = binomial[i-1] * float64(n-i+1) / float64(i)
	}
	num, den := make([]float64, 2*n+1), make([]float64, 2*n+1)
	for i, p := range b {
		for j, q := range b {
			f := binomial[i] * binomial[j] * p.W * q.W
			d := (p.Point[0]-c[0])*(q.Point[0]-c[0]) + (p.Point[1]-c[1])*(q.Point[1]-c[1]) - r*r
			num[i+j] += f * d
			den[i+j] += f
		}
	}
	worst := 0.0
	for k := range num {
		worst = math.Max(worst, math.Abs(num[k])/den[k])
	}
	if worst >= r*r {
		return false
	}
	return worst/(r+math.Sqrt(r*r-worst)) <= tol
}

// arcThrough is the bulge of the arc from a by m to z; it fails for more than a third of
// a circle.
func arcThrough(a, m, z orb.Point) (bulge float64, ok bool) {
	ux, uy := m[0]-a[0], m[1]-a[1]
	vx, vy := z[0]-m[0], z[1]-m[1]
	if math.Hypot(z[0]-a[0], z[1]-a[1]) < 1e-12 {
		return 0, false
	}
	turn := math.Atan2(ux*vy-uy*vx, ux*vx+uy*vy) // the chords turn by half the arc's angle
	switch {
	case math.Abs(turn) > math.Pi/3:
		return 0, false
	case math.Abs(turn) < 1e-7:
		return 0, true
	}
	return math.Tan(turn / 2), true
}
