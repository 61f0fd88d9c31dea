package svg

import (
	"math"

	"github.com/paulmach/orb"
)

// The looks of dimensions: thin lines, slim arrows.
const (
	DimSize    = 3.0 // size of the figures, mm
	arrowLong  = 2.4
	arrowWide  = 0.8
	extendPast = 1.2 // help lines run past the dimension line
	extendGap  = 0.8 // and begin clear of the part
	runOut     = 5.0 // length of the line outside where arrows point inwards
)

var helpLine = Style{Stroke: Soft, Width: 0.13}
var dimLine = Style{Stroke: Ink, Width: 0.18}
var arrowHead = Style{Fill: Ink}

// DimX dimensions the distance in X between two points, on a line at height y.
// Where the text does not fit between the arrows, they point inwards and the
// text stands at the right end, or at the left one if left is true.
func (c *Canvas) DimX(a, b orb.Point, y float64, text string, left bool) {
	if a[0] > b[0] {
		a, b = b, a
	}
	for _, q := range []orb.Point{a, b} {
		c.help(q, orb.Point{q[0], y})
	}
	c.dim(orb.Point{a[0], y}, orb.Point{b[0], y}, text, left)
}

// DimY dimensions the distance in Y between two points, on a line at x. The text
// reads from the right; where it does not fit, it stands level beside the upper
// end, or the lower one if low is true.
func (c *Canvas) DimY(a, b orb.Point, x float64, text string, low bool) {
	if a[1] > b[1] {
		a, b = b, a
	}
	for _, q := range []orb.Point{a, b} {
		c.help(q, orb.Point{x, q[1]})
	}
	c.dim(orb.Point{x, a[1]}, orb.Point{x, b[1]}, text, low)
}

// help draws the line from the part to beyond the dimension line.
func (c *Canvas) help(from, to orb.Point) {
	d := math.Hypot(to[0]-from[0], to[1]-from[1])
	if d <= extendGap {
		return
	}
	u := orb.Point{(to[0] - from[0]) / d, (to[1] - from[1]) / d}
	c.Line(helpLine, along(from, u, extendGap), along(to, u, extendPast))
}

// dim draws the dimension line from a to b, level or upright.
func (c *Canvas) dim(a, b orb.Point, text string, first bool) {
	l := math.Hypot(b[0]-a[0], b[1]-a[1])
	upright := a[0] == b[0]
	u := orb.Point{1, 0}
	if upright {
		u = orb.Point{0, 1}
	}
	w := Width(text, DimSize)
	mid := orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
	fits := l >= w+2
	if l >= 2*arrowLong+1 {
		c.Line(dimLine, a, b)
		c.Arrow(a, orb.Point{-u[0], -u[1]})
		c.Arrow(b, u)
	} else {
		c.Line(dimLine, along(a, u, -runOut), along(b, u, runOut))
		c.Arrow(a, u)
		c.Arrow(b, orb.Point{-u[0], -u[1]})
		fits = false
	}
	if fits {
		label := Label{Text: text, Size: DimSize, Anchor: Middle, At: orb.Point{mid[0], mid[1] + 0.8}}
		if upright {
			label.At, label.Turn = orb.Point{mid[0] - 0.8, mid[1]}, 90
		}
		c.Text(label)
		return
	}
	// Beside: at the end of a line drawn on past the arrow.
	end, sign := b, 1.0
	if first {
		end, sign = a, -1
	}
	run := runOut
	if l >= 2*arrowLong+1 {
		run = 2.5
		c.Line(dimLine, end, along(end, u, sign*run))
	}
	at := along(end, u, sign*run)
	label := Label{Text: text, Size: DimSize, At: orb.Point{at[0] + sign*1, at[1] - 0.36*DimSize}}
	switch {
	case upright && sign > 0:
		label.Anchor, label.At = Middle, orb.Point{at[0], at[1] + 0.8}
	case upright:
		label.Anchor, label.At = Middle, orb.Point{at[0], at[1] - 0.8 - ascent*DimSize}
	case sign < 0:
		label.Anchor = End
	}
	c.Text(label)
}

// Arrow draws a slim arrow head with its tip at the point; u is the unit vector
// that it points along.
func (c *Canvas) Arrow(tip, u orb.Point) {
	back := along(tip, u, -arrowLong)
	n := orb.Point{-u[1], u[0]}
	c.Polygon(arrowHead, tip, along(back, n, arrowWide/2), along(back, n, -arrowWide/2))
}

// Leader draws a line from the target, a dot there, to the point knee and on
// level to the text, which stands on the far side of the knee. More lines of
// text stand below the first.
func (c *Canvas) Leader(target, knee orb.Point, lines ...string) {
	side, anchor := 1.0, Start
	if knee[0] < target[0] {
		side, anchor = -1, End
	}
	shelf := orb.Point{knee[0] + side*3, knee[1]}
	c.Line(dimLine, target, knee, shelf)
	c.Polygon(arrowHead, dot(target, 0.55)...)
	for i, text := range lines {
		c.Text(Label{
			Text: text, Size: DimSize, Anchor: anchor, Bold: i == 0 && len(lines) > 1,
			At: orb.Point{shelf[0] + side, shelf[1] - 0.36*DimSize - float64(i)*1.35*DimSize},
		})
	}
}

// dot is an octagon, small enough to pass for a disc.
func dot(c orb.Point, r float64) []orb.Point {
	out := make([]orb.Point, 8)
	for i := range out {
		s, k := math.Sincos((float64(i) + 0.5) * math.Pi / 4)
		out[i] = orb.Point{c[0] + r*k, c[1] + r*s}
	}
	return out
}

// CheckBar draws a bar of exactly 100 mm from its lower left corner, in tens,
// with what to do about it. It is 3 mm high, its text stands above.
func (c *Canvas) CheckBar(at orb.Point, text string) {
	for i := range 10 {
		x := at[0] + 10*float64(i)
		s := Style{Fill: Paper, Stroke: Ink, Width: 0.18}
		if i%2 == 0 {
			s.Fill = Ink
		}
		c.Polygon(s, orb.Point{x, at[1]}, orb.Point{x + 10, at[1]}, orb.Point{x + 10, at[1] + 2}, orb.Point{x, at[1] + 2})
	}
	for _, x := range []float64{0, 100} {
		c.Line(Style{Stroke: Ink, Width: 0.18}, orb.Point{at[0] + x, at[1] - 1}, orb.Point{at[0] + x, at[1] + 3})
	}
	c.Text(Label{Text: text, Size: DimSize, At: orb.Point{at[0], at[1] + 4.2}})
}

func along(q, u orb.Point, d float64) orb.Point { return orb.Point{q[0] + d*u[0], q[1] + d*u[1]} }
