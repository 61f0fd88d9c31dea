package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
)

// writeSettings says settings of one cutter in the shop's units.
func writeSettings(w io.Writer, sets []*joint.Setting, units string, wrong *joint.Error, woods []*woodView, boards *boardsView) error {
	t := &settingText{w: w, units: units, asked: wrong}
	for i, set := range sets {
		t.set = set
		t.head()
		t.places()
		t.measures()
		t.effects()
		t.wood(woods[i])
		t.boards(boards)
		t.check()
	}
	t.legend()
	t.testPieces()
	t.caution()
	return t.err
}

// A settingText writes a setting part by part and keeps the first error.
type settingText struct {
	w     io.Writer
	set   *joint.Setting
	units string
	asked *joint.Error // an error whose effect is asked for, or nil
	err   error
}

func (t *settingText) line(format string, a ...any) {
	if t.err == nil {
		_, t.err = fmt.Fprintf(t.w, format+"\n", a...)
	}
}

// rows writes lines of cells in columns.
func (t *settingText) rows(right uint, rows [][]string) {
	tw := tabwriter.NewWriter(t.w, 0, 0, 2, ' ', right)
	for _, r := range rows {
		fmt.Fprintln(tw, "  "+strings.Join(r, "\t")+map[bool]string{true: "\t"}[right != 0])
	}
	if err := tw.Flush(); t.err == nil {
		t.err = err
	}
}

func (t *settingText) long(mm float64) string  { return inUnits(mm, t.units) }
func (t *settingText) short(mm float64) string { return shortUnits(mm, t.units) }

func (t *settingText) head() {
	r := t.set.Request
	name := strings.ReplaceAll(t.set.Joint, "-", " ")
	who := fmt.Sprintf("%s (%s)", r.Cutter.Name, r.Cutter.Handle)
	if r.With != nil {
		who += fmt.Sprintf(" with %s (%s)", r.With.Name, r.With.Handle)
	}
	t.line("%s, %s, stock %s", who, name, t.short(r.Stock))
	if at := r.At; at != nil {
		t.line("  the profile's point at radius %s, height %s lands %s out of the fence, %s above the table",
			t.short(at.Profile[0]), t.short(at.Profile[1]), t.short(at.Table[0]), t.short(at.Table[1]))
	}
	if r.Other > 0 && r.Other != r.Stock {
		t.line("  %s board %s, %s board %s", t.set.Passes[0].Name, t.short(r.Stock), t.set.Passes[1].Name, t.short(r.Other))
	}
	if r.Land > 0 {
		t.line("  with a land of %s left on both tips", t.short(r.Land))
	}
	for _, m := range t.set.Warnings {
		t.line("  WARNING: %s", m.Say(t.short))
	}
	for _, c := range []*cutter.Cutter{r.Cutter, r.With} {
		if c != nil && c.Traced != nil {
			t.line("  The figures rest on a trace of %s: %s.", c.Handle, tracedWords(c.Traced, t.short))
		}
	}
	t.line("")
}

func (t *settingText) places() {
	var rows [][]string
	for i, p := range t.set.Passes {
		if i == 0 || t.twoCutters() {
			height := "not known: the cutter's file gives heights up to a shift"
			if p.Cutter.Known[1] {
				height = t.long(p.Height) + "\t" + side(p.Height, "above", "below", "the table") + ": the lower end of the cutting edge"
			}
			rows = append(rows, []string{t.ofPass("Height", p, t.twoCutters()), height})
		}
		if i == 0 || t.twoFences() {
			fence := "not known: the cutter's file gives radii up to a shift"
			if p.Cutter.Known[0] {
				fence = t.long(p.Fence) + "\t" + side(p.Fence, "behind", "in front of", "the fence's face") + ": the spindle's axis"
			}
			rows = append(rows, []string{t.ofPass("Fence", p, t.twoFences()), fence})
		}
	}
	t.rows(0, rows)
	for _, l := range t.passWords() {
		t.line("  %s", l)
	}
	t.line("")
	t.rows(0, [][]string{
		{"Stock this cutter joins", joint.Between(t.set.Range).Say(t.short)},
		{"Better stay within", joint.Between(t.set.Usable).Say(t.short)},
	})
	t.line("")
}

// ofPass is a label, with the pass where the passes differ.
func (t *settingText) ofPass(label string, p joint.Pass, differ bool) string {
	if !differ {
		return label
	}
	return label + ", " + p.Name
}

