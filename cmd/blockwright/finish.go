package main

import (
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"blockwright/jig/adjust"
	"blockwright/jig/cutter"
	"blockwright/jig/shelf"
	"blockwright/posts"
)

func newFinishCmd(s *streams) *cobra.Command {
	var w witnessFlag
	cmd := &cobra.Command{
		Use:   "finish ID --witness X,Y",
		Short: "Write the finishing program of a fixture from two measured sizes",
		Long: `Finish is the second half of 'make … --finish measured'. The first program leaves
0.2 mm on the walls, mills a witness beside the plates and stops with everything
still held. Leave the sheet clamped, take the power from the spindle, free the
witness's edges of fuzz, and read two sizes with a caliper, in the middle of the
flats: across X and across Y. make said what a perfect mill leaves.

From both follow the diameter that the mill truly cuts, runout included, and the
motion that the axes lose when they turn: the flats across X were approached from
outside and those across Y from inside, so lost motion makes X larger and Y smaller
while a wide mill makes both smaller. One figure is taken for both axes; where they
differ, walls that look along X are right all the same, and walls that look along Y
are off by half the difference, all to the same side of the waste.

The second program mills every wall to its size, with both in it. Run it with the
same zero. Then the witness must measure what finish says.

The fixture is looked up on the shop's shelf. Where make wrote to a folder, ask make
again with --finish measured --witness X,Y --out FOLDER.

` + causesText() + `
` + cautions + `

Exit status is 0 when the program was written, 1 for sizes that cannot be and for a
fixture that was not made so or has changed, 3 for a wrong command line and 4 if a
file is missing or cannot be read or written.`,
		Example: "  blockwright finish ridge-lock-19mm-block --witness 40.32mm,60.22mm",
		Args:    exactly(1, "fixture ID"),
		RunE: func(cmd *cobra.Command, args []string) error {
			sh, err := s.shop()
			if err != nil {
				return err
			}
			onShelf := shelf.Open(sh.Dir)
			rec, err := onShelf.Load(args[0])
			if err != nil {
				return err
			}
			if rec.Inputs.Finish != posts.FinishMeasured {
				return fmt.Errorf("fixture %s was made to be finished in one program; want one made with --finish measured", rec.ID)
			}
			find := func(handle string) (*cutter.Cutter, error) { return cutter.Find(sh.Dir, handle) }
			r, err := posts.Recall(rec.Inputs, sh, find, version)
			if err != nil {
				return err
			}
			x, y := w.mm(sh.Units)
			f, files, reports, err := posts.Finish(cmd.Context(), r, rec.File, x, y)
			if err != nil {
				return inShopUnits(err, sh.Units)
			}
			st := f.Stage(x, y)
			st.Made = today(s.env)
			if err := onShelf.AddStage(cmd.Context(), rec.ID, st, files); err != nil {
				return err
			}
			m := viewMade(f, reports)
			for _, ext := range slices.Sorted(maps.Keys(files)) {
				m.Files = append(m.Files, onShelf.Path(rec.ID, rec.ID+"."+ext))
			}
			return s.result(m, func(out io.Writer) error {
				printFinish(out, m, sh.Units, [2]float64{x, y})
				_, err := fmt.Fprintf(out, "\n%s\n", cautions)
				return err
			})
		},
	}
	cmd.Flags().Var(&w, "witness", "sizes of the witness as measured, across X and across Y")
	if err := cmd.MarkFlagRequired("witness"); err != nil {
		panic(err)
	}
	return cmd
}

// A witnessView is the witness of a measured fixture: what a perfect mill leaves.
type witnessView struct {
	X float64 `json:"x_mm"`
	Y float64 `json:"y_mm"`
}

// A finishView is what the witness said.
type finishView struct {
	Diameter float64 `json:"diameter_mm"`
	Wider    float64 `json:"wider_mm"`
	Backlash float64 `json:"backlash_mm"`
	CheckX   float64 `json:"check_x_mm"` // what the witness measures afterwards
	CheckY   float64 `json:"check_y_mm"`
}

