package posts

import (
	"math"
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

// StripWidth is the width in mm of the boards that strips are made for where
// nothing else is said.
const StripWidth = 200

// ID names the fixture that the request asks for, whether or not it can be made:
// CUTTER[+WITH]-STOCK[xOTHER]-KIND[-VARIANT]. The variant tells what the fixture
// is measured from, the pass where passes differ, and what else was asked of the
// joint, so that requests for other shapes have other names.
func (r Request) ID() string {
	j := r.Joint
	in := func(mm float64) string { return Measure{MM: mm, Unit: r.Stock.Unit}.String() }
	var variant []string
	for _, v := range []struct {
		text string
		is   bool
	}{
		{r.from(), true}, {r.Variant, true},
		{"land" + in(j.Land), j.Land > 0}, {"overlay" + in(j.Overlay), j.Overlay > 0}, {"skim" + in(j.Skim), j.Skim > 0},
		{in(r.Width), r.Kind == "strip" && r.Width > 0 && math.Abs(r.Width-StripWidth) > 1e-9},
		{r.landing(), true},
	} {
		if v.is && v.text != "" {
			variant = append(variant, v.text)
		}
	}
	with := ""
	if j.With != nil {
		with = j.With.Handle
	}
	return fixtureID(j.Cutter.Handle, with, r.Stock, Measure{MM: j.Other, Unit: r.Stock.Unit}, r.Kind, strings.Join(variant, "-"))
}

// landing is where a point of the profile is wanted, as a part of a name:
// r6.35h6x0z6mm.
func (r Request) landing() string {
	at := r.Joint.At
	if at == nil {
		return ""
	}
	text := ""
	for i, v := range []float64{at.Profile[0], at.Profile[1], at.Table[0], at.Table[1]} {
		m := Measure{MM: v, Unit: r.Stock.Unit}.String()
		text += "rhxz"[i:i+1] + strings.TrimSuffix(m, r.Stock.Unit)
	}
	return text + r.Stock.Unit
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
