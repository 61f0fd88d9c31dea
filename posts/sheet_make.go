package posts

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"blockwright/gcode"
	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
	"blockwright/posts/sheet"
)

// A sheetMaker says a fixture in words, tables and drawings, in the shop's units first.
type sheetMaker struct {
	f       *Fixture
	pic     picture
	names   []named
	units   string
	writers []Writer
}

// writeSheet writes the setup sheet of a fixture.
func writeSheet(w io.Writer, f *Fixture) error {
	s, err := sheetOf(f)
	if err != nil {
		return err
	}
	return sheet.Write(w, s)
}

// sheetOf is the setup sheet of a fixture.
func sheetOf(f *Fixture) (sheet.Sheet, error) {
	writers, err := writersFor(f.Request.Posts)
	if err != nil {
		return sheet.Sheet{}, err
	}
	m := sheetMaker{f: f, pic: pictureOf(f), units: f.Request.Shop.Units, writers: writers}
	m.pic.Narrow = true
	m.names = seatNames(m.pic.Parts)
	s := sheet.Sheet{
		ID: f.ID, Kicker: "Setup sheet", Title: m.title(), Lead: m.lead(), Facts: m.facts(), Places: m.places(),
		Version: f.Request.Version,
	}
	add := func(sections ...sheet.Section) {
		for _, sec := range sections {
			if len(sec.Text)+len(sec.Steps)+len(sec.List)+len(sec.Keys)+len(sec.Tables)+len(sec.Figures) > 0 {
				s.Sections = append(s.Sections, sec)
			}
		}
	}
	add(m.measures(), m.use(), m.inPlace(), m.care(), m.closedJoint(), m.testCut(), m.twoPrograms(), m.milling())
	if m.lettered() || f.Kind == "trial" { // their plates fill pages
		add(m.sources(), m.plates())
	} else {
		add(m.plates(), m.sources())
	}
	return s, nil
}

// proveSheet reads a sheet back from its bytes and holds it against the fixture.
func (f *Fixture) proveSheet(text []byte) error {
	got, err := sheet.Read(text)
	if err != nil {
		return err
	}
	if got.ID != f.ID {
		return fmt.Errorf("the sheet is that of %q when read back; want %q", got.ID, f.ID)
	}
	want := sheetMaker{f: f, units: f.Request.Shop.Units}.places()
	want = slices.DeleteFunc(want, func(p sheet.Place) bool { return p.None })
	same := func(a, b sheet.Place) bool { return a.Name == b.Name && a.For == b.For && a.MM == b.MM }
	if !slices.EqualFunc(got.Places, want, same) {
		return fmt.Errorf("the sheet states the setting as %v when read back; want %v", got.Places, want)
	}
	if len(got.Drawings) == 0 {
		return fmt.Errorf("the sheet has no drawing when read back")
	}
	for _, d := range got.Drawings {
		if d[0] > sheet.MaxWidth || d[1] > sheet.MaxHeight {
			return fmt.Errorf("a drawing of %g × %g mm leaves the paper", d[0], d[1])
		}
	}
	return nil
}

// kindLead says what each kind of fixture is.
var kindLead = map[string]string{
	"block":  "An upright plate with the board's end cut as the right setting leaves it, and a crossbar for the fence. Brought to the cutter, it sets height and fence in one.",
	"gauge":  "A flat bar across the fence opening. Its nose touches when the fence stands right.",
	"strip":  "Sacrificial strips that guide the board's fragile edge where the cut leaves nothing to ride on.",
	"coupon": "The joint's ideal halves. A routed test piece laid into one shows its error as a step.",
	"trial":  "A frame with a window, and a square. Calipers on them tell what the mill truly cuts and how the machine travels.",
	"facing": "A sacrificial facing for the fence with the cutter's own outline, so that no gap beside the cutter lets the edge splinter.",
}

func (m sheetMaker) lead() string {
	lead := kindLead[m.f.Kind]
	if m.f.Kind == "trial" {
		return lead
	}
	if m.f.Kind == "coupon" && m.f.Setting.Joint == "edge" {
		lead = "The edge as it should be. Laid on a routed test piece it shows where too much or too little came off."
	}
	return fmt.Sprintf("%s For boards %s thick.", lead, m.both(m.f.Pass.Stock))
}

// title is the fixture's, the stock in the shop's units.
func (m sheetMaker) title() string {
	return titleWith(m.f.Title, m.f.Request.Stock, m.short(m.f.Request.Stock.MM))
}

// titleWith is a fixture's title with its stock as a reader wants it: 19 mm, not 19mm.
func titleWith(title string, stock Measure, text string) string {
	return strings.Replace(title, "stock "+stock.String(), "stock "+strings.ReplaceAll(text, " ", "\u00a0"), 1)
}

