package main

import (
	"fmt"
	"math"

	"blockwright/jig/cutter"
	"blockwright/jig/joint"
)

// A speedView is what is said of a cutter's speed, as JSON. What is not stated or
// not known is null.
type speedView struct {
	Cutter   string   `json:"cutter"`
	Diameter *float64 `json:"diameter_mm"`
	MaxRPM   *float64 `json:"max_rpm"`    // as marked on the cutter
	Rim      *float64 `json:"rim_mps"`    // metres a second at the marked speed
	Common   *float64 `json:"common_rpm"` // common practice for the diameter
	Warning  string   `json:"warning,omitempty"`
}

// cuttersOf are the cutters of a setting, each once.
func cuttersOf(set *joint.Setting) []*cutter.Cutter {
	out := []*cutter.Cutter{set.Request.Cutter}
	if w := set.Request.With; w != nil && w.Handle != out[0].Handle {
		out = append(out, w)
	}
	return out
}

func viewSpeeds(set *joint.Setting) []speedView {
	var out []speedView
	for _, c := range cuttersOf(set) {
		v := speedView{
			Cutter: c.Handle, MaxRPM: orNull(c.MaxRPM), Rim: orNull(c.RimSpeed(c.MaxRPM)), Common: orNull(c.CommonSpeed()),
			Warning: tooFast(c),
		}
		if c.Known[0] {
			d := 2 * c.MaxRadius()
			v.Diameter = &d
		}
		out = append(out, v)
	}
	return out
}

// tooFast warns of a marking above what common practice gives the diameter.
func tooFast(c *cutter.Cutter) string {
	if common := c.CommonSpeed(); common > 0 && c.MaxRPM > common {
		return fmt.Sprintf("the marking is above common practice for this diameter, %.0f rpm", common)
	}
	return ""
}

// speeds says how fast the cutters may run.
func (t *settingText) speeds() {
	for _, c := range cuttersOf(t.set) {
		who := "The cutter"
		if t.set.Request.With != nil {
			who = c.Name
		}
		common := c.CommonSpeed()
		switch {
		case c.MaxRPM > 0:
			t.line("  %s's file states at most %.0f rpm; its own marking comes first.", who, c.MaxRPM)
			if v := c.RimSpeed(c.MaxRPM); v > 0 {
				t.line("  At that speed its rim runs %s.", t.perTime(v))
			}
		case common > 0:
			t.line("  %s's file states no highest speed: read it off the cutter. Common practice for", who)
			t.line("  its diameter is at most %.0f rpm; tables differ.", common)
		default:
			t.line("  %s's file states no highest speed: read it off the cutter.", who)
		}
		if tooFast(c) != "" {
			t.line("  Warning: common practice for a diameter of %s is at most %.0f rpm; tables differ.", t.short(2*c.MaxRadius()), common)
			t.line("  Stay below it unless the cutter's maker says otherwise.")
		}
	}
}

// perTime is a rim's speed as the shop's people say it.
func (t *settingText) perTime(mps float64) string {
	if t.units == "in" {
		return fmt.Sprintf("%.0f feet a minute", math.Round(mps/0.3048*60/10)*10)
	}
	return fmt.Sprintf("%.1f m/s", mps)
}
