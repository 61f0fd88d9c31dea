package source

import (
	"math"
	"strconv"
)

// A Range limits a number. Zero Max means no upper limit.
type Range struct {
	Min, Max float64
	Over     bool // more than Min, not equal
	Unit     string
	Per      string // of a length, what follows its unit: "/min" of a feed
}

// Over is the range of numbers more than min and at most max.
func Over(min, max float64) Range { return Range{Min: min, Max: max, Over: true} }

// Within is the range from min to max.
func Within(min, max float64) Range { return Range{Min: min, Max: max} }

// String is the range as a wish: more than 0 and at most 500 mm.
func (r Range) String() string {
	n := func(f float64) string { return strconv.FormatFloat(f, 'f', -1, 64) }
	unit := ""
	if r.Unit != "" {
		unit = " " + r.Unit
	}
	low := "at least "
	if r.Over {
		low = "more than "
	}
	switch {
	case r.Max == 0 && r.Min >= 0:
		return low + n(r.Min) + unit
	case r.Over:
		return low + n(r.Min) + " and at most " + n(r.Max) + unit
	}
	return n(r.Min) + " to " + n(r.Max) + unit
}

// said is a range of mm in the units of the file that it is told of; in inches to
// three figures, inside the true limits.
func (r Range) said(units string) string {
	r.Unit = "mm"
	if units == "in" {
		r.Min, r.Max, r.Unit = figuresUp(r.Min/25.4), 0-figuresUp(-r.Max/25.4), "in"
	}
	r.Unit += r.Per
	return r.String()
}

// figuresUp rounds up to three figures; a number that has no more stays.
func figuresUp(v float64) float64 {
	if v == 0 {
		return 0
	}
	p := math.Pow(10, 2-math.Floor(math.Log10(math.Abs(v))))
	s, _ := strconv.ParseFloat(strconv.FormatFloat(math.Ceil(v*p-1e-9)/p, 'g', 6, 64), 64)
	return s
}

func (r Range) holds(f float64) bool {
	if r.Over && !(f > r.Min) || !(f >= r.Min) {
		return false
	}
	return r.Max == 0 && r.Min >= 0 || f <= r.Max
}