func (m sheetMaker) facts() []sheet.Fact {
	f, r := m.f, m.f.Request
	var out []sheet.Fact
	add := func(name, text string) { out = append(out, sheet.Fact{Name: name, Text: text}) }
	if f.Kind != "trial" {
		c, own := r.Joint.Cutter.Name, m.passWord() != ""
		switch w := r.Joint.With; {
		case w != nil && own && f.Pass.Cutter == w:
			c = w.Name + ", to match " + c
		case w != nil && own:
			c += ", matched by " + w.Name
		case w != nil:
			c += " and " + w.Name
		}
		add("Cutter", c)
		add("Joint", strings.ReplaceAll(f.Setting.Joint, "-", " ")+m.passWord())
		stock, other := "Stock", "Upright board"
		if f.Setting.Joint == "drawer-lock" {
			stock, other = "Front and back", "Sides"
		}
		add(stock, m.both(r.Joint.Stock))
		if o := r.Joint.Other; o > 0 && o != r.Joint.Stock {
			add(other, m.both(o))
		}
		if ps := f.Made.Passes; f.Setting.Joint == "drawer-lock" && len(ps) == 2 && f.Kind != "facing" {
			add("Spacer, fence to stop", m.both(math.Abs(ps[1].Fence-ps[0].Fence))+" from one pass to the other")
		}
		for _, v := range []struct {
			name string
			mm   float64
		}{{"Overlay", r.Joint.Overlay}, {"Land on the tips", r.Joint.Land}, {"Skim", r.Joint.Skim}} {
			if v.mm > 0 {
				add(v.name, m.both(v.mm))
			}
		}
		if at := r.Joint.At; at != nil {
			add("Set so that", fmt.Sprintf("the profile's point at radius %s, height %s lands %s out of the fence, %s above the table",
				m.short(at.Profile[0]), m.short(at.Profile[1]), m.short(at.Table[0]), m.short(at.Table[1])))
		}
		out = append(out, m.lies()...)
		if f.Kind == "strip" {
			add("Board's width", m.both(m.boardWidth()))
		}
	}
	add("Cut from", fmt.Sprintf("%s, %s thick", f.Sheet.Material, m.both(f.Sheet.Thick())))
	add("End mill", fmt.Sprintf("%s, cuts %s", f.Mill.Name, m.both(f.Diameter)))
	if c := f.Request.corrected(); c != "" {
		add("Corrected by a test cut", c)
	}
	if mark := m.mark(); mark != "" {
		add("Marked", mark)
	}
	return out
}

// passWord names the pass that the fixture is for, where the passes differ.
func (m sheetMaker) passWord() string {
	if m.f.Request.Variant != "" || m.f.Request.Pass > 0 || m.differ() && (m.f.Kind == "block" || m.f.Kind == "gauge" || m.f.Kind == "facing") {
		return ", " + m.f.Pass.Name + " pass"
	}
	return ""
}

// mark is what is engraved; where the plates differ in its last line, all that these say.
func (m sheetMaker) mark() string {
	var first, last []string
	for _, c := range m.f.Plates {
		if len(c.Engrave) == 0 || c.Mark == "" || c.Kind == "witness" {
			continue
		}
		lines := strings.Split(c.Mark, "\n")
		if n := len(lines) - 1; first == nil {
			first, last = lines[:n], lines[n:]
		} else if slices.Equal(lines[:n], first) && !slices.Contains(last, lines[n]) {
			last = append(last, lines[n])
		}
	}
	return strings.Join(append(first, strings.Join(last, " or ")), " · ")
}

func (m sheetMaker) boardWidth() float64 {
	if w := m.f.Request.Width; w > 0 {
		return w
	}
	return StripWidth
}

// cutters are those of the joint.
func (m sheetMaker) cutters() []*cutter.Cutter {
	r := m.f.Request.Joint
	if r.With == nil {
		return []*cutter.Cutter{r.Cutter}
	}
	return []*cutter.Cutter{r.Cutter, r.With}
}

// differ tells whether the passes want cutter or fence in different places.
func (m sheetMaker) differ() bool {
	for _, p := range m.f.Made.Passes[1:] {
		if !samePlace(p, m.f.Made.Passes[0]) {
			return true
		}
	}
	return false
}

func samePlace(a, b joint.Pass) bool {
	return math.Abs(a.Height-b.Height) < geom.Tol && math.Abs(a.Fence-b.Fence) < geom.Tol && a.Cutter == b.Cutter
}

// passes are those whose places the sheet states: the fixture's own, of fixtures for
// the whole joint each that differs.
func (m sheetMaker) passes() []joint.Pass {
	switch m.f.Kind {
	case "trial":
		return nil
	case "block", "gauge", "facing":
		return []joint.Pass{m.f.Pass}
	}
	var out []joint.Pass
	for _, p := range m.f.Made.Passes {
		if !slices.ContainsFunc(out, func(q joint.Pass) bool { return samePlace(p, q) }) {
			out = append(out, p)
		}
	}
	return out
}

