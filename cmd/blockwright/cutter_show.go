package main

import (
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
)

func newCutterShowCmd(s *streams) *cobra.Command {
	return &cobra.Command{
		Use:   "show HANDLE",
		Short: "Describe a cutter",
		Long: `Show prints a cutter's sizes, its profile edge by edge, and for a cutter that joins
boards the centre of its profile and the thicknesses of stock that it joins.

Exit status is 0 when the cutter was read, 1 if its file has faults, 3 for a wrong
command line and 4 if the shop or the cutter is missing or cannot be read.`,
		Example: "  blockwright cutter show ridge-lock",
		Args:    exactly(1, "handle"),
		RunE:    func(_ *cobra.Command, args []string) error { return showCutter(s, args[0]) },
	}
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

func showCutter(s *streams, handle string) error {
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
	return s.result(v, printCutter(v, c, sh.Units))
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
