package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"blockwright/jig/adjust"
	"blockwright/jig/plate"
)

// A trialView is what a trial piece says, as JSON.
type trialView struct {
	Diameter float64    `json:"diameter_mm"`
	Scale    [2]float64 `json:"scale"` // travel for each mm commanded, x and y
	Backlash [2]float64 `json:"backlash_mm"`
	Steps    []float64  `json:"steps_per_mm,omitempty"` // to enter, where the old ones were given
	Skew     *float64   `json:"skew_deg"`               // null without diagonals
	Next     string     `json:"next"`
}

func newAdjustTrialCmd(s *streams) *cobra.Command {
	var join joinFlags
	sizes := map[string]*lengthFlag{}
	mill := lengthFlag{sign: positive}
	var rising, falling lengthFlag
	rising.sign, falling.sign = positive, positive
	var steps [2]float64
	names := []string{"big-x", "small-x", "window-x", "big-y", "small-y", "window-y"}
	cmd := &cobra.Command{
		Use:   "trial --mill D --big-x S --small-x S --window-x S --big-y S --small-y S --window-y S",
		Short: "From the sizes of the trial pieces",
		Long: fmt.Sprintf(`Trial reads the trial pieces (make trial): the outside of the frame, %g mm, its
window, %g, and the small square, %g, each along X and Y at the middle of the
sides, and the frame's two diagonals over its rounded corners. It tells apart the
diameter that the mill truly cuts, the travel of the machine for each mm that it is
told, the motion it loses at each turn, and the angle between its axes.

Write the diameter into the shop as the mill's measured one for the material, and
enter the steps per mm at the machine. Programs are never scaled.
%s`, plate.TrialBig, plate.TrialWindow, plate.TrialSmall, adjustStatus),
		Example: `  blockwright adjust trial --mill 3.175mm --big-x 99.96mm --small-x 59.97mm --window-x 60.05mm \
      --big-y 99.98mm --small-y 59.97mm --window-y 60.04mm`,
		Args: atMost(0, "arguments"),
		RunE: func(*cobra.Command, []string) error {
			sh, err := s.shop()
			if err != nil {
				return err
			}
			at := func(name string) float64 { return sizes[name].mm(sh.Units) }
			n := adjust.Nominal{Big: plate.TrialBig, Small: plate.TrialSmall, Window: plate.TrialWindow, Corner: plate.TrialCorner, Mill: mill.mm(sh.Units)}
			var up, down float64
			if rising.set || falling.set {
				up, down = rising.mm(sh.Units), falling.mm(sh.Units)
			}
			t, err := adjust.FromTrial(n, adjust.Axis{Big: at("big-x"), Small: at("small-x"), Window: at("window-x")},
				adjust.Axis{Big: at("big-y"), Small: at("small-y"), Window: at("window-y")}, up, down)
			if err != nil {
				return inShopUnits(err, sh.Units)
			}
			v := trialView{
				Diameter: t.Diameter, Scale: [2]float64{t.X.Scale, t.Y.Scale}, Backlash: [2]float64{t.X.Backlash, t.Y.Backlash},
				Next: "cut the trial again with the new diameter and steps: all sizes must come out as drawn within a few hundredths",
			}
			if steps[0] > 0 && steps[1] > 0 {
				v.Steps = []float64{steps[0] / t.X.Scale, steps[1] / t.Y.Scale}
			}
			if !math.IsNaN(t.Skew) {
				deg := t.Skew * 180 / math.Pi
				v.Skew = &deg
			}
			return s.result(v, func(w io.Writer) error { return printTrial(w, v, n.Mill, sh.Units) })
		},
	}
	join.which(cmd) // taken like everywhere; the trial is the same for every joint
	cmd.Flags().Var(&mill, "mill", "diameter that the program reckoned with")
	required := []string{"mill"}
	for _, name := range names {
		sizes[name] = &lengthFlag{sign: positive}
		cmd.Flags().Var(sizes[name], name, trialSays(name))
		required = append(required, name)
	}
	cmd.Flags().Var(&rising, "diagonal-rising", "from the lower left to the upper right corner of the frame")
	cmd.Flags().Var(&falling, "diagonal-falling", "from the upper left to the lower right corner")
	cmd.Flags().Var((*positiveFlag)(&steps[0]), "steps-x", "steps per mm of X in the machine now")
	cmd.Flags().Var((*positiveFlag)(&steps[1]), "steps-y", "steps per mm of Y in the machine now")
	cmd.MarkFlagsRequiredTogether("diagonal-rising", "diagonal-falling")
	cmd.MarkFlagsRequiredTogether("steps-x", "steps-y")
	for _, name := range required {
		if err := cmd.MarkFlagRequired(name); err != nil {
			panic(err)
		}
	}
	return cmd
}

// trialSays is what a size of the trial pieces is measured on.
func trialSays(name string) string {
	what, axis, _ := strings.Cut(name, "-")
	on := map[string]string{"big": "outside of the frame", "small": "outside of the small square", "window": "inside of the window"}[what]
	mm := map[string]float64{"big": plate.TrialBig, "small": plate.TrialSmall, "window": plate.TrialWindow}[what]
	return fmt.Sprintf("%s along %s, drawn as %gmm", on, strings.ToUpper(axis), mm)
}

func printTrial(w io.Writer, v trialView, mill float64, units string) error {
	fmt.Fprintf(w, "the mill cuts   %s wide; the program reckoned with %s\n", inUnits(v.Diameter, units), inUnits(mill, units))
	for i, axis := range []string{"X", "Y"} {
		fmt.Fprintf(w, "axis %s          travels %.5f mm for each mm, loses %s at each turn\n", axis, v.Scale[i], inUnits(v.Backlash[i], units))
		if v.Steps != nil {
			fmt.Fprintf(w, "                enter %.4f steps per mm\n", v.Steps[i])
		} else if math.Abs(v.Scale[i]-1) > 2e-4 {
			fmt.Fprintf(w, "                divide its steps per mm by %.5f\n", v.Scale[i])
		}
	}
	if v.Skew != nil {
		fmt.Fprintf(w, "the axes stand  %.3f° from square\n", *v.Skew)
	}
	fmt.Fprintf(w, "next: %s\n", v.Next)
	return nil
}
