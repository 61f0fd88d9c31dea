package source

import (
	"strconv"
)

// A Range limits a number. Zero Max means no upper limit.
type Range struct {
	Min, Max float64
	Over     bool // more than Min, not equal
	Unit     string
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

func (r Range) holds(f float64) bool {
	if r.Over && !(f > r.Min) || !(f >= r.Min) {
		return false
	}
	return r.Max == 0 && r.Min >= 0 || f <= r.Max
}
