package svg

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// cubic draws a Bézier curve of four points.
func (t *tracer) cubic(a, b, c, d orb.Point) {
	a, b, c, d = t.place(a), t.place(b), t.place(c), t.place(d)
	t.curve(func(u float64) orb.Point {
		v := 1 - u
		k := [4]float64{v * v * v, 3 * v * v * u, 3 * v * u * u, u * u * u}
		return orb.Point{k[0]*a[0] + k[1]*b[0] + k[2]*c[0] + k[3]*d[0], k[0]*a[1] + k[1]*b[1] + k[2]*c[1] + k[3]*d[1]}
	}, d)
}

// quadratic draws a Bézier curve of three points.
func (t *tracer) quadratic(a, b, c orb.Point) {
	third := func(p, q orb.Point) orb.Point { return orb.Point{p[0] + (q[0]-p[0])*2/3, p[1] + (q[1]-p[1])*2/3} }
	t.cubic(a, third(a, b), third(c, b), c)
}

// curve draws the curve from u = 0 to 1 as arcs and lines within the tolerance.
func (t *tracer) curve(at func(u float64) orb.Point, end orb.Point) {
	t.pieces(at, 0, 1, at(0), end, 0)
}

// maxHalvings bounds how fine a curve is parted: 1/65536 of it.
const maxHalvings = 16

// pieces parts the curve in halves until an arc through both ends and the middle
// misses none of 24 places between by more than half the tolerance.
func (t *tracer) pieces(at func(u float64) orb.Point, u0, u1 float64, a, b orb.Point, depth int) {
	if t.err != nil {
		return
	}
	m := at((u0 + u1) / 2)
	bulge, ok := through(a, m, b)
	if depth < 2 {
		ok = false // a curve that comes back to where it was fools its middle
	}
	if ok {
		e := geom.Edge{A: a, B: b, Bulge: bulge}
		const n = 24
		for k := 1; k < n && ok; k++ {
			ok = e.Dist(at(u0+(u1-u0)*float64(k)/n)) <= t.r.tol/2
		}
	}
	if !ok && depth < maxHalvings {
		h := (u0 + u1) / 2
		t.pieces(at, u0, h, a, m, depth+1)
		t.pieces(at, h, u1, m, b, depth+1)
		return
	}
	t.put(b, bulge)
}

// through is the bulge of the arc from a by m to b, at most a half circle.
func through(a, m, b orb.Point) (bulge float64, ok bool) {
	ux, uy := m[0]-a[0], m[1]-a[1]
	vx, vy := b[0]-m[0], b[1]-m[1]
	if math.Hypot(b[0]-a[0], b[1]-a[1]) < 1e-12 {
		return 0, math.Hypot(ux, uy) < 1e-12
	}
	// The chords turn by half the arc's angle.
	turn := math.Atan2(ux*vy-uy*vx, ux*vx+uy*vy)
	if math.Abs(turn) > math.Pi/2 {
		return 0, false
	}
	if math.Abs(turn) < 1e-7 {
		return 0, true
	}
	return math.Tan(turn / 2), true
}

// arc draws an elliptical arc, given as path data give it (SVG 1.1, F.6).
func (t *tracer) arc(a orb.Point, rx, ry, degrees float64, large, sweep bool, b orb.Point) {
	if a == b {
		return
	}
	if rx == 0 || ry == 0 {
		t.line(a, b)
		return
	}
	sin, cos := turned(degrees)
	// F.6.5: in the frame of the ellipse's axes, about the middle of the chord.
	x := (cos*(a[0]-b[0]) + sin*(a[1]-b[1])) / 2
	y := (-sin*(a[0]-b[0]) + cos*(a[1]-b[1])) / 2
	if l := math.Sqrt(x*x/(rx*rx) + y*y/(ry*ry)); l > 1 { // F.6.6
		rx, ry = rx*l, ry*l
	}
	k := 0.0
	if d := rx*rx*y*y + ry*ry*x*x; d > 0 {
		k = math.Sqrt(math.Max(0, (rx*rx*ry*ry-d)/d))
	}
	if large == sweep {
		k = -k
	}
	cx, cy := k*rx*y/ry, -k*ry*x/rx
	from := math.Atan2((y-cy)/ry, (x-cx)/rx)
	to := math.Atan2((-y-cy)/ry, (-x-cx)/rx)
	turn := to - from
	if sweep && turn < 0 {
		turn += 2 * math.Pi
	} else if !sweep && turn > 0 {
		turn -= 2 * math.Pi
	}
	centre := orb.Point{cos*cx - sin*cy + (a[0]+b[0])/2, sin*cx + cos*cy + (a[1]+b[1])/2}
	// The unit circle's frame on the page.
	m := t.m.times(matrix{cos, sin, -sin, cos, centre[0], centre[1]}).times(matrix{rx, 0, 0, ry, 0, 0})
	at := func(u float64) orb.Point {
		s, c := math.Sincos(from + u*turn)
		return m.at(orb.Point{c, s})
	}
	end := t.place(b)
	p, q := math.Hypot(m.a, m.b), math.Hypot(m.c, m.d)
	if round := math.Abs(p-q) <= 1e-9*p && math.Abs(m.a*m.c+m.b*m.d) <= 1e-9*p*q; !round {
		t.curve(at, end)
		return
	}
	if m.det() < 0 {
		turn = -turn
	}
	// No edge is more than a half circle; one that is written as two halves of an
	// arc stays two.
	n := max(1, int(math.Ceil(math.Abs(turn)/math.Pi-1e-9)))
	bulge := math.Tan(turn / 4 / float64(n))
	for i := 1; i <= n; i++ {
		to := end
		if i < n {
			to = at(float64(i) / float64(n))
		}
		t.put(to, math.Max(-1, math.Min(1, bulge)))
	}
}
