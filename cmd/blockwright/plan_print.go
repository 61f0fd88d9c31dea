package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"text/tabwriter"

	"blockwright/jig/joint"
	"blockwright/jig/plan"
	"blockwright/posts"
)

// The plan as JSON. Sentences say their lengths in mm.
type planView struct {
	Title    string      `json:"title"`
	Pieces   []pieceView `json:"pieces"`
	Blanks   []blankView `json:"blanks"`
	Needs    []needView  `json:"needs"`
	Stages   []stageView `json:"stages"` // of the first pass, and of the others where they differ
	Commands []string    `json:"commands"`
	Warnings []string    `json:"warnings,omitempty"`
	Steps    []string    `json:"steps"`
	Notes    []string    `json:"notes"`
	Stock    float64     `json:"stock_m2"`
}

type pieceView struct {
	Label     string  `json:"label"`
	Count     int     `json:"count"`
	Length    float64 `json:"length_mm"`
	Width     float64 `json:"width_mm"`
	Thickness float64 `json:"thickness_mm"`
	Pass      string  `json:"pass"`
	Face      string  `json:"face"`
}

type blankView struct {
	For       string  `json:"for"`
	Width     float64 `json:"width_mm"`
	Length    float64 `json:"length_mm"`
	Thickness float64 `json:"thickness_mm"`
	Count     int     `json:"count"`
}

type needView struct {
	Thickness float64 `json:"thickness_mm"`
	Area      float64 `json:"area_m2"`
}

type stageView struct {
	Pass   string  `json:"pass"`
	Spacer float64 `json:"spacer_mm"`
	Area   float64 `json:"area_mm2"`

	with string // other passes with the same stages
}

// planned prints a plan.
func planned(s *streams, p *plan.Plan, j job) error {
	v := planView{Title: p.Title.String(), Steps: inMM(p.Steps), Notes: inMM(p.Notes), Warnings: inMM(p.Warnings), Commands: j.commands(p)}
	for _, q := range p.Pieces {
		v.Pieces = append(v.Pieces, pieceView(q))
	}
	for _, b := range p.Blanks {
		v.Blanks = append(v.Blanks, blankView(b))
	}
	for _, n := range p.Needs {
		v.Needs = append(v.Needs, needView{n.Thickness, n.Area / 1e6})
		v.Stock += n.Area / 1e6
	}
	v.Stages = stageViews(p)
	return s.result(v, func(w io.Writer) error { return printPlan(w, p, v, j.units) })
}

// stageViews are the stages of every pass, once where several are alike.
func stageViews(p *plan.Plan) []stageView {
	var out []stageView
	for i, name := range p.Passes {
		same := func(other string) bool {
			return slices.EqualFunc(p.Stages[name], p.Stages[other], func(a, b plan.Stage) bool {
				return math.Abs(a.Spacer-b.Spacer) < 1e-6 && math.Abs(a.Area-b.Area) < 1e-3
			})
		}
		if k := slices.IndexFunc(p.Passes[:i], same); k >= 0 {
			for n := range out {
				if out[n].Pass == p.Passes[k] {
					out[n].with += ", " + name
				}
			}
			continue
		}
		for _, st := range p.Stages[name] {
			out = append(out, stageView{Pass: name, Spacer: st.Spacer, Area: st.Area})
		}
	}
	return out
}

func inMM(ms []joint.Message) []string {
	var out []string
	for _, m := range ms {
		out = append(out, m.String())
	}
	return out
}

// commands are what to type for the plan's setting and fixtures.
func (j job) commands(p *plan.Plan) []string {
	across := j.f.sizes["size"] == nil // a post's edges run along the fence
	f := j.f.join
	of := " --stock " + typed(f.stock.text) + f.joint.typed()
	with := " --cutter " + f.cutter.text + of
	widest := 0.0
	for _, b := range p.Blanks {
		if len(p.Passes) > 0 && b.For != "tests" {
			widest = max(widest, min(b.Width, b.Length))
		}
	}
	out := []string{
		"blockwright setting " + f.cutter.text + of,
		"blockwright make block gauge" + with,
	}
	if corners := len(j.set.Passes) == 2 && j.set.Passes[1].Lies == joint.Upright; corners && across {
		out = append(out, "blockwright make strip"+with+" --width "+typed(sawn(widest, j.units)))
	}
	return out
}

