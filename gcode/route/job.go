package route

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"blockwright/gcode"
	"blockwright/geom"
)

// A Job is one plate on the sheet, placed.
type Job struct {
	Name      string      // for errors and notes
	Wall      geom.Region // what the mill shall leave
	Drill     []geom.Path // bores: circles, cut on the inside
	Engrave   []geom.Path // lines of the engraving program
	Keep      []geom.Path // seats, lying on the wall: no tab, no lead
	Bare      []geom.Path // stretches of wall that get no tab, though they are no seats
	Pockets   []Pocket    // cleared before anything but bores is cut
	AsComes   []geom.Path // no tab and no lead either, but met as the way comes, without what Overtravel does
	Stage     Stage       // which passes the program has
	Tabs      []geom.Path // Finishing: the stretches of wall that roughing left as tabs
	Room      float64     // mm: a kerf this wide is cut along Keep and AsComes, for the jaws of a caliper; 0 = none
	Thick     float64     // mm, of the sheet
	Allowance float64     // mm, left on the wall by roughing
	Climb     bool        // finish with the wall on the tool's right
}

// The ways to hold a plate until it is cut out.
const (
	Tabs   = "tabs"   // bridges to the sheet on free edges of the outline
	Screws = "screws" // a pause after the bores, to screw through them
	Skin   = "skin"   // the walls stop short of the sheet's underside
)

// A Tool is one mill and how it is used; one program has one tool. Every figure
// counts as it stands: [Usual] gives common values to start from.
type Tool struct {
	Diameter    float64 // mm, the width it truly cuts
	FluteLength float64 // mm; 0 = not stated
	RPM         float64
	Flutes      int     // 0 = not stated: no hint about thin chips
	Feed        float64 // mm/min along the path
	Plunge      float64 // mm/min downward
	StepDown    float64 // mm, deepest single step of roughing

	SafeZ     float64 // mm above the sheet, where rapids run
	Through   float64 // mm into the spoilboard, at most 0.5
	RampAngle float64 // degrees, steepest way into uncut sheet, at most 5
	ZeroTop   bool    // Z zero on the sheet's top, else on the spoilboard
	KerfExtra float64 // mm, how much wider than the mill the roughed kerf is; no more than the mill's radius is used

	Hold      string  // Tabs, Screws or Skin
	Tabs      int     // per plate, at least 2
	TabWidth  float64 // mm of sheet left between the two ends of the cut
	TabHeight float64 // mm of sheet left under the mill
	Skin      float64 // mm of sheet left under the walls

	Spring bool // run the finishing pass twice
	// Overtravel is how far in mm the finishing pass runs on past its beginning,
	// and by how much, within the roughed kerf, the line of a seat is passed so
	// that every seat is approached from the waste; 0 = as it comes.
	Overtravel float64

	EngraveDepth float64 // mm, for [Engrave], at most 0.5

	Sheet orb.Bound // the sheet; the zero box = not stated
}

// Usual is a tool with the common values of a small gantry router: through-cut
// 0.3, safe height 5, ramp 5°, kerf 0.4 wider, two tabs 4 wide and 1.2 high,
// skin 0.3, engraving 0.3 deep. Diameter, speeds and feeds are the caller's.
// Common practice, no source.
func Usual() Tool {
	return Tool{
		StepDown: 1.5, SafeZ: 5, Through: 0.3, RampAngle: 5, KerfExtra: 0.4,
		Hold: Tabs, Tabs: 2, TabWidth: 4, TabHeight: 1.2, Skin: 0.3,
		EngraveDepth: 0.3,
	}
}

// A Tab is a bridge that stays. Its stretch of wall is not cut below Height.
type Tab struct {
	Job    int
	At     orb.Point // middle, on the wall
	Wall   geom.Path // the stretch of wall that is not cut
	Height float64   // mm of sheet left
}

// A Hint is a sentence in which each %s stands for one of the lengths, in order, so
// that it can be said in any unit.
type Hint struct {
	Text string
	MM   []float64
}

// A Program is the moves of one program and what the operator has to know of them.
type Program struct {
	Moves []gcode.Move
	Notes map[int]string // comment before Moves[i]
	Tabs  []Tab
	Hints []Hint    // what the plan could not do; for the sheet
	Bound orb.Bound // swept by the mill while cutting
	Depth float64   // lowest Z, in the program's coordinates
}

const (
	maxThrough = 0.5  // mm: deeper ruins the spoilboard
	maxRamp    = 5.0  // degrees
	above      = 1.05 // mm over the sheet where a Z rapid ends: 1 and what rounding may take
	boreSpare  = 1.0  // mm a bore is wider than the mill, at least
	shortLoop  = 3.0  // mm of way (about π·boreSpare) that a ramp needs at least
	mostRings  = 64   // ways round each other through one piece of waste: 64 mill diameters wide
	maxJobs    = 256  // Move.Job is a byte
	tiny       = 1e-9 // mm
)

