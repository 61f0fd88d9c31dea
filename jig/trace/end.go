package trace

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// This file answers what lies between a board's faces at either end.

// An end is one of the two stretches of outline between the faces, from the lower
// face to the upper one.
type end struct {
	right   bool // the board's right end: x into the board runs to the left
	line    []orb.Point
	clipped bool
	rough   float64 // mm RMS from a straight line
	lean    float64 // rad of that line from square
}

// findEnds cuts the outline in the middle of either face.
func (b *board) findEnds(picture orb.Bound) *Refusal {
	n := len(b.line)
	q := make([]orb.Point, n)
	for i, p := range b.line {
		q[i] = b.into(p)
	}
	tol := 0.15 + 2*b.r.pitch()
	var low, high []float64
	for _, p := range q {
		switch {
		case math.Abs(p[1]) < tol:
			low = append(low, p[0])
		case math.Abs(p[1]-b.thick) < tol:
			high = append(high, p[0])
		}
	}
	ml, mh := median(low), median(high)
	il, ih := -1, -1
	for i, p := range q {
		if math.Abs(p[1]) < tol && (il < 0 || math.Abs(p[0]-ml) < math.Abs(q[il][0]-ml)) {
			il = i
		}
		if math.Abs(p[1]-b.thick) < tol && (ih < 0 || math.Abs(p[0]-mh) < math.Abs(q[ih][0]-mh)) {
			ih = i
		}
	}
	if il < 0 || ih < 0 {
		return refuse(NoBoard, "the end of a board, at least 5 mm of both faces: leave the piece longer, and state the pixels an inch that it was scanned with", "no two straight parallel faces")
	}
	stretch := func(i, j int) []orb.Point {
		if i <= j {
			return slices.Clone(b.line[i : j+1])
		}
		return append(slices.Clone(b.line[i:]), b.line[:j+1]...)
	}
	right, left := stretch(il, ih), stretch(ih, il)
	slices.Reverse(left)
	near := 4*b.r.pitch() + 0.25
	for k, line := range [2][]orb.Point{left, right} {
		e := end{right: k == 1, line: line}
		var mid []orb.Point
		for _, p := range line {
			z := b.into(p)
			inner := z[1] > tol && z[1] < b.thick-tol
			if p[0] < picture.Min[0]+near || p[1] < picture.Min[1]+near || p[0] > picture.Max[0]-near || p[1] > picture.Max[1]-near {
				e.clipped = true
			}
			if inner {
				mid = append(mid, z)
			}
		}
		e.rough, e.lean = straightness(mid)
		b.ends = append(b.ends, e)
	}
	return nil
}

// straightness is the RMS distance in mm of the middle nine tenths of the points from
// their line z ↦ u, and how far that leans from square.
func straightness(q []orb.Point) (rms, lean float64) {
	if len(q) < 8 {
		return 0, 0
	}
	m := newNormal(2)
	for _, p := range q {
		m.add([]float64{1, p[1]}, p[0], 1)
	}
	a, _, ok := m.solve()
	if !ok {
		return 0, 0
	}
	var es []float64
	for _, p := range q {
		e := p[0] - a[0] - a[1]*p[1]
		es = append(es, e*e)
	}
	slices.Sort(es)
	es = es[:len(es)*9/10+1]
	s := 0.0
	for _, e := range es {
		s += e
	}
	return math.Sqrt(s/float64(len(es))) / math.Hypot(1, a[1]), math.Atan(a[1])
}