// places are height and fence, as large figures.
func (m sheetMaker) places() []sheet.Place {
	var out []sheet.Place
	ps := m.passes()
	for _, p := range ps {
		of := ""
		if len(ps) > 1 || m.differ() {
			of = p.Name + " pass"
		}
		face := "the fence's face"
		if m.f.Kind == "facing" {
			face = "the facing's face"
		}
		height := sheet.Place{Name: "height", For: of, MM: p.Height, Says: "the lower end of the cutting edge, " + sideWords(p.Height, "above", "below", "the table")}
		fence := sheet.Place{Name: "fence", For: of, MM: p.Fence, Says: "the spindle's axis, " + sideWords(p.Fence, "behind", "in front of", face)}
		if !p.Cutter.Known[1] {
			height = sheet.Place{Name: "height", For: of, None: true, Says: "The cutter's file gives heights up to a shift: set it by the block or by a test cut."}
		}
		if !p.Cutter.Known[0] {
			fence = sheet.Place{Name: "fence", For: of, None: true, Says: "The cutter's file gives radii up to a shift: set it by the block or by a test cut."}
		}
		for _, q := range []sheet.Place{height, fence} {
			q.Text, q.Also = m.length(q.MM), m.other(q.MM)
			out = append(out, q)
		}
	}
	if f := m.f.Facing; f != nil {
		d := f.Fence
		out = append(out, sheet.Place{Name: "bare fence", For: "behind the facing", MM: d, Text: m.length(d), Also: m.other(d),
			Says: "the spindle's axis, " + sideWords(d, "behind", "in front of", "the bare fence's face") + ": the fence stands " + m.short(f.Thick) + " farther back than without a facing"})
	}
	return out
}

func sideWords(v float64, positive, negative, of string) string {
	switch {
	case math.Abs(v) < 5e-4:
		return "level with " + of
	case v > 0:
		return positive + " " + of
	}
	return negative + " " + of
}

// length is a length in the shop's units: mm to 0.001, inches to 0.0001.
func (m sheetMaker) length(mm float64) string {
	if m.units == "in" {
		return m.inch(mm)
	}
	return m.mm(mm)
}

// bare is the same without the unit.
func (m sheetMaker) bare(mm float64) string { return strings.TrimSuffix(m.length(mm), " "+m.unit()) }

// other is the same in the other units, with the nearest 64th of an inch.
func (m sheetMaker) other(mm float64) string {
	ruler := m.ruler(mm)
	if ruler != "" {
		ruler = " = " + ruler
	}
	if m.units == "in" {
		return strings.TrimPrefix(ruler+" in, "+strings.ReplaceAll(m.mm(mm), " ", "\u00a0"), " in, ")
	}
	return m.inch(mm) + ruler
}

// both is a length in both units, rounded as one would say it.
func (m sheetMaker) both(mm float64) string {
	if m.units == "in" {
		return m.short(mm) + " (" + sizeText(mm, "mm") + " mm)"
	}
	return sizeText(mm, "mm") + " mm (" + sizeText(mm, "in") + " in)"
}

// short is a length in the shop's units without noughts at its end, in inches as a
// ruler shows it where it is a 64th.
func (m sheetMaker) short(mm float64) string {
	if r := m.ruler(mm); m.units == "in" && r != "" && !strings.Contains(r, " ") {
		return r + " in"
	}
	return m.decimal(mm) + " " + m.unit()
}

// decimal is a length in the shop's units in shortest decimals, without the unit.
func (m sheetMaker) decimal(mm float64) string { return sizeText(mm, m.units) }

// about is a length of common practice, in round figures of the shop's units.
func (m sheetMaker) about(mm, inch float64) string {
	if m.units == "in" {
		return gcode.Number(inch, 4) + " in"
	}
	return gcode.Number(mm, 3) + " mm"
}

func (m sheetMaker) unit() string {
	if m.units == "in" {
		return "in"
	}
	return "mm"
}

func (m sheetMaker) mm(mm float64) string   { return minus(Fixed(mm, 3)) + " mm" }
func (m sheetMaker) inch(mm float64) string { return minus(Fixed(mm/InchMM, 4)) + " in" }
func (m sheetMaker) ruler(mm float64) string {
	return minus(strings.ReplaceAll(Ruler(mm), " - ", " − "))
}

// fine is a small length in the shop's units with fixed decimals, no unit.
func (m sheetMaker) fine(mm float64) string {
	if m.units == "in" {
		return minus(Fixed(mm/InchMM, 4))
	}
	return minus(Fixed(mm, 2))
}

// signed is the same with a plus sign for what is more than nothing.
func (m sheetMaker) signed(mm float64) string {
	s := m.fine(mm)
	if mm > 0 && strings.Trim(s, "0.") != "" {
		return "+" + s
	}
	return s
}

// minus writes a true minus sign.
func minus(s string) string {
	if strings.HasPrefix(s, "-") {
		return "−" + s[1:]
	}
	return s
}
