package plan

import (
	"math"

	"blockwright/jig/joint"
)

// A Stage is a position of the fence on the way to its last one.
type Stage struct {
	Spacer float64 // between the fence and its stop: 0 in the last stage
	Area   float64 // cut in this stage
}

// lesson is the area in mm² that one stage of the fence should cut at the most, in
// wood with a large cutter: common practice, no source.
const lesson = 60.0

// stages divides a pass into positions of the fence that cut about the same area
// each, the height staying as it is. A spacer of s mm between fence and stop keeps the
// board s away, so the pass removes ∫ max(0, X(z) - s) dz. Spacers are rounded up to
// a grid in mm: never more cut than reckoned.
func stages(p joint.Pass, grid float64) []Stage {
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
			s = Saw{Grid: grid}.up(spacerFor(p, total*float64(k)/float64(n)))
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
// section is cut where X > s. Exact for lines; arcs count as 32 chords.
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