// measuredViews are the JSON of both programs of a measured fixture.
func measuredViews(f *posts.Fixture) (*witnessView, *finishView) {
	if f.Witness == nil {
		return nil, nil
	}
	w := &witnessView{f.Witness.X, f.Witness.Y}
	found := f.Request.Found
	if found == nil {
		return w, nil
	}
	b := f.Plates[len(f.Plates)-1].Wall.Bound()
	return w, &finishView{found.Diameter, found.Diameter - f.Diameter, found.Backlash, b.Max[0] - b.Min[0], b.Max[1] - b.Min[1]}
}

// printWitness says after the first program what to measure.
func printWitness(w io.Writer, m madeFixture, units string) {
	fmt.Fprintf(w, "  first       leaves %s on the walls; then, still clamped, power off: measure the witness\n", inUnits(m.fixture.Witness.Left, units))
	fmt.Fprintf(w, "  measure     X and Y in the middle of its flats; a perfect mill leaves X %s, Y %s\n", inUnits(m.Witness.X, units), inUnits(m.Witness.Y, units))
	fmt.Fprintf(w, "  then        blockwright finish %s --witness X,Y\n", m.ID)
}

// printFinish tells of the second program.
func printFinish(w io.Writer, m madeFixture, units string, sizes [2]float64) {
	f := m.fixture
	fmt.Fprintf(w, "%s  %s, finishing\n", m.ID, f.Title)
	fmt.Fprintf(w, "  measured    X %s, Y %s; a perfect mill leaves X %s, Y %s\n", inUnits(sizes[0], units), inUnits(sizes[1], units), inUnits(m.Witness.X, units), inUnits(m.Witness.Y, units))
	fmt.Fprintf(w, "  end mill    %s, cuts %s, %s than reckoned, runout included\n", f.Mill.Name, inUnits(m.Finish.Diameter, units), moreOrLess(m.Finish.Wider, units))
	fmt.Fprintf(w, "  backlash    %s lost where an axis turns; the program makes up for it\n", inUnits(m.Finish.Backlash, units))
	fmt.Fprintf(w, "  Z zero      the first program's, X and Y too; about %s\n", posts.ClockTime(m.Seconds))
	fmt.Fprintf(w, "  proved      gouge %s, leftover %s off the tabs\n", tiny(m.Gouge, units), tiny(m.Leftover, units))
	for _, h := range f.Hints {
		fmt.Fprintf(w, "  note        %s\n", h)
	}
	fmt.Fprintf(w, "  files       %s\n", filepath.Dir(m.Files[0]))
	for _, p := range m.Files {
		fmt.Fprintf(w, "    %s\n", filepath.Base(p))
	}
	fmt.Fprintf(w, "  afterwards  the witness must measure X %s, Y %s\n", inUnits(m.Finish.CheckX, units), inUnits(m.Finish.CheckY, units))
	fmt.Fprintf(w, "  mill next   %s as the mill's measured diameter in shop.toml spares the measuring\n", inUnits(m.Finish.Diameter, units))
	fmt.Fprintf(w, "\n%s", causesText())
}

func moreOrLess(mm float64, units string) string {
	if mm < 0 {
		return inUnits(-mm, units) + " less"
	}
	return inUnits(mm, units) + " more"
}

// causesText is the checklist of what makes a milled size wrong.
func causesText() string {
	var b strings.Builder
	b.WriteString("If a fixture is off by 0.05 to 0.2 mm, what decides between the causes:\n")
	for _, c := range adjust.Causes() {
		fmt.Fprintf(&b, "\n  %s: %s\n", c.Name, c.Shows)
		fmt.Fprintf(&b, "    decides  %s\n", c.Decides)
		fmt.Fprintf(&b, "    do       %s\n", c.Do)
	}
	return b.String()
}
