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

// measures says what calipers and a straightedge read at the table, for every place
// that cutter or fence take.
func (t *settingText) measures() {
	for i, p := range t.set.Passes {
		if i > 0 && !t.twoFences() {
			continue
		}
		r := t.set.Read(i)
		t.line("To measure at the table%s", map[bool]string{true: ", set for the " + p.Name + " pass"}[t.twoFences()])
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
}

// testPieces is the test cut in words.
func (t *settingText) testPieces() {
	words := []string{
		"Two test pieces",
		"  Cut two pieces of the stock flat and pencil the face that lay on the table. Turn one",
		"  over and push the cuts together. If the turned piece stands above the other, the",
		"  cutter is too high; below, too low. Move the cutter by HALF the step.",
	}
	switch t.set.Joint {
	case "drawer-lock":
		words = []string{
			"The test cut",
			"  Cut a front and a side from the real stock and push them together. A line that stays",
			"  open between the side's end and the front's lip: the cutter is too low, raise it by",
			"  what is open. The lip bears before the tooth is home: too high, lower it by what the",
			"  tooth stays off. Then read how far the front stands beyond the side and move the",
			"  front's fence by what is wrong: back, for more cutter, where it stands out too little.",
		}
	case "matched":
		words = []string{
			"Two test pieces",
			"  Cut one with each cutter, the same face down, and push them together on a flat. If the",
			"  second piece stands above the first, its cutter is too low; below, too high. Move the",
			"  second cutter by the WHOLE step. The faces must close; the bottom of the groove stays",
			"  open by the clearance.",
		}
	case "edge":
		words = []string{
			"The test cut",
			"  Cut a piece of the stock and measure the edge from its end and from the face that lay",
			"  on the table. Move fence and cutter by the WHOLE of what is wrong.",
		}
	}
	for _, l := range words {
		t.line("%s", l)
	}
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

func (t *settingText) caution() {
	t.line("Take care")
	for _, l := range strings.Split(cautionsAtTable, "\n") {
		t.line("  %s", l)
	}
	t.speeds()
}
