package posts

import (
	"fmt"
	"math"
	"strings"

	"blockwright/jig/adjust"
	"blockwright/jig/joint"
	"blockwright/posts/sheet"
)

// testCut is the test cut of the joint and what its steps ask for. The moves are those
// of package adjust, so that the sheet says what the program would.
func (m sheetMaker) testCut() sheet.Section {
	s := sheet.Section{Name: "test", Title: "Test cut and corrections"}
	if m.f.Kind == "trial" {
		return sheet.Section{}
	}
	switch m.f.Setting.Joint {
	case "lock-miter":
		s.Steps = []sheet.Step{
			{Text: "Cut two pieces of the real stock flat, at least " + m.about(300, 12) + " along the fence and " + m.about(100, 4) + " wide. Pencil the face that lay on the table."},
			{Text: "Turn one over and push the cuts together on a flat. If the turned piece stands above the other, the cutter is too high; below, too low. Move the cutter by half the step."},
			{Text: "When the faces are level, look at the tip of a flat piece. Length lost: too much cut, fence forward. A land left on it: too little, fence back."},
			{Text: "Cut a third piece upright and try the corner. Always set for the thickest board."},
		}
		s.Tables = []sheet.Table{m.stepTable("Step of the turned piece", "above: lower, below: raise", m.fromFlip)}
		if t, whole := m.tipTable(); whole {
			s.Steps[2].Text += " By as much as is read."
		} else {
			s.Tables = append(s.Tables, t)
		}
	case "edge-glue":
		s.Steps = []sheet.Step{
			{Text: "Cut two pieces of the real stock, one with its face down, one with its face up."},
			{Text: "Push the cuts together on a flat. If the piece cut face up stands above the other, the cutter is too high; below, too low. Move the cutter by half the step."},
			{Text: "The fence only says how much comes off; it needs no test."},
		}
		s.Tables = []sheet.Table{m.stepTable("Step between the faces", "above: lower, below: raise", m.fromFlip)}
	case "drawer-lock":
		s.Steps = []sheet.Step{
			{Text: "Cut a front and a side from the real stock and push them together."},
			{Text: "A line that stays open between the side's end and the front's lip: the cutter is too low; raise it by what is open. The lip bears before the tooth is home: too high; lower it by what the tooth stays off."},
			{Text: "Then read how far the front stands beyond the side. Move both fences by half of what is wrong, the spacer as it is, or the front's fence alone by all of it: back where it stands out too little."},
		}
		s.Tables = []sheet.Table{m.stepTable("Gap at the lip", "raise the cutter", m.fromLip)}
	case "matched":
		s.Steps = []sheet.Step{
			{Text: "Cut a piece with each cutter, the same face down, and push them together on a flat."},
			{Text: "If the second piece stands above the first, its cutter is too low; below, too high. Move the second cutter by the whole step."},
			{Text: "The faces must close. The bottom of the groove stays open by the cutters' clearance" + m.clearance() + "; that is no error."},
		}
		s.Tables = []sheet.Table{m.stepTable("Step of the second piece", "above: raise, below: lower", m.fromEdge)}
	case "edge":
		s.Steps = []sheet.Step{
			{Text: "Cut a piece of the real stock and measure the edge from its end and from the face that lay on the table."},
			{Text: "Move fence and cutter by the whole of what is wrong: back for more cutter, up for a higher edge."},
		}
		s.Tables = []sheet.Table{m.stepTable("Edge lies too low by", "raise the cutter", func(v float64) (adjust.Move, bool) { return adjust.Move{Height: v, Knows: [2]bool{true, false}}, true })}
	}
	s.Below = len(s.Tables) > 1
	says, asks := m.ask()
	s.Text = append(s.Text, "Disconnect the power before you touch cutter or fence. The program turns what a test shows into a move too; put what you read in place of the figures. "+says)
	s.Ask = asks
	return s
}

// ask are the commands that turn a test's steps into a correction, with figures as an
// example, and what the words in them stand for.
func (m sheetMaker) ask() (says string, asks []string) {
	r := m.f.Request
	of := " --cutter " + r.Joint.Cutter.Handle + " --stock " + r.Stock.String() + m.typedJoint()
	step, small := m.typedLength(m.read()[2]), m.typedLength(m.read()[1])
	switch m.f.Setting.Joint {
	case "lock-miter":
		return "--proud first where the other piece stands above; --tip-land instead of --short where a land is left on the tip.",
			[]string{"blockwright adjust flip" + of + " --step " + step + " --proud turned", "blockwright adjust tip" + of + " --short " + small}
	case "edge-glue":
		return "--proud first where the piece cut face down stands above.", []string{"blockwright adjust edge" + of + " --step " + step + " --proud turned"}
	case "matched":
		return "--proud first where the first piece stands above.", []string{"blockwright adjust edge" + of + " --step " + step + " --proud second"}
	case "drawer-lock":
		return "--face: how far the side's outer face stands beyond where it should; --end: the gap at the lip, with a minus sign.",
			[]string{"blockwright adjust corner" + of + " --face " + small + " --end=-" + step}
	}
	at := r.Joint.At
	return "--landed: how far out of the board's end, and how high above the face that lay on the table, the profile's point came to lie.",
		[]string{"blockwright adjust edge" + of + " --landed " + m.typedLength(at.Table[0]) + "," + m.typedLength(at.Table[1]+m.read()[1])}
}

