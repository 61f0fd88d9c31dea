package posts

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/gcode/route"
	"blockwright/geom"
	"blockwright/jig/joint"
	"blockwright/jig/plate"
	"blockwright/jig/shop"
)

// Make designs a fixture and gives the bytes of its files by extension, each
// proved: every program has been read back from those bytes and its moves held
// against the walls, every exchange drawing read back and compared layer by layer;
// of the SVG it is only proved that it is proper XML. The reports are those of the
// programs, by extension.
//
// It fails where the joint, the table, the plate, the mill or the sheet does not
// allow the fixture, and where a proof fails; then no bytes are returned.
func Make(ctx context.Context, r Request) (*Fixture, map[string][]byte, map[string]proof.Report, error) {
	writers, err := writersFor(r.Posts)
	if err != nil {
		return nil, nil, nil, err
	}
	f, err := design(r)
	if err != nil {
		return nil, nil, nil, err
	}
	files := map[string][]byte{}
	reports := map[string]proof.Report{}
	for _, w := range writers {
		if second := w.Dialect != nil && w.Program(f) == f.Finishing; f.Finishing != nil && !second {
			continue // written with the first program
		}
		if err := ctx.Err(); err != nil {
			return nil, nil, nil, err
		}
		text, report, err := write(w, f)
		if err != nil {
			return nil, nil, nil, fmt.Errorf("%s.%s: %w", f.ID, w.Ext, err)
		}
		if text == nil {
			continue
		}
		files[w.Ext] = text
		if report != nil {
			reports[w.Ext] = *report
		}
	}
	return f, files, reports, nil
}

// fitPlates takes a request as far as plates that an end mill of the shop can cut.
func fitPlates(r Request) (*Fixture, error) {
	r = r.resolved()
	f := &Fixture{ID: r.ID(), Kind: r.Kind, Request: r}
	var err error
	if f.Sheet, err = pickSheet(r.Shop, r.Sheet); err != nil {
		return nil, err
	}
	r.Joint.Web = r.Shop.Defaults.Web
	if f.Setting, err = joint.Solve(r.Joint); err != nil {
		return nil, err
	}
	if err := f.Setting.Fits(r.Shop.Table); err != nil {
		return nil, err
	}
	if r.Pass < 0 || r.Pass >= len(f.Setting.Passes) {
		return nil, fmt.Errorf("the joint has %d passes; there is no pass %d", len(f.Setting.Passes), r.Pass+1)
	}
	if err := f.correct(); err != nil {
		return nil, err
	}
	f.Pass = f.Made.Passes[r.Pass]
	designs, err := f.plates(r)
	if err != nil {
		return nil, err
	}
	mills, err := pickMills(r.Shop, f.Sheet, r.Mill)
	if err != nil {
		return nil, err
	}
	cuts := make([]float64, len(mills))
	for i, m := range mills {
		cuts[i] = m.Cuts(f.Sheet.Material) + r.fitWider()
	}
	if r.Measured {
		designs = withWitness(designs)
	}
	plates, err := plate.FitAll(designs, cuts)
	if err != nil {
		return nil, r.fitError(err)
	}
	f.Diameter = plates[0].Mill
	f.Mill = mills[slices.Index(cuts, f.Diameter)]
	f.Diameter -= r.fitWider()
	if r.Kind == "block" {
		figures, err := plate.Measure(plates[0], f.Pass, f.Setting.Range[1])
		if err != nil {
			return nil, err
		}
		if f.Setting.Joint != "lock-miter" {
			figures.Shims = nil // height and fence move together in a lock miter only
		}
		if r.Shop.Units == "in" && figures.Shims != nil {
			figures.Shims = plate.Shims(f.Pass, f.Setting.Range[1], InchMM/64)
		}
		f.Figures = &figures
	}
	f.Fitted = plates
	return f, nil
}

