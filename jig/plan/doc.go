// Package plan works out which board gets which pass: pieces with their faces,
// blanks wide enough to rip after milling, fence stages, test pieces, panels and
// the order of work, for boxes, posts and edge-glued panels.
//
// In a box or post with lock miter corners every side is as long (wide) as the
// outside. Two opposite sides are cut flat, the other two upright, so no side has
// one pass of each kind. The face that will be inside goes down, flat, or against
// the fence, upright. Common practice, no source.
//
// Lengths are mm, areas mm².
package plan

import (
	"fmt"
	"math"

	"blockwright/jig/joint"
)

// A Piece is one finished part, or several that are the same.
type Piece struct {
	Label                    string
	Count                    int
	Length, Width, Thickness float64
	Pass                     string // flat, upright, turned; "" without a pass
	Face                     string // which face lies where in the pass
}

// A Blank is a board to prepare before milling, as wide as several pieces.
type Blank struct {
	For           string // labels of the pieces
	Width, Length float64
	Count         int
}

// A Stage is a position of the fence on the way to its last one.
type Stage struct {
	Spacer float64 // between the fence and its stop: 0 in the last stage
	Area   float64 // cut in this stage
}

// A Plan is the whole job in order.
type Plan struct {
	Title  string
	Pieces []Piece
	Blanks []Blank
	Stages map[string][]Stage // by pass
	Steps  []string
	Notes  []string
	Stock  float64 // m² of board that the blanks need
}

// Saw is how boards are ripped.
type Saw struct {
	Kerf float64 // of the saw
	Edge float64 // allowance on both edges of a blank, planed or ripped off
}

// blankWidth is the width of a blank that gives n pieces of width w:
// n·w + (n - 1)·kerf + 2·edge. Two sides of 4 in take about 9 in. Common practice,
// no source.
func (s Saw) blankWidth(n int, w float64) float64 {
	return float64(n)*w + float64(n-1)*s.Kerf + 2*s.Edge
}

func (s Saw) check() error {
	if !(s.Kerf >= 0 && s.Kerf <= 10) {
		return fmt.Errorf("plan: saw kerf %g mm; want 0 to 10", s.Kerf)
	}
	if !(s.Edge >= 0 && s.Edge <= 100) {
		return fmt.Errorf("plan: edge allowance %g mm; want 0 to 100", s.Edge)
	}
	return nil
}

// Test pieces: common practice, no source.
const (
	testLength = 300.0 // along the fence, at least
	testWidth  = 100.0
)

// lesson is the area in mm² that one stage of the fence should cut at the most, in
// wood with a large cutter: common practice, no source.
const lesson = 60.0

// Stages divides a pass into positions of the fence that cut about the same area
// each, the height staying as it is. A spacer of s between fence and stop keeps the
// board s away, so the pass removes ∫ max(0, X(z) - s) dz.
func Stages(p joint.Pass) []Stage {
	total := area(p, 0)
	if !(total > 0) {
		return nil
	}
	n := int(math.Max(1, math.Ceil(total/lesson)))
	var out []Stage
	before := 0.0
	for k := 1; k <= n; k++ {
		s := 0.0
		if k < n {
			s = spacerFor(p, total*float64(k)/float64(n))
			s = math.Ceil(s*10) / 10 // spacers to a tenth: never more cut than reckoned
		}
		done := area(p, s)
		out = append(out, Stage{Spacer: s, Area: done - before})
		before = done
	}
	return out
}

// spacerFor is the spacer with which the pass removes the given area.
func spacerFor(p joint.Pass, want float64) float64 {
	lo, hi := 0.0, math.Max(0, p.CutLine.Bound().Max[0])
	for range 60 {
		if mid := (lo + hi) / 2; area(p, mid) > want {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// area is what a pass removes of the board's section with a spacer of s, mm². The
// section is cut where X > s; between the heights at which lines and arcs of the
// cut line begin, Simpson's rule is exact for lines and close for arcs.
func area(p joint.Pass, s float64) float64 {
	sum := 0.0
	c := p.CutLine
	for i := range c.Edges() {
		e := c.Edge(i)
		n := 1
		if !e.Straight() {
			n = 32
		}
		for k := range n {
			a, b := e.At(float64(k)/float64(n)), e.At(float64(k+1)/float64(n))
			sum += above(a[0]-s, b[0]-s, b[1]-a[1])
		}
	}
	return sum
}

// above is ∫ max(0, x) over the height h along which x goes evenly from a to b.
func above(a, b, h float64) float64 {
	switch {
	case a >= 0 && b >= 0:
		return (a + b) / 2 * h
	case a <= 0 && b <= 0:
		return 0
	case a > 0:
		return a / 2 * h * a / (a - b)
	}
	return b / 2 * h * b / (b - a)
}

// faceOf says which face lies where in a pass.
func faceOf(p joint.Pass) string {
	if p.Lies == joint.Upright {
		return "inside face against the fence"
	}
	return "inside face down"
}

// needed is the board area in m² of the blanks.
func needed(bs []Blank) float64 {
	a := 0.0
	for _, b := range bs {
		a += b.Width * b.Length * float64(b.Count) / 1e6
	}
	return a
}
