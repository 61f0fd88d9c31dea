package main

import (
	"fmt"
	"io"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
)

func newCutterCompareCmd(s *streams) *cobra.Command {
	var j jointFlags
	stock := lengthFlag{sign: positive}
	cmd := &cobra.Command{
		Use:   "compare CUTTER CUTTER",
		Short: "Lay one cutter's profile on another's",
		Long: `Compare lays the second profile on the first: a cutter that has been ground again on
what it was, a scan on the maker's drawing. They stand on one axis with h = 0 at one
height, and the heights that both have are compared: the largest distance, square to
the profiles, the root of the mean square, and how the centre has moved. Then the
second is laid on the first as well as it goes, which tells a cutter that was ground
away evenly from one of another shape. Where radii or heights of one are known only up
to a shift, it is laid that way from the start.

With --stock, for cutters that join boards: what the second does at the height and
fence of the first, and the gap that it leaves at its own. --side, --overlay, --land,
--skim, --with and --at as for 'blockwright setting'.

Exit status is 0 when both were compared, 1 if they cannot be, 3 for a wrong command
line and 4 if the shop or a cutter is missing or cannot be read.`,
		Example: "  blockwright cutter compare ridge-lock ridge-lock-ground --stock 19mm",
		Args:    exactly(2, "handle"),
		RunE: func(_ *cobra.Command, args []string) error {
			sh, err := s.shop()
			if err != nil {
				return err
			}
			var c [2]*cutter.Cutter
			for i := range c {
				if c[i], err = cutter.Find(sh.Dir, args[i]); err != nil {
					return err
				}
			}
			d, err := joint.Compare(c[0], c[1])
			if err != nil {
				return err
			}
			v := viewDifference(c, d)
			if stock.set {
				var set [2]*joint.Setting
				if d.Shift != ([2]float64{}) {
					// What is not known of the one is taken from the other: both stand
					// alike, as a block would set them.
					moved := *c[1]
					moved.Profile = moved.Profile.Move(geom.Shift(d.Shift[0], d.Shift[1]))
					moved.Body = moved.Body.Move(geom.Shift(d.Shift[0], d.Shift[1]))
					c[1] = &moved
				}
				for i := range c {
					request, err := j.request(sh, c[i])
					if err != nil {
						return err
					}
					if set[i], err = joint.Solve(request(stock.mm(sh.Units))); err != nil {
						return fmt.Errorf("%s: %w", c[i].Handle, inShopUnits(err, sh.Units))
					}
				}
				e, err := joint.Meeting(set[0], set[1])
				if err != nil {
					return err
				}
				own, was := set[1].With(0, 0), set[0].With(0, 0)
				v.Joint = &meetingView{
					Stock: stock.mm(sh.Units), DZ: e.Error.DZ, E: e.Error.E, Flip: e.FlipTop, Tip: e.Tips[0].Short,
					Gap: e.Flush.Normal, Clash: e.Flush.Interference, FirstGap: was.Flush.Normal, OwnGap: own.Flush.Normal, OwnClash: own.Flush.Interference,
				}
				if e.Corner != nil {
					v.Joint.Face, v.Joint.End = e.Corner.FaceStep, e.Corner.EndStep
				}
			}
			return s.result(v, func(w io.Writer) error { return printDifference(w, v, sh.Units) })
		},
	}
	j.add(cmd)
	cmd.Flags().Var(&stock, "stock", "thickness of the boards: say what it does to the joint")
	return cmd
}

// A differenceView is a comparison as JSON.
type differenceView struct {
	First    string       `json:"first"`
	Second   string       `json:"second"`
	Heights  [2]float64   `json:"heights_mm"`
	Largest  float64      `json:"largest_mm"`
	At       [2]float64   `json:"at_mm"`
	RMS      float64      `json:"rms_mm"`
	Shift    [2]float64   `json:"shift_mm"` // by which the second was moved before, along what is not known
	Centre   *[2]float64  `json:"centre_change_mm"`
	Laid     laidView     `json:"laid"`
	Joint    *meetingView `json:"joint,omitempty"`
	unsure   [2]bool
	shiftAny bool
}