// typedJoint is what else than cutter and stock was asked of the joint, as one types it.
func (m sheetMaker) typedJoint() string {
	j := m.f.Request.Joint
	text := ""
	if j.With != nil {
		text += " --with " + j.With.Handle
	}
	for _, l := range []struct {
		name string
		mm   float64
		is   bool
	}{
		{"side", j.Other, j.Other > 0 && j.Other != j.Stock}, {"overlay", j.Overlay, j.Overlay > 0},
		{"land", j.Land, j.Land > 0}, {"skim", j.Skim, j.Skim > 0},
	} {
		if l.is {
			text += " --" + l.name + " " + m.typedLength(l.mm)
		}
	}
	if at := j.At; at != nil {
		text += " --at " + m.typedLength(at.Profile[0]) + "," + m.typedLength(at.Profile[1]) + "=" + m.typedLength(at.Table[0]) + "," + m.typedLength(at.Table[1])
	}
	return text
}

// typedLength is a length in the shop's units as a command takes it, rounded to what
// calipers show.
func (m sheetMaker) typedLength(mm float64) string {
	return strings.ReplaceAll(m.decimal(mm), "−", "-") + m.unit()
}

func (m sheetMaker) clearance() string {
	if r := m.f.Setting.Residual; r > 5e-4 {
		return ", " + m.short(r)
	}
	return ""
}

// read are the readings that tables of corrections list, mm.
func (m sheetMaker) read() []float64 {
	if m.units == "in" {
		return []float64{0.002 * InchMM, 0.004 * InchMM, 0.008 * InchMM, 0.012 * InchMM, 0.02 * InchMM, 0.03 * InchMM}
	}
	return []float64{0.05, 0.1, 0.2, 0.3, 0.5, 0.8}
}

func (m sheetMaker) fromFlip(step float64) (adjust.Move, bool) {
	v, err := adjust.FromFlip(m.f.Setting, adjust.Flip{Step: step, Proud: adjust.Turned, Bottom: math.NaN()})
	return v, err == nil
}

func (m sheetMaker) fromEdge(step float64) (adjust.Move, bool) {
	v, err := adjust.FromEdge(m.f.Setting, adjust.Flip{Step: step, Proud: adjust.Second, Bottom: math.NaN()})
	return v, err == nil
}

func (m sheetMaker) fromLip(gap float64) (adjust.Move, bool) {
	v, err := adjust.FromCorner(m.f.Setting, adjust.Corner{End: -gap})
	return v, err == nil
}

