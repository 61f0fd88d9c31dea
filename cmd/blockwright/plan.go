package main

import (
	"fmt"
	"io"
	"slices"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"blockwright/jig/plan"
)

func newPlanCmd(s *streams) *cobra.Command {
	return group(&cobra.Command{
		Use:   "plan",
		Short: "Plan which board gets which pass",
		Long: `Plan gives the cut list of a job: pieces with their pass and faces, blanks wide
enough to rip after milling, test pieces, fence stages with their spacers, and the
order of work.

` + cautions,
	}, newPlanBoxCmd(s), newPlanPostCmd(s), newPlanPanelCmd(s))
}

const planStatus = `
Exit status is 0 with a plan, 1 if the sizes or the joint do not allow it, 3 for a
wrong command line and 4 if shop or cutter cannot be read.`

// sizeFlags are lengths by name, with what they mean and what holds without them.
type sizeFlags map[string]*lengthFlag

func (f sizeFlags) add(cmd *cobra.Command, name, use, otherwise string, sign signs) {
	l := &lengthFlag{text: otherwise, sign: sign}
	f[name] = l
	cmd.Flags().Var(l, name, use)
	if otherwise == "" {
		if err := cmd.MarkFlagRequired(name); err != nil {
			panic(err)
		}
	}
}

// addSaw adds the flags for ripping.
func (f sizeFlags) addSaw(cmd *cobra.Command) {
	f.add(cmd, "kerf", "width of the saw's kerf", "3mm", notNegative)
	f.add(cmd, "edge", "allowance on both edges of a blank", "12mm", notNegative)
}

func (f sizeFlags) saw(units string) plan.Saw {
	return plan.Saw{Kerf: f["kerf"].mm(units), Edge: f["edge"].mm(units)}
}

func newPlanBoxCmd(s *streams) *cobra.Command {
	var join joinFlags
	f := sizeFlags{}
	cmd := &cobra.Command{
		Use:   "box --cutter CUTTER --stock T --length L --width W --height H",
		Short: "A box with four corners of one kind",
		Long: `Box plans a box of the given outside sizes: two opposite sides are cut flat, the
other two upright, so that no side has one pass of each kind.
` + planStatus,
		Example: "  blockwright plan box --cutter ridge-lock --stock 19mm --length 400mm --width 250mm --height 120mm --bottom 6mm",
		Args:    atMost(0, "arguments"),
		RunE: func(*cobra.Command, []string) error {
			set, sh, err := join.solve(s)
			if err != nil {
				return err
			}
			u := sh.Units
			p, err := plan.Box{
				Length: f["length"].mm(u), Width: f["width"].mm(u), Height: f["height"].mm(u), Setting: set, Saw: f.saw(u),
				Bottom: f["bottom"].mm(u), Groove: f["groove"].mm(u), Up: f["up"].mm(u),
			}.Plan()
			return planned(s, p, err, u)
		},
	}
	join.add(cmd)
	f.add(cmd, "length", "outside length", "", positive)
	f.add(cmd, "width", "outside width", "", positive)
	f.add(cmd, "height", "height of the sides", "", positive)
	f.add(cmd, "bottom", "thickness of a bottom in grooves", "0mm", notNegative)
	f.add(cmd, "groove", "depth of its grooves (a third of the sides)", "0mm", notNegative)
	f.add(cmd, "up", "height of the grooves above the lower edge", "0mm", notNegative)
	f.addSaw(cmd)
	return cmd
}

func newPlanPostCmd(s *streams) *cobra.Command {
	var join joinFlags
	f := sizeFlags{}
	cmd := &cobra.Command{
		Use:   "post --cutter CUTTER --stock T --size S --length L",
		Short: "A hollow square post, mitered along the grain",
		Long:  "Post plans four staves with the corner joint along the grain.\n" + planStatus,
		Args:  atMost(0, "arguments"),
		RunE: func(*cobra.Command, []string) error {
			set, sh, err := join.solve(s)
			if err != nil {
				return err
			}
			p, err := plan.Post{Size: f["size"].mm(sh.Units), Length: f["length"].mm(sh.Units), Setting: set, Saw: f.saw(sh.Units)}.Plan()
			return planned(s, p, err, sh.Units)
		},
	}
	join.add(cmd)
	f.add(cmd, "size", "outside size of the square", "", positive)
	f.add(cmd, "length", "length of the post", "", positive)
	f.addSaw(cmd)
	return cmd
}