// design takes a request as far as moves.
func design(r Request) (*Fixture, error) {
	f, err := fitPlates(r)
	if err != nil {
		return nil, err
	}
	r = f.Request
	if f.At, err = lay(f.Fitted, f.Sheet, r.widest(f.Diameter)); err != nil {
		return nil, err
	}
	var walls []geom.Path
	for i, c := range f.Fitted {
		f.Plates = append(f.Plates, c.Move(geom.Shift(f.At[i][0], f.At[i][1])))
		walls = append(walls, f.Plates[i].Wall...)
	}
	f.Bound = geom.Bound(walls)
	return f, f.program(r)
}

// from is what a gauge measures from: what was asked for, else the setup pin
// where the shop has one.
func (r Request) from() string {
	switch {
	case r.Kind != "gauge":
		return ""
	case r.From != "":
		return r.From
	case r.Shop.Table.Pin > 0:
		return "pin"
	}
	return "cutter"
}

// plates designs the fixture's plates: alternatives, best first.
func (f *Fixture) plates(r Request) ([][]plate.Plate, error) {
	d := r.Shop.Defaults
	c := f.Pass.Cutter
	mark := strings.ToUpper(c.Name + "\n" + stockMark(r))
	if r.Variant != "" {
		mark += "\n" + strings.ToUpper(f.Pass.Name)
	}
	if !r.Applied.None() {
		mark += "\n" + correctionMark(r)
		f.Hints = append(f.Hints, "corrected by a test cut: "+r.corrected()+" than computed")
	}
	if t := c.Traced; t != nil && r.Kind != "trial" {
		in := func(mm float64) string { return inUnit(mm, r.Shop.Units) }
		f.Hints = append(f.Hints, fmt.Sprintf("rests on a trace of cutter %s: centre sure to %s, profile to %s (95 %%)", c.Handle, in(t.Centre), in(t.Profile)))
	}
	switch r.Kind {
	case "block":
		f.Title = fmt.Sprintf("Height setup block for %s, stock %s", c.Name, r.Stock)
		return plate.Blocks(plate.BlockRequest{
			Pass: f.Pass, Table: r.Shop.Table, Thick: f.Sheet.Thick(), Clear: d.Clearance, Ease: d.Ease, Mark: mark,
		})
	case "gauge":
		f.Title = fmt.Sprintf("Fence-offset gauge for %s, stock %s", c.Name, r.Stock)
		if !c.Known[0] && r.from() == "pin" {
			return nil, fmt.Errorf("gauge: the radius of cutter %s is not known, so nothing can be measured from its axis; want --from cutter", c.Handle)
		}
		p, contact, err := plate.Gauge(plate.GaugeRequest{
			Pass: f.Pass, Table: r.Shop.Table, Thick: f.Sheet.Thick(), Sheets: r.Shop.Sheets, From: r.from(),
			Mark: mark + "\n" + strings.ToUpper(gaugeMark(r)),
		})
		if err != nil {
			return nil, err
		}
		f.Contact = &contact
		return [][]plate.Plate{{p}}, nil
	}
	what := fmt.Sprintf("for %s, stock %s", c.Name, r.Stock)
	switch r.Kind {
	case "strip":
		f.Title = "Guide strips " + what
		return f.strips(r, mark)
	case "coupon":
		f.Title = "Coupons " + what
		return plate.Coupons(plate.CouponRequest{Setting: f.Setting, Clear: d.Clearance, Ease: d.Ease, Mark: mark})
	case "facing":
		f.Title = "Fence facing " + what
		return f.facings(r, mark)
	case "trial":
		f.Title = "Trial pieces"
		return [][]plate.Plate{plate.Trial(strings.ToUpper("trial\n" + f.Sheet.Material))}, nil
	}
	return nil, fmt.Errorf("unknown fixture %q; want one of %s", r.Kind, strings.Join(Kinds(), ", "))
}

