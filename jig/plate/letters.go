package plate

import (
	"math"
	"unicode"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// The design grid of the alphabet: a capital is 8 units high, and 2 units lie
// between neighbours. At 5 mm height one unit is 0.625 mm, so strokes stay apart
// for a tool tip of up to about 0.6 mm. Proportions are near those of ISO 3098
// (capitals about 0.6 of the height wide, 0.2 between), the shapes are our own.
const (
	gridHeight = 8.0
	gridGap    = 2.0
)

// A corner is a point of a stroke, x and y in grid units, and the radius with
// which the stroke rounds it.
type corner [3]float64

// A glyph is a character: its width without the gap, and its strokes. A stroke
// that ends in its first corner is a closed path.
type glyph struct {
	w       float64
	strokes [][]corner
}

// Letters draws s as single strokes: lines and arcs that a tool follows with its
// tip. Capitals stand on the line through at and are height mm high; the first
// begins at at. The second result is the width in mm, as [LettersWidth] gives it.
//
// Lower case is drawn as capitals, an accented Latin letter without its accent,
// any other white space as a space. A character that the alphabet does not have
// is a crossed box: seen, and never an error. A height that is not positive
// gives nothing. Only comma, semicolon, underscore and bar go below the line, by at
// most a fifth of the height; nothing goes above the capitals.
func Letters(s string, at orb.Point, height float64) ([]geom.Path, float64) {
	if !(height > 0) || math.IsInf(height, 0) {
		return nil, 0
	}
	k := height / gridHeight
	var out []geom.Path
	x := 0.0
	for _, r := range spell(s) {
		g := find(r)
		for _, st := range g.strokes {
			out = append(out, stroke(st, k, at, x))
		}
		x += g.w + gridGap
	}
	return out, lettersEnd(x) * k
}

// LettersWidth is the width in mm of s drawn with capitals of the given height,
// from the first stroke's left to the last one's right.
func LettersWidth(s string, height float64) float64 {
	if !(height > 0) || math.IsInf(height, 0) {
		return 0
	}
	x := 0.0
	for _, r := range spell(s) {
		x += find(r).w + gridGap
	}
	return lettersEnd(x) * height / gridHeight
}

// lettersEnd takes the gap behind the last character off again.
func lettersEnd(x float64) float64 { return math.Max(0, x-gridGap) }

// spell gives the characters that are drawn for s.
func spell(s string) []rune {
	var out []rune
	for _, r := range s {
		if unicode.IsSpace(r) {
			r = ' '
		}
		r = unicode.ToUpper(r)
		if as, ok := spelling[r]; ok {
			out = append(out, []rune(as)...)
			continue
		}
		out = append(out, r)
	}
	return out
}

func find(r rune) glyph {
	if g, ok := alphabet[r]; ok {
		return g
	}
	return unknown
}

// stroke makes the path of one stroke, k mm to the unit, x units right of at.
// A rounded corner of turn θ and radius r begins and ends r·tan(θ/2) before and
// behind its point and has the bulge tan(θ/4).
func stroke(st []corner, k float64, at orb.Point, x float64) geom.Path {
	n := len(st)
	closed := n > 2 && st[0] == st[n-1]
	place := func(px, py, bulge float64) geom.Vertex {
		return geom.B(at[0]+(x+px)*k, at[1]+py*k, bulge)
	}
	var v []geom.Vertex
	for i, c := range st {
		if closed && i == n-1 {
			break
		}
		if c[2] == 0 || i == 0 || i == n-1 {
			v = append(v, place(c[0], c[1], 0))
			continue
		}
		a, b := toward(c, st[i-1]), toward(c, st[i+1])
		turn := math.Pi - math.Acos(a[0]*b[0]+a[1]*b[1])
		if a[0]*b[1]-a[1]*b[0] > 0 { // the stroke turns right
			turn = -turn
		}
		t := c[2] * math.Abs(math.Tan(turn/2))
		v = append(v, place(c[0]+a[0]*t, c[1]+a[1]*t, math.Tan(turn/4)), place(c[0]+b[0]*t, c[1]+b[1]*t, 0))
	}
	p, err := geom.NewPath(closed, v...)
	if err != nil { // a place that is no number
		return geom.Path{}
	}
	return p
}

// toward is the unit vector from one corner to another.
func toward(from, to corner) orb.Point {
	dx, dy := to[0]-from[0], to[1]-from[1]
	l := math.Hypot(dx, dy)
	return orb.Point{dx / l, dy / l}
}