func newPlanPanelCmd(s *streams) *cobra.Command {
	var join joinFlags
	f := sizeFlags{}
	boards := 0
	cmd := &cobra.Command{
		Use:   "panel --cutter CUTTER --stock T --width W --length L --boards N",
		Short: "A panel glued up edge to edge",
		Long: `Panel plans boards for an edge joint: one edge of each with the good face down, the
other with it up; every joint takes its interlock off the width.
` + planStatus,
		Args: atMost(0, "arguments"),
		RunE: func(*cobra.Command, []string) error {
			set, sh, err := join.solve(s)
			if err != nil {
				return err
			}
			p, err := plan.Panel{Width: f["width"].mm(sh.Units), Length: f["length"].mm(sh.Units), Boards: boards, Setting: set, Saw: f.saw(sh.Units)}.Plan()
			return planned(s, p, err, sh.Units)
		},
	}
	join.add(cmd)
	f.add(cmd, "width", "finished width", "", positive)
	f.add(cmd, "length", "finished length", "", positive)
	cmd.Flags().IntVar(&boards, "boards", 0, "number of boards")
	if err := cmd.MarkFlagRequired("boards"); err != nil {
		panic(err)
	}
	f.addSaw(cmd)
	return cmd
}

// The plan as JSON.
type planView struct {
	Title  string      `json:"title"`
	Pieces []pieceView `json:"pieces"`
	Blanks []blankView `json:"blanks"`
	Stages []stageView `json:"stages"` // of the first pass, and of the others where they differ
	Steps  []string    `json:"steps"`
	Notes  []string    `json:"notes"`
	Stock  float64     `json:"stock_m2"`
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
	For    string  `json:"for"`
	Width  float64 `json:"width_mm"`
	Length float64 `json:"length_mm"`
	Count  int     `json:"count"`
}

type stageView struct {
	Pass   string  `json:"pass"`
	Spacer float64 `json:"spacer_mm"`
	Area   float64 `json:"area_mm2"`
}

func planned(s *streams, p *plan.Plan, err error, units string) error {
	if err != nil {
		return err
	}
	v := planView{Title: p.Title, Steps: p.Steps, Notes: p.Notes, Stock: p.Stock}
	for _, q := range p.Pieces {
		v.Pieces = append(v.Pieces, pieceView(q))
	}
	for _, b := range p.Blanks {
		v.Blanks = append(v.Blanks, blankView(b))
	}
	var first []plan.Stage
	for _, q := range p.Pieces {
		stages, ok := p.Stages[q.Pass]
		if !ok || slices.ContainsFunc(v.Stages, func(s stageView) bool { return s.Pass == q.Pass }) || slices.Equal(first, stages) {
			continue
		}
		if first == nil {
			first = stages
		}
		for _, st := range stages {
			v.Stages = append(v.Stages, stageView{q.Pass, st.Spacer, st.Area})
		}
	}
	return s.result(v, func(w io.Writer) error { return printPlan(w, v, units) })
}

func printPlan(w io.Writer, v planView, units string) error {
	fmt.Fprintf(w, "%s\n\nPieces\n", v.Title)
	t := tabwriter.NewWriter(w, 0, 4, 2, ' ', 0)
	for _, p := range v.Pieces {
		fmt.Fprintf(t, "  %s\t%d ×\t%s\t%s\t%s\t%s\t%s\n", p.Label, p.Count, shortUnits(p.Length, units), shortUnits(p.Width, units), shortUnits(p.Thickness, units), p.Pass, p.Face)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(w, "\nBlanks, to be ripped after milling")
	for _, b := range v.Blanks {
		fmt.Fprintf(t, "  %s\t%d ×\t%s long\t%s wide\n", b.For, b.Count, shortUnits(b.Length, units), shortUnits(b.Width, units))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintf(w, "  %.2f m² of board in all\n\nFence stages, the height unchanged\n", v.Stock)
	for _, s := range v.Stages {
		fmt.Fprintf(t, "  %s\tspacer %s\tcuts %.0f mm²\n", s.Pass, shortUnits(s.Spacer, units), s.Area)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	fmt.Fprintln(w, "\nOrder of work")
	for i, s := range v.Steps {
		fmt.Fprintf(w, "  %d. %s\n", i+1, s)
	}
	fmt.Fprintln(w, "\nTo know")
	for _, n := range v.Notes {
		fmt.Fprintf(w, "  - %s\n", n)
	}
	_, err := fmt.Fprintf(w, "\n%s\n", cautions)
	return err
}