// twoCutters tells whether the second pass has a cutter of its own.
func (t *settingText) twoCutters() bool { return t.set.Request.With != nil }

// twoFences tells whether the second pass wants another fence.
func (t *settingText) twoFences() bool {
	ps := t.set.Passes
	return t.twoCutters() || len(ps) == 2 && math.Abs(ps[0].Fence-ps[1].Fence) > geom.Tol
}

// passWords says how the boards go past the cutter.
func (t *settingText) passWords() []string {
	r := t.set.Request
	switch t.set.Joint {
	case "edge-glue":
		words := []string{
			"One setting for both boards, flat on the table: one with its face down, the other",
			"with its face up.",
		}
		if r.Skim > 0 {
			return append(words, "The outfeed half of the fence stands "+t.short(r.Skim)+" forward: so much comes off everywhere.")
		}
		return append(words, "Both halves of the fence stay in line.")
	case "drawer-lock":
		front, side := t.set.Passes[0], t.set.Passes[1]
		return []string{
			"One height, two fences. Front: flat, its inside face on the table. Side: on its end,",
			"its inside face against the fence; only the tooth cuts it.",
			"The lip left on the front is " + t.short(front.Stock-front.Profile().End()[1]) + " thick.",
			"A spacer of " + t.short(math.Abs(side.Fence-front.Fence)) + " between fence and stop takes the fence from one to the other.",
		}
	case "matched":
		words := []string{
			"Two cutters, both boards flat, the same face down. The second is set to match the",
			"first: their centre lines are level.",
		}
		if r.Skim > 0 {
			words = append(words, "The outfeed half of the fence stands "+t.short(r.Skim)+" forward: so much comes off everywhere.")
		}
		return words
	case "edge":
		if least := t.leastCut(); least > geom.Tol {
			return []string{
				"One pass, the board flat. The whole end is cut: the outfeed half of the fence stands",
				t.short(least) + " forward.",
			}
		}
		return []string{"One pass, the board flat. Both halves of the fence stay in line."}
	}
	return []string{
		"One setting for both passes. Flat: the face that will be inside the corner lies on",
		"the table. Upright: the face that will be inside stands against the fence.",
	}
}

// leastCut is the least depth of the first cut over the thickness, 0 or less where
// some of the end stays as it is.
func (t *settingText) leastCut() float64 {
	p := t.set.Passes[0]
	line := p.CutLine
	if len(line.V) == 0 || line.Start()[1] > geom.Tol || line.End()[1] < p.Stock-geom.Tol {
		return 0
	}
	least := math.Inf(1)
	for i := range line.Edges() {
		least = math.Min(least, line.Edge(i).LeastX()[0])
	}
	return least
}

// side is the word for a signed distance.
func side(v float64, positive, negative, of string) string {
	switch {
	case math.Abs(v) < 5e-4:
		return "level with " + of
	case v > 0:
		return positive + " " + of
	}
	return negative + " " + of
}

// check shows closed form and search side by side, and what gapes at the right
// setting.
func (t *settingText) check() {
	if t.set.Joint == "edge" {
		return
	}
	m, p, c := t.set.Minimise(), t.set.Passes[0], t.set.Request.Cutter
	g := t.set.With(0, 0).Flush
	t.line("Checked")
	if c.Known[0] && c.Known[1] && t.set.TurnsOver() {
		t.line("  A search for the least gap, which does not use this reckoning, finds")
		if d := math.Max(math.Abs(m.Height-p.Height), math.Abs(m.Fence-p.Fence)); d < geom.Tol {
			t.line("  height %s, fence %s: the same.", t.short(m.Height), t.short(m.Fence))
		} else {
			t.line("  height %s, fence %s: off by %s and %s. Use the figures above.",
				t.short(m.Height), t.short(m.Fence), t.short(m.Height-p.Height), t.short(m.Fence-p.Fence))
		}
	}
	switch {
	case g.Normal < 5e-4 && g.Interference < 5e-4:
		t.line("  At the right setting the joint closes everywhere.")
	case g.Interference < 5e-4:
		t.line("  At the right setting the cutter leaves clearance: gaps of up to %s.", t.short(g.Normal))
	default:
		t.line("  The cutter's halves do not match: gaps of up to %s, wood in wood by up to %s.", t.short(g.Normal), t.short(g.Interference))
	}
	t.line("")
}
