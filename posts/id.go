package posts

import (
	"strconv"
	"strings"
)

// InchMM is the length of an inch in mm, exactly.
const InchMM = 25.4

// A Measure is a length as its user wrote it: its unit goes into names.
type Measure struct {
	MM   float64
	Unit string // "mm" or "in"
}

// String writes the measure in its own unit in shortest decimals: 19mm, 0.75in.
func (m Measure) String() string {
	v := m.MM
	if m.Unit == "in" {
		v /= InchMM
	}
	// Nine significant digits hide the rounding of a conversion and keep more
	// than any caliper shows.
	s := strconv.FormatFloat(v, 'g', 9, 64)
	if f, err := strconv.ParseFloat(s, 64); err == nil {
		s = strconv.FormatFloat(f, 'f', -1, 64)
	}
	return s + m.Unit
}

// fixtureID names a fixture: CUTTER[+WITH]-STOCK[xOTHER]-KIND[-VARIANT].
func fixtureID(cutter, with string, stock, other Measure, kind, variant string) string {
	var b strings.Builder
	b.WriteString(cutter)
	if with != "" {
		b.WriteString("+" + with)
	}
	b.WriteString("-" + stock.String())
	if other.MM > 0 && other.MM != stock.MM {
		b.WriteString("x" + other.String())
	}
	b.WriteString("-" + kind)
	if variant != "" {
		b.WriteString("-" + variant)
	}
	return b.String()
}