// check finds what makes the tool unusable on a sheet of the given thickness.
func (t *Tool) check(thick float64) error {
	for _, f := range []struct {
		name     string
		v        float64
		lo, hi   float64
		open     bool // lo itself is too small
		wantWhat string
	}{
		{"mill diameter", t.Diameter, 0, 100, true, "mm"},
		{"flute length", t.FluteLength, 0, 1000, false, "mm"},
		{"spindle speed", t.RPM, 0, 1e6, true, "rpm"},
		{"feed", t.Feed, 0, 1e6, true, "mm/min"},
		{"plunge feed", t.Plunge, 0, 1e6, true, "mm/min"},
		{"step-down", t.StepDown, 0.01, 100, false, "mm"},
		{"safe height", t.SafeZ, above, 1000, false, "mm above the sheet"},
		{"cut into the spoilboard", t.Through, 0, maxThrough, false, "mm"},
		{"ramp angle", t.RampAngle, 0.1, maxRamp, false, "degrees"},
		{"kerf extra", t.KerfExtra, 0, 5, false, "mm"},
		{"overtravel", t.Overtravel, 0, 10, false, "mm"},
		{"sheet thickness", thick, 0, 100, true, "mm"},
	} {
		if !(f.v >= f.lo && f.v <= f.hi) || f.open && f.v == f.lo {
			if f.open {
				return fmt.Errorf("route: %s %g %s; want more than %g, at most %g", f.name, f.v, f.wantWhat, f.lo, f.hi)
			}
			return fmt.Errorf("route: %s %g %s; want %g to %g", f.name, f.v, f.wantWhat, f.lo, f.hi)
		}
	}
	if t.FluteLength > 0 && t.FluteLength < thick+t.Through {
		return refuse("flutes of the %s mill are %s long; sheet and through-cut need %s", t.Diameter, t.FluteLength, thick+t.Through)
	}
	switch t.Hold {
	case Tabs:
		switch {
		case t.Tabs < 2 || t.Tabs > 100:
			return fmt.Errorf("route: %d tabs per plate; want 2 to 100", t.Tabs)
		case !(t.TabWidth >= 0.5 && t.TabWidth <= 100):
			return refuse("tab width %s; want %s to %s", t.TabWidth, 0.5, 100)
		case !(t.TabHeight >= 0.1 && t.TabHeight < thick):
			return refuse("tab height %s; want %s to less than the sheet's %s", t.TabHeight, 0.1, thick)
		}
	case Skin:
		if !(t.Skin > 0 && t.Skin < thick) {
			return refuse("skin %s; want more than 0, less than the sheet's %s", t.Skin, thick)
		}
	case Screws:
	default:
		return fmt.Errorf("route: hold %q; want %q, %q or %q", t.Hold, Tabs, Screws, Skin)
	}
	return nil
}

// check finds what makes the job impossible before any path is planned.
func (j *Job) check(i int) error {
	if len(j.Wall) == 0 {
		return fmt.Errorf("route: %s has no wall", j.title(i))
	}
	if !(j.Allowance >= 0 && j.Allowance <= 5) {
		return refuse("%s: roughing allowance %s; want 0 to %s", j.title(i), j.Allowance, 5)
	}
	outers := 0
	for _, ps := range [][]geom.Path{j.Wall, j.Drill, j.Engrave, j.Keep, j.Bare, j.AsComes, j.Tabs} {
		for _, p := range ps {
			if len(p.V) == 0 {
				return fmt.Errorf("route: %s has a path without points", j.title(i))
			}
			for _, v := range p.V {
				if !(math.Abs(v.X()) <= 1e5 && math.Abs(v.Y()) <= 1e5 && math.Abs(v.Bulge) <= 1) {
					return fmt.Errorf("route: %s: vertex (%g, %g, bulge %g) is no place on a sheet", j.title(i), v.X(), v.Y(), v.Bulge)
				}
			}
		}
	}
	for k := range j.Pockets {
		if err := j.checkPocket(i, k); err != nil {
			return err
		}
	}
	for _, p := range j.Wall {
		if !p.Closed || len(p.V) < 2 {
			return refuse("%s: a wall near X %s Y %s is not closed", j.title(i), p.V[0].X(), p.V[0].Y())
		}
		if p.Area() > 0 {
			outers++
		}
	}
	if outers == 0 {
		return fmt.Errorf("route: %s: no wall runs counter-clockwise, so nothing is left standing", j.title(i))
	}
	return nil
}

func (j *Job) title(i int) string {
	if j.Name != "" {
		return j.Name
	}
	return fmt.Sprintf("plate %d", i+1)
}
