package svg

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// cubic draws a Bézier curve of four points.
func (t *tracer) cubic(a, b, c, d orb.Point) {
	a, b, c, d = t.place(a), t.place(b), t.place(c), t.place(d)
	t.curve(geom.NewBezier(a, b, c, d), d)
}

// quadratic draws a Bézier curve of three points.
func (t *tracer) quadratic(a, b, c orb.Point) {
	third := func(p, q orb.Point) orb.Point { return orb.Point{p[0] + (q[0]-p[0])*2/3, p[1] + (q[1]-p[1])*2/3} }
	t.cubic(a, third(a, b), third(c, b), c)
}

// curve draws a curve as arcs and lines within the tolerance.
func (t *tracer) curve(b geom.Bezier, end orb.Point) {
	if t.err != nil {
		return
	}
	p, err := b.Arcs(t.r.tol)
	if err != nil {
		t.err = err
		return
	}
	for i := range p.Edges() {
		to := p.V[i+1].Point
		if i == p.Edges()-1 {
			to = end
		}
		t.put(to, p.V[i].Bulge)
	}
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
		bs := geom.EllipseArc(from, turn, m.at)
		for i, b := range bs {
			to := b[len(b)-1].Point
			if i == len(bs)-1 {
				to = end
			}
			t.curve(b, to)
		}
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