type laidView struct {
	Shift   [2]float64 `json:"shift_mm"`
	Largest float64    `json:"largest_mm"`
	RMS     float64    `json:"rms_mm"`
}

// A meetingView is what the second cutter does where the first one was set.
type meetingView struct {
	Stock    float64 `json:"stock_mm"`
	DZ       float64 `json:"dz_mm"`
	E        float64 `json:"e_mm"`
	Flip     float64 `json:"flip_mm"`
	Tip      float64 `json:"tip_mm"`
	Face     float64 `json:"face_mm"`
	End      float64 `json:"end_mm"`
	Gap      float64 `json:"gap_mm"`
	Clash    float64 `json:"interference_mm"`
	FirstGap float64 `json:"first_gap_mm"`
	OwnGap   float64 `json:"own_gap_mm"`
	OwnClash float64 `json:"own_interference_mm"`
}

func viewDifference(c [2]*cutter.Cutter, d *joint.Difference) *differenceView {
	v := &differenceView{
		First: c[0].Handle, Second: c[1].Handle, Heights: d.Heights,
		Largest: d.Apart.Largest, At: d.Apart.At, RMS: d.Apart.RMS, Shift: d.Shift,
		Laid: laidView{d.Lay, d.Best.Largest, d.Best.RMS},
	}
	for k := range 2 {
		v.unsure[k] = !c[0].Known[k] || !c[1].Known[k]
		v.shiftAny = v.shiftAny || v.unsure[k]
	}
	if d.Centred {
		v.Centre = &[2]float64{d.Change[0], d.Change[1]}
	}
	return v
}

func printDifference(w io.Writer, v *differenceView, units string) error {
	in := func(mm float64) string { return inUnits(mm+0, units) }
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	line := func(what, format string, a ...any) { fmt.Fprintf(t, "  "+what+"\t"+format+"\n", a...) }
	fmt.Fprintf(t, "%s laid on %s, heights %s to %s\n", v.Second, v.First, in(v.Heights[0]), in(v.Heights[1]))
	if v.shiftAny {
		line("moved", "radius %s, height %s: what is known only up to a shift is laid first", in(v.Shift[0]), in(v.Shift[1]))
	}
	if v.Largest < 5e-7 {
		line("largest", "%s: the profiles are one", in(0))
	} else {
		line("largest", "%s, at radius %s, height %s", in(v.Largest), in(v.At[0]), in(v.At[1]))
	}
	line("RMS", "%s", in(v.RMS))
	if v.Centre != nil {
		line("centre moved", "radius %s, height %s", changed(v.Centre[0], v.unsure[0], in), changed(v.Centre[1], v.unsure[1], in))
	} else {
		line("centre", "a profile has none")
	}
	line("laid best", "moved by radius %s, height %s", in(v.Laid.Shift[0]), in(v.Laid.Shift[1]))
	line("then", "largest %s, RMS %s", in(v.Laid.Largest), in(v.Laid.RMS))
	if j := v.Joint; j != nil {
		fmt.Fprintf(t, "\n%s in boards of %s\n", v.Second, in(j.Stock))
		line(fmt.Sprintf("at %s's setting", v.First), "height off by %s, fence by %s", in(j.DZ), in(j.E))
		line("flip step", "%s", in(j.Flip))
		if j.Tip < 0 {
			line("tip", "a land of %s left on it", in(-j.Tip))
		} else {
			line("tip", "shorter by %s", in(j.Tip))
		}
		line("corner", "outside face %s, end %s", in(j.Face), in(j.End))
		line("gap, clash", "%s, %s held flush", in(j.Gap), in(j.Clash))
		line("at its own setting", "gap %s, clash %s held flush; %s's gap is %s", in(j.OwnGap), in(j.OwnClash), v.First, in(j.FirstGap))
	}
	if v.Joint == nil && v.Centre != nil {
		line("joint", "what the change does to one: --stock with a thickness")
	}
	return t.Flush()
}

func changed(mm float64, unsure bool, in func(float64) string) string {
	if unsure {
		return "not known"
	}
	return in(mm)
}
