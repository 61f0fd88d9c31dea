package posts

import (
	"fmt"
	"math"

	"blockwright/jig/plate"
	"blockwright/posts/sheet"
)

// use is how the fixture is used at the table, step by step, and beside it the tables
// that are read there.
func (m sheetMaker) use() sheet.Section {
	s := sheet.Section{Name: "use", Title: "At the router table"}
	switch m.f.Kind {
	case "block":
		s.Steps, s.Tables, s.Below = m.blockSteps(), m.blockTables(), true
	case "gauge":
		s.Steps = m.gaugeSteps()
	case "strip":
		s.Steps = m.stripSteps()
	case "coupon":
		s.Steps = m.couponSteps()
	case "trial":
		s.Title, s.Steps, s.Tables = "With calipers", m.trialSteps(), []sheet.Table{m.trialTable()}
	case "facing":
		s.Steps = m.facingSteps()
	}
	return s
}

// letterOf is how the drawing calls the first seat that fixes x or z, with its name.
func (m sheetMaker) letterOf(fixes byte) string {
	for _, n := range m.names {
		if n.seat.Fixes == fixes {
			return " " + n.letter
		}
	}
	return ""
}

func (m sheetMaker) blockSteps() []sheet.Step {
	fence, height := m.letterOf('x'), m.letterOf('z')
	return []sheet.Step{
		{Title: "Once: glue the crossbar.", Text: "Break tabs and fuzz off the free edges; leave the seats alone. Lap the crossbar into the slot of the ear, press its back edge and the ear against one flat, and let the glue set there."},
		{Title: "Disconnect the power.", Text: "Fit the cutter, wipe table, fence and cutter. Mark on the table where the spindle's middle is, across the fence."},
		{Title: "Stand the block.", Text: "Its table edge on the table, its ear and crossbar against both halves of the fence, its engraved line over the spindle's middle. Cutter about " + m.about(0.2, 0.008) + " too low."},
		{Title: "Fence.", Text: "Bring fence and block together towards the cutter until the fence seat" + fence + " just brushes it. Turn the cutter by hand, backwards, heel first. A low cutter does not touch the height seat, so this sets the fence alone. Lock the fence."},
		{Title: "Height.", Text: "Raise the cutter until the height seat" + height + " just brushes. The last movement is upward. Lock the lift."},
		{Title: "Check both again.", Text: "The block must lie home at the fence. If it stands off, read the gap in the table below."},
		{Title: "Take block and wrench out", Text: "before the power goes on. Then make the test cut."},
	}
}

// blockTables are the block's figures: what stands off, what shims do, what of the
// mill's error is left.
func (m sheetMaker) blockTables() []sheet.Table {
	g := m.f.Figures
	if g == nil {
		return nil
	}
	stand := sheet.Table{Caption: "Gap left at the fence, block slid home (" + m.unit() + ")", Head: []string{"cutter out by"}}
	for i, o := range g.Standoff {
		if o.DZ == g.Standoff[0].DZ {
			stand.Head = append(stand.Head, m.fine(o.E))
		}
		if i == 0 || o.DZ != g.Standoff[i-1].DZ {
			name := "height right"
			switch {
			case o.DZ > 0:
				name = m.fine(o.DZ) + " high"
			case o.DZ < 0:
				name = m.fine(-o.DZ) + " low"
			}
			stand.Rows = append(stand.Rows, []string{name})
		}
		last := len(stand.Rows) - 1
		stand.Rows[last] = append(stand.Rows[last], m.fine(o.Gap))
	}
	stand.Note = "One reading cannot tell height from fence: set the fence first, with the cutter low."
	left := sheet.Table{
		Caption: fmt.Sprintf("Error left for each %s of tool error", m.short(toolStep(m.units))),
		Rows: [][]string{
			{"height", m.tiny(g.PerTool[0] * toolStep(m.units) / 0.1)},
			{"fence", m.tiny(g.PerTool[1] * toolStep(m.units) / 0.1)},
		},
		Note: "If the end mill cuts wider or narrower than stated, both seats of a pair are off alike and the error cancels; this is the rest.",
	}
	tables := []sheet.Table{stand, left}
	if len(g.Shims) > 0 {
		shims := sheet.Table{Caption: "Shims: one block, thicker boards", Head: []string{"shim", "sets boards of", "the same in " + map[string]string{"mm": "inch", "in": "mm"}[m.unit()]}}
		for _, q := range g.Shims {
			also := m.inch(q.Stock)
			if m.units == "in" {
				also = m.mm(q.Stock)
			}
			shims.Rows = append(shims.Rows, []string{m.short(q.Thick), m.length(q.Stock), also})
		}
		shims.Note = "The same shim twice: under the block, and between block and fence. The board is thicker by two shims."
		tables = append(tables, shims)
	}
	return tables
}

