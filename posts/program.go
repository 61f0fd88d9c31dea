package posts

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/gcode/route"
	"blockwright/jig/joint"
	"blockwright/jig/shop"
)

// feedMin is the slowest feed in mm/min that a plate is milled at: below it the
// figures that make the feed are slips. Derived here.
const feedMin = 1.0

// tabMost is the height of a tab as a share of the sheet's thickness, at most: the
// mill has to cut something over it. Common practice, no source.
const tabMost = 0.8

// tabHigh is the height in mm of the fixture's tabs: the shop's, or what a thin
// sheet has of it.
func (f *Fixture) tabHigh() float64 {
	return math.Min(f.Request.Shop.Defaults.TabHeight, tabMost*f.Sheet.Thick())
}

// sideMost is the share of the mill's diameter that the finishing pass takes off a
// wall at full depth, at most: a quarter is where a mill begins to count as
// slotting. Common practice, no source.
const sideMost = 0.2

// program plans the moves of milling, engraving and frame.
func (f *Fixture) program(r Request) error {
	d, m := r.Shop.Defaults, r.Shop.Machine
	caps := route.Caps{FeedXY: m.FeedXY, FeedZ: m.FeedZ, SpindleLow: m.SpindleLow, SpindleHigh: m.SpindleHigh}
	rates, err := route.Feeds(spindle, f.Mill.Flutes, f.Sheet.ChipLoad, d.FeedFactor, caps)
	if err != nil {
		return err
	}
	if rates.Feed < feedMin {
		return fmt.Errorf("feed %.3g mm/min, of %.0f rpm and %d flutes with sheet %q's chip load %g mm and the feed factor %g; want at least %g: turn faster or take a greater chip load or factor",
			rates.Feed, rates.RPM, f.Mill.Flutes, f.Sheet.Name, f.Sheet.ChipLoad, d.FeedFactor, feedMin)
	}
	f.RPM, f.Feed = rates.RPM, rates.Feed
	tool := route.Tool{
		Diameter: f.Diameter, FluteLength: f.Mill.FluteLength,
		Flutes: f.Mill.Flutes, RPM: rates.RPM, Feed: rates.Feed, Plunge: rates.Plunge, StepDown: f.Sheet.StepDown,
		SafeZ: d.SafeZ, Through: d.Through, RampAngle: d.Ramp, ZeroTop: d.Zero == "top", KerfExtra: d.KerfExtra,
		Hold: d.Hold, Tabs: d.Tabs, TabWidth: d.TabWidth, TabHeight: f.tabHigh(), Skin: d.Skin,
		Spring: d.Spring, Overtravel: d.Overtravel,
		Sheet: sheetBound(f.Sheet),
	}
	var jobs []route.Job
	for _, c := range f.Plates {
		jobs = append(jobs, route.Job{
			Name: c.Part, Wall: c.Wall, Drill: c.Drill, Engrave: c.Engrave, Keep: c.Kept, Bare: c.Bare,
			Pockets: pocketsOf(c),
			Thick:   f.Sheet.Thick(), Allowance: math.Min(d.Allowance, f.Diameter*sideMost), Climb: d.Climb,
		})
	}
	if r.Kind == "trial" {
		meetAsComes(jobs, &tool)
	}
	if r.Measured {
		f.roughing(jobs, &tool)
		if err := f.roughWalls(jobs); err != nil {
			return err
		}
	}
	p, err := route.Plan(jobs, tool)
	if err != nil {
		return err
	}
	f.Milling = Program{Kind: proof.Milling, Stage: jobs[0].Stage, Moves: p.Moves, Notes: p.Notes, Mill: f.Diameter, Top: tool.ZeroTop}
	hints := p.Hints
	if r.Found != nil {
		if hints, err = f.finishing(jobs, p, tool); err != nil {
			return err
		}
	}
	for _, h := range hints {
		m := joint.Message{Text: h.Text, Lengths: h.MM}
		f.Hints = append(f.Hints, m.Say(func(mm float64) string { return inUnit(mm, r.Shop.Units) }))
	}
	if high := f.tabHigh(); d.Hold == route.Tabs && high < d.TabHeight {
		f.Hints = append(f.Hints, "the sheet is thin, so the tabs are "+inUnit(high, r.Shop.Units)+" high: tape it down all over, or hold the parts by screws")
	}
	if err := f.engrave(r, jobs, tool); err != nil {
		return err
	}
	frame, err := route.Frame(p.Bound, f.Sheet.Thick(), tool)
	if err != nil {
		return err
	}
	f.Frame = Program{Kind: proof.Frame, Moves: frame.Moves, Notes: frame.Notes, Top: tool.ZeroTop}
	f.Drive = gcode.SmallDrive
	if m.Accel > 0 {
		f.Drive.Accel = m.Accel
	}
	f.Drive.Rapid = m.FeedXY
	f.Seconds = gcode.Seconds(f.Milling.Moves, f.Drive)
	if f.Finishing != nil {
		f.Seconds = gcode.Seconds(f.Finishing.Moves, f.Drive)
		return f.fitsMachine(p.Bound)
	}
	if f.Engraving != nil {
		f.Seconds += gcode.Seconds(f.Engraving.Moves, f.Drive)
	}
	return f.fitsMachine(p.Bound)
}

// engrave plans the engraving program, if the shop has a tool for it and there is
// something to engrave.
func (f *Fixture) engrave(r Request, jobs []route.Job, tool route.Tool) error {
	lines := 0
	for _, j := range jobs {
		lines += len(j.Engrave)
	}
	if lines == 0 {
		return nil
	}
	e := r.Shop.Engraver
	if e == nil {
		f.Hints = append(f.Hints, "the shop has no engraving tool: label the parts by hand and draw the centre line")
		return nil
	}
	tool.Diameter, tool.RPM, tool.Feed, tool.Plunge = e.Tip, clampSpeed(e.RPM, r.Shop.Machine), e.Feed, e.Feed/3
	tool.EngraveDepth = e.Depth
	p, err := route.Engrave(jobs, tool)
	if err != nil {
		return err
	}
	f.Engraving = &Program{Kind: proof.Engraving, Moves: p.Moves, Notes: p.Notes, Mill: e.Tip, Top: true}
	return nil
}

// clampSpeed is the speed that the machine's spindle has nearest to the one wanted.
func clampSpeed(rpm float64, m shop.Machine) float64 {
	if m.SpindleHigh > 0 {
		rpm = math.Min(rpm, m.SpindleHigh)
	}
	return math.Max(rpm, m.SpindleLow)
}

// fitsMachine tells whether the machine reaches all that is milled.
func (f *Fixture) fitsMachine(b orb.Bound) error {
	t := f.Request.Shop.Machine.Travel
	if t[0] > 0 && b.Max[0] > t[0] || t[1] > 0 && b.Max[1] > t[1] {
		return joint.Refuse("the parts reach to X %s and Y %s; the machine travels %s × %s", b.Max[0], b.Max[1], t[0], t[1])
	}
	return nil
}

// spindle is the speed in rpm at which small end mills are run in wood and
// plastic where the machine allows it. Common practice, no source.
const spindle = 18000

// sayPlan is the error of a plan as a sentence for any unit.
func sayPlan(err error) error {
	var no *route.Refusal
	if errors.As(err, &no) {
		return &joint.Refusal{Why: joint.Message{Text: no.Why.Text, Lengths: no.Why.MM}}
	}
	if why, ok := strings.CutPrefix(err.Error(), "route: "); ok {
		return errors.New(why)
	}
	return err
}