// typed is a word as a shell takes it.
func typed(s string) string {
	s = strings.ReplaceAll(s, " ", "")
	if strings.ContainsAny(s, `"'`) {
		return `'` + strings.ReplaceAll(s, `'`, `'\''`) + `'`
	}
	return s
}

// sawn is a length for the saw bench: to 0.1 mm; in inches as a ruler shows it
// where it is a 64th to half a thousandth, else in decimals.
func sawn(mm float64, units string) string {
	if units != "in" {
		return shortest(mm, 1) + " mm"
	}
	inch := mm / 25.4
	if n := math.Round(inch * 64); n > 0 && math.Abs(inch-n/64) < 0.0005 {
		return posts.Fraction(int(n)) + " in"
	}
	return shortest(inch, 3) + " in"
}

// area is a board's area, section a cut's.
func boardArea(m2 float64, units string) string {
	if units == "in" {
		return fixed(m2*1e6/(25.4*25.4*144), 1) + " sq ft"
	}
	return fixed(m2, 2) + " m²"
}

func section(mm2 float64, units string) string {
	if units == "in" {
		return fixed(mm2/(25.4*25.4), 3) + " sq in"
	}
	return fixed(mm2, 0) + " mm²"
}

func printPlan(w io.Writer, p *plan.Plan, v planView, units string) error {
	say := func(m joint.Message) string {
		return m.Say(func(mm float64) string { return sawn(mm, units) })
	}
	fmt.Fprintln(w, say(p.Title))
	for _, m := range p.Warnings {
		wrapped(w, "  WARNING: ", say(m))
	}
	fmt.Fprintf(w, "\nPieces                long, wide, thick; pass and how the board lies\n")
	t := tabwriter.NewWriter(w, 0, 4, 2, ' ', 0)
	for _, q := range v.Pieces {
		fmt.Fprintln(t, strings.TrimRight(fmt.Sprintf("  %s\t%d ×\t%s\t%s\t%s\t%s\t%s", q.Label, q.Count, sawn(q.Length, units), sawn(q.Width, units), thick(q.Thickness, units), q.Pass, q.Face), "\t"))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintf(w, "\nBoards to prepare, %s\n", p.Ripped)
	for _, b := range v.Blanks {
		fmt.Fprintf(t, "  %s\t%d ×\t%s long\t%s wide\t%s\n", b.For, b.Count, sawn(b.Length, units), sawn(b.Width, units), thick(b.Thickness, units))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(w, "\nWood needed, without waste")
	for _, n := range v.Needs {
		fmt.Fprintf(t, "  %s\tof %s\n", boardArea(n.Area, units), thick(n.Thickness, units))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(w, "\nFence stages, the height unchanged: a spacer between fence and stop keeps the board back")
	for _, s := range v.Stages {
		spacer := "spacer " + sawn(s.Spacer, units)
		if s.Spacer == 0 {
			spacer = "no spacer"
		}
		fmt.Fprintf(t, "  %s\t%s\tcuts %s\n", s.Pass+s.with, spacer, section(s.Area, units))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(w, "\nCommands for this job")
	for _, c := range v.Commands {
		fmt.Fprintf(w, "  %s\n", c)
	}
	fmt.Fprintln(w, "\nOrder of work")
	for i, s := range p.Steps {
		wrapped(w, fmt.Sprintf("%3d. ", i+1), say(s))
	}
	fmt.Fprintln(w, "\nTo know")
	for _, n := range p.Notes {
		wrapped(w, "  -  ", say(n))
	}
	_, err := fmt.Fprintf(w, "\n%s\n", cautionsAtTable)
	return err
}

// thick is a board's thickness: to 0.001 mm where it is measured so.
func thick(mm float64, units string) string {
	if units != "in" {
		return shortest(mm, 3) + " mm"
	}
	return sawn(mm, units)
}

// lineWidth is how many letters a line of prose has at most.
const lineWidth = 88

// wrapped prints a paragraph behind its mark, in lines for a page.
func wrapped(w io.Writer, mark, text string) {
	line, indent := mark, strings.Repeat(" ", len(mark))
	empty := true
	for _, word := range strings.Fields(text) {
		switch {
		case empty:
			line += word
		case len([]rune(line))+1+len([]rune(word)) > lineWidth:
			fmt.Fprintln(w, line)
			line = indent + word
		default:
			line += " " + word
		}
		empty = false
	}
	fmt.Fprintln(w, line)
}