// toolStep is the error of the mill that figures are stated for, mm.
func toolStep(units string) float64 {
	if units == "in" {
		return 0.004 * InchMM
	}
	return 0.1
}

// tiny is a length that is nearly nothing, without its sign.
func (m sheetMaker) tiny(mm float64) string {
	if m.units == "in" {
		return Fixed(math.Abs(mm)/InchMM, 5) + " in"
	}
	return Fixed(math.Abs(mm), 4) + " mm"
}

func (m sheetMaker) gaugeSteps() []sheet.Step {
	c := m.f.Contact
	first := sheet.Step{Title: "Disconnect the power.", Text: "Wipe table and fence. Break tabs off the free edges; leave feet and nose alone."}
	last := sheet.Step{Title: "Take gauge and wrench out", Text: "before the power goes on. The height is not set by this gauge: use the block, or the sizes above."}
	nose := m.letterOf('x')
	if c == nil {
		return nil
	}
	if c.From == "pin" {
		return []sheet.Step{
			first,
			{Title: "Pin.", Text: fmt.Sprintf("Put the %s setup pin in the collet in place of the cutter.", m.short(c.Pin))},
			{Title: "Lay the gauge on the table,", Text: "both feet against the fence, its engraved line over the spindle's middle."},
			{Title: "Fence.", Text: "Bring fence and gauge together until the nose" + nose + " just touches the pin. Turn the pin by hand: halfway between its nearest and its farthest turn is right. Lock the fence and try again."},
			{Title: "Take the pin out,", Text: "fit the cutter."},
			last,
		}
	}
	text := fmt.Sprintf("Lay the gauge on %s. There a height that is off by %s moves the fence by %s.", c.Support, m.short(gaugeTried), m.short(c.Change))
	if c.Change < 5e-4 {
		text = fmt.Sprintf("Lay the gauge on %s. There the height does not matter within %s either way.", c.Support, m.short(gaugeTried))
	}
	return []sheet.Step{
		first,
		{Title: "Cutter.", Text: "Fit it and bring it about to its height."},
		{Title: "Support.", Text: text},
		{Title: "Fence.", Text: "Both feet against the fence, the engraved line over the spindle's middle. Bring fence and gauge together until the nose" + nose + " just brushes the cutter, turned by hand, backwards. Lock the fence and try again."},
		last,
	}
}

// gaugeTried is the error of height in mm that a gauge's contact was tried with; see
// plate.Contact.
const gaugeTried = 0.5

func (m sheetMaker) couponSteps() []sheet.Step {
	steps := []sheet.Step{
		{Title: "Rout a test piece", Text: "from the real stock. Brush the dust off."},
		{Title: "Lay coupon and piece on a flat,", Text: m.couponMate() + " Push the cuts together; do not force them."},
	}
	switch {
	case m.f.Setting.Joint == "edge-glue":
		steps = append(steps,
			sheet.Step{Title: "Height:", Text: "the piece stands above the coupon's face by as much as the cutter is too high, below it by as much as it is too low. Two routed pieces show twice that; a coupon shows it once."})
	case m.f.Setting.TurnsOver() && m.f.Setting.Joint != "drawer-lock":
		steps = append(steps,
			sheet.Step{Title: "Height:", Text: "a flat piece that was turned over stands above the coupon's face by as much as the cutter is too high, below it by as much as it is too low. Two routed pieces show twice that; a coupon shows it once."},
			sheet.Step{Title: "Fence:", Text: "with the height right, a tip that ends short of the coupon's face means too much cut; one that stands beyond, too little."})
	case m.f.Setting.Joint == "matched":
		steps = append(steps,
			sheet.Step{Title: "Height:", Text: "the step between the faces is the whole error of the piece's cutter."},
			sheet.Step{Title: "Fence:", Text: "the faces beside the tongue must close. What stays open there is what the fence is off."})
	case m.f.Setting.Joint == "edge":
		steps[1].Text = "The coupon's cut is the edge as it should be. Lay it face to face on the piece, the faces that lay on the table level, ends flush."
		steps = append(steps, sheet.Step{Title: "Compare:", Text: "where the piece stands beyond the coupon, too little came off; where it falls short, too much."})
	default:
		steps = append(steps, sheet.Step{Title: "Read:", Text: "a line that stays open, or a face that does not come level, is the error of the routed piece alone: the coupon is right."})
	}
	return append(steps, sheet.Step{Title: "Hang it up.", Text: "A coupon serves as long as its cut edges are sharp and clean."})
}