// stepTable lists what each reading moves in height: a length, thousandths of an inch,
// and turns and degrees of the lift where its pitch is known.
func (m sheetMaker) stepTable(what, which string, move func(float64) (adjust.Move, bool)) sheet.Table {
	t := sheet.Table{Caption: what + " (" + which + ")", Head: []string{"reads " + m.unit(), "cutter by " + m.unit()}}
	if m.units != "in" {
		t.Head = append(t.Head, "0.001 in")
	}
	pitch := m.f.Request.Shop.Table.LiftPitch
	if pitch > 0 {
		t.Head = append(t.Head, "turns", "degrees")
		t.Note = fmt.Sprintf("Turns of a lift that rises %s each. Let the last movement be upward.", m.short(pitch))
	}
	for _, v := range m.read() {
		mv, ok := move(v)
		if !ok || !mv.Knows[0] {
			continue
		}
		by := math.Abs(mv.Height)
		row := []string{m.fine(v), m.half(by)}
		if m.units != "in" {
			row = append(row, Fixed(by/0.0254, 1))
		}
		if pitch > 0 {
			row = append(row, Fixed(by/pitch, 3), Fixed(by/pitch*360, 0)+"°")
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// half is a length that may be half of one with m.fine's decimals.
func (m sheetMaker) half(mm float64) string {
	if m.units == "in" {
		return Fixed(mm/InchMM, 4)
	}
	return strings.TrimSuffix(Fixed(mm, 3), "0")
}

// tipTable lists what a flat board's tip moves the fence by, the height being right.
// whole says that it is by as much as is read, so that nobody needs the table.
func (m sheetMaker) tipTable() (t sheet.Table, whole bool) {
	lever := m.f.Request.Shop.Table
	whole = lever.LeverPivot == 0
	t = sheet.Table{
		Caption: "Tip of a flat piece, height right (fence)",
		Head:    []string{"reads " + m.unit(), "length lost: forward", "land left: back"},
	}
	if lever.LeverPivot > 0 {
		t.Head = append(t.Head, "lost: free end", "land: free end")
		t.Note = "The free end is that of the pivoting fence."
	}
	for _, v := range m.read() {
		a, err := adjust.FromTip(m.f.Setting, adjust.Tip{Short: v})
		b, err2 := adjust.FromTip(m.f.Setting, adjust.Tip{Land: v})
		if err != nil || err2 != nil {
			continue
		}
		lost, land := math.Abs(a.Fence), math.Abs(b.Fence)
		whole = whole && math.Abs(lost-v) < 5e-4 && math.Abs(land-v) < 5e-4
		row := []string{m.fine(v), m.half(lost), m.half(land)}
		if lever.LeverPivot > 0 {
			k := lever.LeverFree / lever.LeverPivot
			row = append(row, m.half(k*lost), m.half(k*land))
		}
		t.Rows = append(t.Rows, row)
	}
	return t, whole
}

// closedJoint is the joint at the right setting, the test pieces, and the joint with
// errors magnified, each with what can be felt.
func (m sheetMaker) closedJoint() sheet.Section {
	if m.f.Kind == "trial" {
		return sheet.Section{}
	}
	set := m.f.Setting
	s := sheet.Section{Name: "joint", Title: "The closed joint"}
	if set.Joint == "edge" {
		s.Title = "The edge"
	}
	right := laid{set: set, units: m.units}
	v := right.view("right", mainScale(right, 62), true)
	s.Figures = append(s.Figures, m.figure(v, "At the right setting", m.scaleWords(v.times()), "joint-right"))
	if flips(set) {
		t := laid{set: set, flip: true, units: m.units}.view("test", 1, true)
		s.Figures = append(s.Figures, m.figure(t, "Two test pieces", "one turned over: faces level. "+m.scaleWords(1), "joint-test"))
	}
	row := false // of the errors has begun
	for i, e := range usualErrors(m.units) {
		shown := magnified(e)
		l, ok := shown.laid(set)
		if !ok {
			continue
		}
		w := l.view(fmt.Sprintf("wrong-%d", i+1), 1, false)
		if wide, _ := w.size(); wide > wrongWide {
			w.scale = wrongWide / wide
		}
		note := fmt.Sprintf("drawn × %g. %s", shown.Times, m.felt(e))
		f := m.figure(w, upperFirst(shown.name(m.units)), note, fmt.Sprintf("joint-wrong-%d", i+1))
		f.Row = !row
		row = true
		s.Figures = append(s.Figures, f)
	}
	s.Text = []string{"Right, and with single errors drawn larger than they are; the figures beside them are those of the true error, in " + map[string]string{"mm": "mm", "in": "inches"}[m.unit()] + "."}
	return s
}

// wrongWide is the widest in mm that a joint with an error is drawn: four stand in a row.
const wrongWide = 39.0

// felt says what an error shows in the joint, in the shop's units.
func (m sheetMaker) felt(by joint.Error) string {
	set := m.f.Setting
	e := set.Steps(by)
	switch {
	case e.Corner != nil:
		tip := "tip sharp"
		switch v := e.Tips[0].Short; {
		case v > 5e-4:
			tip = "tip " + m.fine(v) + " short"
		case v < -5e-4:
			tip = "land " + m.fine(-v) + " on the tip"
		}
		step := "level"
		if math.Abs(e.FlipTop) > 5e-4 {
			step = "step " + m.signed(e.FlipTop)
		}
		return fmt.Sprintf("Test pieces %s; %s; outside face %s, end %s.", step, tip, m.signed(e.Corner.FaceStep), m.signed(e.Corner.EndStep))
	case set.Joint == "edge":
		return fmt.Sprintf("The edge lands %s out, %s up.", m.signed(e.Off[0]), m.signed(e.Off[1]))
	case set.Joint == "edge-glue":
		switch open := -by.E - set.Request.Skim; {
		case open > 5e-4: // what the cutter no longer reaches stays as it was
			return "Faces level; tips open by " + m.fine(open) + "."
		case math.Abs(e.FlipTop) < 5e-4:
			return "Faces level."
		}
		return fmt.Sprintf("Faces step %s.", m.signed(e.FlipTop))
	}
	e = set.Under(by)
	var says []string
	add := func(mm float64, text string) {
		if math.Abs(mm) > 5e-4 {
			says = append(says, fmt.Sprintf(text, m.fine(math.Abs(mm))))
		}
	}
	add(e.Off[0], map[bool]string{true: "%s out", false: "%s back"}[e.Off[0] > 0])
	add(e.Off[1], map[bool]string{true: "%s up", false: "%s down"}[e.Off[1] > 0])
	if len(says) > 0 {
		says = []string{set.Passes[1].Name + " board " + strings.Join(says, " and ")}
	}
	if set.Joint != "matched" || math.Abs(e.Nested.Normal-set.Residual) > 5e-4 { // its clearance is there in any case
		add(e.Nested.Normal, "gap %s")
	}
	add(e.Nested.Interference, "clash %s")
	switch {
	case len(says) == 0 && set.Joint == "matched" && by.E < 0:
		return "Faces close while the groove's clearance lasts."
	case len(says) == 0 && set.Joint == "matched":
		return "Faces close."
	case len(says) == 0:
		return "Nothing shows."
	}
	return upperFirst(strings.Join(says, "; ")) + "."
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