// strips designs the guide strips of both passes on one sheet.
func (f *Fixture) strips(r Request, mark string) ([][]plate.Plate, error) {
	var all []plate.Plate
	for _, p := range f.Setting.Passes {
		ps, err := plate.Strips(plate.StripRequest{
			Pass: p, Table: r.Shop.Table, Thick: f.Sheet.Thick(), Width: r.Width,
			Mark: mark + "\n" + strings.ToUpper(p.Name),
		})
		if err != nil {
			return nil, err
		}
		for _, s := range ps {
			s.Part = p.Name + " " + s.Part
			all = append(all, s)
		}
		if len(ps) > 1 {
			f.Hints = append(f.Hints, fmt.Sprintf("%s pass: glue the %d layers on one another to one strip", p.Name, len(ps)))
		}
	}
	f.Hints = append(f.Hints, "strips are cut into: wood or another material that routes, never metal")
	return [][]plate.Plate{all}, nil
}

// stockMark is the stock as it is engraved: the letters have no quotes.
func stockMark(r Request) string {
	s := "T " + inUnit(r.Stock.MM, r.Stock.Unit)
	if l := r.Joint.Land; l > 0 {
		s += " land " + inUnit(l, r.Stock.Unit)
	}
	return s
}

// inUnit is a length as it is engraved.
func inUnit(mm float64, unit string) string {
	if unit == "in" {
		return gcode.Number(mm/InchMM, 4) + " in"
	}
	return gcode.Number(mm, 3) + " mm"
}

// correctionMark is the correction as it is engraved: height and fence apart from
// the computed setting.
func correctionMark(r Request) string {
	in := func(mm float64) string {
		s := inUnit(mm, r.Shop.Units)
		if mm > 0 {
			s = "+" + s
		}
		return s[:strings.IndexByte(s, ' ')]
	}
	return "COR H " + in(r.Applied.Height) + " D " + in(r.Applied.Fence)
}

func gaugeMark(r Request) string {
	if r.from() == "pin" {
		return "pin " + inUnit(r.Shop.Table.Pin, r.Shop.Units)
	}
	return "on cutter"
}

// pickSheet finds the sheet by its name; "" is the first.
func pickSheet(s *shop.Shop, name string) (shop.Sheet, error) {
	if name == "" && len(s.Sheets) > 0 {
		return s.Sheets[0], nil
	}
	var names []string
	for _, sh := range s.Sheets {
		if sh.Name == name {
			return sh, nil
		}
		names = append(names, sh.Name)
	}
	return shop.Sheet{}, fmt.Errorf("sheet %q is not in the shop; want one of %s", name, strings.Join(names, ", "))
}

// pickMills lists the end mills that can go through the sheet, largest first, or
// the one of the diameter asked for.
func pickMills(s *shop.Shop, sheet shop.Sheet, diameter float64) ([]shop.Mill, error) {
	depth := sheet.Thick() + s.Defaults.Through
	var out []shop.Mill
	var have []any
	for _, m := range s.Mills {
		have = append(have, m.Diameter)
		if diameter > 0 && math.Abs(m.Diameter-diameter) > 0.005 {
			continue
		}
		if m.FluteLength > depth {
			out = append(out, m)
		} else if diameter > 0 {
			return nil, joint.Refuse("end mill %s: flutes of %s; sheet \"%s\" and the cut into the spoilboard need more than %s", m.Name, m.FluteLength, sheet.Name, depth)
		}
	}
	if len(out) == 0 {
		if diameter > 0 {
			text := "no end mill of %s in the shop; it has %s" + strings.Repeat(", %s", len(have)-1)
			return nil, joint.Refuse(text, append([]any{diameter}, have...)...)
		}
		return nil, joint.Refuse("no end mill of the shop has flutes longer than %s, which sheet \"%s\" and the cut into the spoilboard need: take a thinner sheet (--sheet) or a longer mill", depth, sheet.Name)
	}
	slices.SortStableFunc(out, func(a, b shop.Mill) int {
		switch {
		case a.Diameter > b.Diameter:
			return -1
		case a.Diameter < b.Diameter:
			return 1
		}
		return 0
	})
	return out, nil
}

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
