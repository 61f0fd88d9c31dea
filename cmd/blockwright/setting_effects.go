package main

import (
	"math"
	"strings"
	"text/tabwriter"

	"blockwright/jig/joint"
)

func (t *settingText) effects() {
	t.line("What an error does (%s)", map[string]string{"mm": "mm", "in": "inches"}[t.units])
	var rows [][]string
	errs := usualErrors(t.units)
	if t.asked != nil {
		errs = append([]joint.Error{*t.asked}, errs...)
	}
	for _, e := range errs {
		f := t.set.Under(e)
		if t.set.Joint == "edge" {
			if e.DT == 0 {
				rows = append(rows, []string{t.wrong(e), t.signed(f.Off[0]), t.signed(f.Off[1]), t.plain(f.Flush.Normal), t.plain(f.Flush.Interference)})
			}
			continue
		}
		if f.Corner != nil {
			rows = append(rows, []string{t.wrong(e), t.signed(f.FlipTop), t.signed(f.Tips[0].Short),
				t.signed(f.Corner.FaceStep), t.signed(f.Corner.EndStep), t.plain(f.Flush.Normal), t.plain(f.Flush.Interference)})
			continue
		}
		rows = append(rows, []string{t.wrong(e), t.signed(f.Off[0]), t.signed(f.Off[1]),
			t.plain(f.Nested.Normal), t.plain(f.Nested.Interference), t.plain(f.Flush.Normal), t.plain(f.Flush.Interference)})
	}
	head := []string{"", "out", "up", "gap", "clash", "flush: gap", "clash"}
	switch {
	case t.set.Joint == "edge":
		head = []string{"", "out", "up", "cut away", "left"}
	case t.corner():
		head = []string{"", "flip step", "tip", "outside face", "end", "gap", "clash"}
	}
	t.rows(tabwriter.AlignRight, append([][]string{head}, rows...))
	t.line("")
}

func (t *settingText) legend() {
	t.line("The columns")
	switch {
	case t.set.Joint == "edge":
		t.line("  out, up: how far the profile lands from where it is wanted")
		t.line("  cut away, left: how far too much or too little comes off, square to the edge; an")
		t.line("  edge that begins above the table leaves a lip of wood below it")
	case t.corner():
		t.line("  flip step: the turned test piece above (+) or below (-) the other")
		t.line("  tip: shorter by so much (+), or a land of that width left on it (-)")
		t.line("  outside face, end: with the cuts nested, how far the upright board's face stands")
		t.line("  beyond the flat board's tip and its end above the flat board's face")
		t.line("  gap, clash: with the outside faces held flush instead, the widest gap and how far")
		t.line("  wood runs into wood, both square to the surfaces; a clash does not go together")
	default:
		if t.twoCutters() {
			t.line("  the errors are those of the second cutter and its fence against the first")
		}
		t.line("  out, up: how far the second board stands, with the cuts nested, from where it should")
		t.line("  gap, clash: the widest gap and how far wood runs into wood, square to the surfaces,")
		t.line("  with the cuts nested and with the faces held flush; a clash does not go together")
	}
	t.line("")
}

// wrong names an error.
func (t *settingText) wrong(e joint.Error) string {
	var parts []string
	add := func(v float64, what, more, less string) {
		switch {
		case v > 0:
			parts = append(parts, what+" "+t.amount(v)+" "+more)
		case v < 0:
			parts = append(parts, what+" "+t.amount(v)+" "+less)
		}
	}
	add(e.DZ, "cutter", "high", "low")
	add(e.E, "fence", "back", "forward")
	add(e.DT, "boards", "thicker", "thinner")
	if len(parts) == 0 {
		return "no error"
	}
	return strings.Join(parts, ", ")
}

func (t *settingText) amount(mm float64) string {
	return strings.TrimSuffix(strings.TrimSuffix(t.short(math.Abs(mm)), " mm"), " in")
}

func (t *settingText) plain(mm float64) string {
	if t.units == "in" {
		return fixed(mm/25.4, 4)
	}
	return fixed(mm, 3)
}

func (t *settingText) signed(mm float64) string {
	s := t.plain(mm)
	if !strings.HasPrefix(s, "-") && strings.Trim(s, "0.") != "" {
		return "+" + s
	}
	return s
}