// couponMate says which piece goes into which coupon.
func (m sheetMaker) couponMate() string {
	if len(m.f.Setting.Passes) < 2 {
		return ""
	}
	if len(m.f.Fitted) < 2 && m.f.Setting.Joint == "edge-glue" {
		return "One coupon mates the pieces of both passes, each turned over from how it lay when it was cut."
	}
	if len(m.f.Fitted) < 2 {
		return "One coupon mates the pieces of both passes: the flat piece turned over, the upright one on its side."
	}
	a, b := m.f.Setting.Passes[0].Name, m.f.Setting.Passes[1].Name
	return fmt.Sprintf("The %s piece goes into the coupon marked %s, the %s piece into the one marked %s.", b, a, a, b)
}

func (m sheetMaker) trialSteps() []sheet.Step {
	return []sheet.Step{
		{Title: "Mill the trial", Text: "from the sheet and with the end mill that the fixtures are made with, clamped as they are."},
		{Title: "Mark X and Y", Text: "on both pieces before they leave the machine, if nothing is engraved."},
		{Title: "Break the tabs off", Text: "and dress the corners only. The middles of the sides stay as the mill left them."},
		{Title: "Measure", Text: "the eight sizes at the middles of the sides, each three times, and write down the middle one. Calipers square to the sides, no force."},
		{Title: "Ask", Text: "with your sizes in place of these, for the mill's diameter, travel, lost motion, squareness:", Ask: m.askTrial()},
		{Title: "Write the diameter into the shop", Text: "as the mill's measured one for this material, enter new steps at the machine, and cut the trial again."},
	}
}

// askTrial is the command that reads a trial's sizes, with those that are drawn.
func (m sheetMaker) askTrial() string {
	d := math.Sqrt2*(plate.TrialBig-2*plate.TrialCorner) + 2*plate.TrialCorner
	text := "blockwright adjust trial --mill " + m.typedLength(m.f.Mill.Diameter)
	for _, s := range []struct {
		name string
		mm   float64
	}{
		{"big-x", plate.TrialBig}, {"small-x", plate.TrialSmall}, {"window-x", plate.TrialWindow},
		{"big-y", plate.TrialBig}, {"small-y", plate.TrialSmall}, {"window-y", plate.TrialWindow},
		{"diagonal-rising", d}, {"diagonal-falling", d},
	} {
		text += " --" + s.name + " " + m.typedLength(s.mm)
	}
	return text
}

// trialTable lists the sizes to measure, with room to write.
func (m sheetMaker) trialTable() sheet.Table {
	t := sheet.Table{Caption: "Sizes (" + m.unit() + ")", Head: []string{"size", "drawn", "measured"}}
	for _, r := range []struct {
		name string
		mm   float64
	}{
		{"frame, outside, X: big-x", plate.TrialBig}, {"square, outside, X: small-x", plate.TrialSmall}, {"window, inside, X: window-x", plate.TrialWindow},
		{"frame, outside, Y: big-y", plate.TrialBig}, {"square, outside, Y: small-y", plate.TrialSmall}, {"window, inside, Y: window-y", plate.TrialWindow},
	} {
		t.Rows = append(t.Rows, []string{r.name, m.bare(r.mm), ""})
	}
	d := math.Sqrt2*(plate.TrialBig-2*plate.TrialCorner) + 2*plate.TrialCorner
	t.Rows = append(t.Rows, []string{"frame, diagonal rising from X0 Y0: diagonal-rising", m.bare(d), ""}, []string{"frame, the other diagonal: diagonal-falling", m.bare(d), ""})
	return t
}
