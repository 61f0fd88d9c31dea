package main

import (
	"cmp"
	"path/filepath"
	"slices"

	"github.com/google/renameio/v2"
	"github.com/paulmach/orb"
	"github.com/spf13/cobra"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
	"blockwright/posts"
)

func newCutterShowCmd(s *streams) *cobra.Command {
	var drawing folderFlag
	stock := lengthsFlag{sign: positive}
	cmd := &cobra.Command{
		Use:   "show HANDLE",
		Short: "Describe a cutter",
		Long: `Show prints a cutter's sizes, its profile edge by edge, and for a cutter that joins
boards the centre of its profile and the thicknesses of stock that it joins. --drawing
draws it, and the boards as each pass cuts them, the cutter in its place: for the
thicknesses of --stock, else for the ends and the middle of its range.

Exit status is 0 when the cutter was read, 1 if its file has faults or a thickness is
none that it joins, 3 for a wrong command line and 4 if the shop or the cutter is
missing or cannot be read, or the drawing cannot be written.`,
		Example: `  blockwright cutter show ridge-lock
  blockwright cutter show ridge-lock --drawing ridge-lock.svg --stock 18mm,3/4in`,
		Args: exactly(1, "handle"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := wantEnding(cmd, "drawing", drawing.path, ".svg"); err != nil {
				return err
			}
			return showCutter(s, args[0], drawing.path, &stock)
		},
	}
	cmd.Flags().Var(&drawing, "drawing", "write a drawing of the cutter, and of boards cut with it, to this SVG `file`")
	cmd.Flags().Var(&stock, "stock", "`thickness` of the boards that are drawn; several as a comma list")
	return cmd
}

// A cutterView describes a cutter. What the cutter's file or joint does not state
// is null.
type cutterView struct {
	Cutter   string      `json:"cutter"`
	File     string      `json:"file"`
	Name     string      `json:"name"`
	Joint    string      `json:"joint"`
	Units    string      `json:"units"`
	Known    [2]bool     `json:"known"`
	Traced   *sureView   `json:"traced,omitempty"` // what the profile rests on
	Shank    *float64    `json:"shank_mm"`
	MaxRPM   *float64    `json:"max_rpm"`
	Edge     [2]float64  `json:"edge_mm"` // heights of the cutting edge's ends
	Radius   float64     `json:"radius_mm"`
	Whole    [2]float64  `json:"heights_mm"` // of edge and body together
	Profile  [][]float64 `json:"profile_mm"`
	Body     [][]float64 `json:"body_mm"`
	Centre   *[2]float64 `json:"centre_mm"`
	Residual *float64    `json:"residual_mm"`
	Range    *[2]float64 `json:"range_mm"`
	Usable   *[2]float64 `json:"usable_mm"`
	Note     string      `json:"note,omitempty"` // why there is no range
}

func showCutter(s *streams, handle, drawing string, stock *lengthsFlag) error {
	sh, err := s.shop()
	if err != nil {
		return err
	}
	c, err := cutter.Find(sh.Dir, handle)
	if err != nil {
		return err
	}
	v := viewCutter(c, sh.Defaults.Web)
	v.File = filepath.Join(sh.Dir, cutter.Folder, handle+".toml")
	if drawing != "" {
		if err := drawCutter(drawing, c, v, stock.mm(sh.Units), sh.Defaults.Web, sh.Units); err != nil {
			return err
		}
	}
	return s.result(v, printCutter(v, c, sh.Units))
}

// drawCutter writes the drawing of a cutter and of boards of the thicknesses, mm, whole
// or not at all. Without thicknesses it takes the ends and the middle of its range.
func drawCutter(path string, c *cutter.Cutter, v *cutterView, stocks []float64, web float64, units string) error {
	if r := cmp.Or(v.Usable, v.Range); len(stocks) == 0 && r != nil {
		stocks = []float64{r[0], (r[0] + r[1]) / 2, r[1]}
	}
	var sets []*joint.Setting
	for _, t := range stocks {
		set, err := joint.Solve(joint.Request{Cutter: c, Stock: t, Web: max(web, leastWeb)})
		if err != nil {
			return inShopUnits(err, units)
		}
		sets = append(sets, set)
	}
	var centre *orb.Point
	if v.Centre != nil {
		centre = &orb.Point{v.Centre[0], v.Centre[1]}
	}
	text := posts.CutterDrawing(c, centre, sets, units)
	if err := renameio.WriteFile(path, text, 0o644, renameio.WithTempDir(filepath.Dir(path))); err != nil {
		return &fileError{err}
	}
	return nil
}

func viewCutter(c *cutter.Cutter, web float64) *cutterView {
	v := &cutterView{
		Cutter: c.Handle, Name: c.Name, Joint: c.Joint, Units: c.Units, Known: c.Known, Traced: viewTraced(c),
		Shank: orNull(c.Shank), MaxRPM: orNull(c.MaxRPM),
		Edge: [2]float64{c.Bottom(), c.Top()}, Radius: c.MaxRadius(), Whole: [2]float64{c.Lowest(), c.Highest()},
		Profile: pointList(c.Profile), Body: pointList(c.Body),
	}
	if !slices.Contains(joint.Kinds(), c.Joint) {
		v.Note = "no setting is worked out for " + c.Joint
		return v
	}
	switch c.Joint {
	case "matched":
		v.Note = "depends on the set's other cutter: ask 'setting --with'"
		return v
	case "edge":
		v.Note = "any: a plain edge, set by 'setting --at'"
		return v
	}
	set, err := joint.Limits(c, max(web, leastWeb))
	if err != nil {
		v.Note = err.Error()
		return v
	}
	v.Centre, v.Residual = &[2]float64{set.Centre[0], set.Centre[1]}, &set.Residual
	if set.Range[0] > set.Range[1] {
		v.Note = "joins no stock: its lock is wider than its edge reaches; the flanks on both sides of the lock belong on one line through the centre"
		return v
	}
	v.Range = &set.Range
	if set.Usable[0] < set.Usable[1] {
		v.Usable = &set.Usable
	}
	return v
}

// orNull is nil for a number that a file does not state.
func orNull(v float64) *float64 {
	if v == 0 {
		return nil
	}
	return &v
}

// pointList is a path as a cutter's file states it.
func pointList(p geom.Path) [][]float64 {
	out := [][]float64{}
	for _, v := range p.V {
		item := []float64{v.X(), v.Y()}
		if v.Bulge != 0 {
			item = append(item, v.Bulge)
		}
		out = append(out, item)
	}
	return out
}
