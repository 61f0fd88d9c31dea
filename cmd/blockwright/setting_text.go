package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"blockwright/geom"
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
	t.line("%s (%s), %s, stock %s", r.Cutter.Name, r.Cutter.Handle, name, t.short(r.Stock))
	if r.Other > 0 && r.Other != r.Stock {
		t.line("  flat board %s, upright board %s", t.short(r.Stock), t.short(r.Other))
	}
	if r.Land > 0 {
		t.line("  with a land of %s left on both tips", t.short(r.Land))
	}
	for _, m := range t.set.Warnings {
		t.line("  WARNING: %s", m.Say(t.short))
	}
	t.line("")
}

func (t *settingText) places() {
	known := t.set.Request.Cutter.Known
	height, fence := "not known: the cutter's file gives heights up to a shift", "not known: the cutter's file gives radii up to a shift"
	p := t.set.Passes[0]
	if known[1] {
		height = t.long(p.Height) + "\t" + side(p.Height, "above", "below", "the table") + ": the lower end of the cutting edge"
	}
	rows := [][]string{{"Height", height}}
	for i, p := range t.set.Passes {
		label := "Fence"
		if t.twoFences() {
			label += ", " + p.Name
		} else if i > 0 {
			continue
		}
		if known[0] {
			fence = t.long(p.Fence) + "\t" + side(p.Fence, "behind", "in front of", "the fence's face") + ": the spindle's axis"
		}
		rows = append(rows, []string{label, fence})
	}
	t.rows(0, rows)
	for _, l := range t.passWords() {
		t.line("  %s", l)
	}
	t.line("")
	t.rows(0, [][]string{
		{"Stock this cutter joins", t.short(t.set.Range[0]) + " to " + t.short(t.set.Range[1])},
		{"Better stay within", t.short(t.set.Usable[0]) + " to " + t.short(t.set.Usable[1])},
	})
	t.line("")
}

func (t *settingText) twoFences() bool {
	return math.Abs(t.set.Passes[0].Fence-t.set.Passes[1].Fence) > geom.Tol
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
		front := t.set.Passes[0]
		return []string{
			"One height, two fences. Front: flat, its inside face on the table. Side: on its end,",
			"its inside face against the fence; only the tooth cuts it.",
			"The lip left on the front is " + t.short(front.Stock-front.Profile().End()[1]) + " thick.",
		}
	}
	return []string{
		"One setting for both passes. Flat: the face that will be inside the corner lies on",
		"the table. Upright: the face that will be inside stands against the fence.",
	}
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

func (t *settingText) measures() {
	r := t.set.Read(0)
	t.line("To measure at the table%s", map[bool]string{true: ", fence set for the " + t.set.Passes[0].Name}[t.twoFences()])
	rows := [][]string{{"top of the cutting edge above the table", t.long(r.Top)}}
	if r.BodyTop > 0 {
		rows = append(rows, []string{"top of the cutter's body above the table", t.long(r.BodyTop)})
	}
	if r.Land != nil {
		rows = append(rows,
			[]string{"widest land out of the fence", t.long(r.Land.Out)},
			[]string{"  that land begins above the table at", t.long(r.Land.From)},
			[]string{"  and ends at", t.long(r.Land.To)})
	}
	t.rows(0, rows)
	switch k := r.Kiss; {
	case k == nil:
	case math.Abs(k.Out) < 5e-4:
		t.line("  The kiss: a straight bar on a piece of the stock, slid to the fence, just touches")
		t.line("  the cutter, turned by hand, %s above the table.", t.short(k.Height))
	default:
		t.line("  %s above the table the cutter stands %s of the fence.", t.short(k.Height),
			t.short(math.Abs(k.Out))+map[bool]string{true: " out", false: " inside"}[k.Out > 0])
	}
	t.line("")
}

// testPieces is the two-piece test in words, for joints cut at one setting.
func (t *settingText) testPieces() {
	if t.twoFences() {
		return
	}
	t.line("Two test pieces")
	t.line("  Cut two pieces of the stock flat and pencil the face that lay on the table. Turn one")
	t.line("  over and push the cuts together. If the turned piece stands above the other, the")
	t.line("  cutter is too high; below, too low. Move the cutter by HALF the step.")
	if t.corner() {
		t.line("  Height first, then the fence: too much cut blunts the tip, too little leaves a land")
		t.line("  on it. Always set for the thickest board.")
	}
	t.line("")
}

func (t *settingText) corner() bool { return t.set.With(0, 0).Corner != nil }

func (t *settingText) effects() {
	t.line("What an error does (%s)", map[string]string{"mm": "mm", "in": "inches"}[t.units])
	var rows [][]string
	errs := usualErrors(t.units)
	if t.asked != nil {
		errs = append([]joint.Error{*t.asked}, errs...)
	}
	for _, e := range errs {
		f := t.set.Under(e)
		if f.Corner != nil {
			rows = append(rows, []string{t.wrong(e), t.signed(f.FlipTop), t.signed(f.Tips[0].Short),
				t.signed(f.Corner.FaceStep), t.signed(f.Corner.EndStep), t.plain(f.Flush.Normal), t.plain(f.Flush.Interference)})
			continue
		}
		rows = append(rows, []string{t.wrong(e), t.signed(f.Off[0]), t.signed(f.Off[1]),
			t.plain(f.Nested.Normal), t.plain(f.Nested.Interference), t.plain(f.Flush.Normal), t.plain(f.Flush.Interference)})
	}
	head := []string{"", "out", "up", "gap", "clash", "flush: gap", "clash"}
	if t.corner() {
		head = []string{"", "flip step", "tip", "outside face", "end", "gap", "clash"}
	}
	t.rows(tabwriter.AlignRight, append([][]string{head}, rows...))
	t.line("")
}

func (t *settingText) legend() {
	t.line("The columns")
	if t.corner() {
		t.line("  flip step: the turned test piece above (+) or below (-) the other")
		t.line("  tip: shorter by so much (+), or a land of that width left on it (-)")
		t.line("  outside face, end: with the cuts nested, how far the upright board's face stands")
		t.line("  beyond the flat board's tip and its end above the flat board's face")
		t.line("  gap, clash: with the outside faces held flush instead, the widest gap and how far")
		t.line("  wood runs into wood, both square to the surfaces; a clash does not go together")
	} else {
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

// check shows closed form and search side by side, and what gapes at the right
// setting.
func (t *settingText) check() {
	m, p, c := t.set.Minimise(), t.set.Passes[0], t.set.Request.Cutter
	g := t.set.With(0, 0).Flush
	t.line("Checked")
	if c.Known[0] && c.Known[1] {
		t.line("  A search for the least gap that knows no centre finds height %s, fence %s;", t.short(m.Height), t.short(m.Fence))
		if d := math.Max(math.Abs(m.Height-p.Height), math.Abs(m.Fence-p.Fence)); d < geom.Tol {
			t.line("  the same within 0.000001 mm.")
		} else {
			t.line("  that is off by %s and %s. Use the figures above.", t.short(m.Height-p.Height), t.short(m.Fence-p.Fence))
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

func (t *settingText) caution() {
	speed := "Read the highest speed off the cutter; its file states none."
	if rpm := t.set.Request.Cutter.MaxRPM; rpm > 0 {
		speed = fmt.Sprintf("The cutter's file states at most %.0f rpm; its own marking comes first.", rpm)
	}
	t.line("Take care: disconnect the power before you touch the cutter. Feed right to left,")
	t.line("against the rotation, never between cutter and fence. Never the whole depth at once:")
	t.line("move the fence in stages, the height stays.")
	t.line("%s", speed)
}
