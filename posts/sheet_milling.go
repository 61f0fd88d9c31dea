package posts

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/gcode"
	"blockwright/geom"
	"blockwright/posts/sheet"
	"blockwright/posts/svg"
)

// clampRoom is what is left in mm between the path of the mill's edge and a clamp or a
// screw's head. Common practice, no source.
const clampRoom = 6.0

// milled is what the mill sweeps on the sheet.
func (m sheetMaker) milled() orb.Bound {
	var all orb.MultiPoint
	add := func(x, y float64) { all = append(all, orb.Point{x, y}) }
	for i := range m.f.Milling.Moves {
		v := &m.f.Milling.Moves[i]
		if v.Cuts() {
			add(v.From[0], v.From[1])
			add(v.To[0], v.To[1])
		}
	}
	if len(all) == 0 {
		return m.f.Bound
	}
	b := all.Bound().Union(m.f.Bound) // arcs bulge round the walls
	r := m.f.Diameter/2 + m.f.Request.Shop.Defaults.KerfExtra
	return b.Union(m.f.Bound.Pad(m.f.Diameter)).Pad(r)
}

// milling is how the plates are cut.
func (m sheetMaker) milling() sheet.Section {
	f, d := m.f, m.f.Request.Shop.Defaults
	deep := f.Sheet.Thick() + d.Through
	t := sheet.Table{Text: true}
	row := func(name, text string) { t.Rows = append(t.Rows, []string{name, text}) }
	row("Sheet", fmt.Sprintf("%s (%s), %s × %s, measured %s thick", f.Sheet.Name, f.Sheet.Material, m.short(f.Sheet.Width), m.short(f.Sheet.Height), m.short(f.Sheet.Thick())))
	row("Tool", fmt.Sprintf("%s, %d flutes, cuts %s wide; flutes %s, out of the collet %s", f.Mill.Name, f.Mill.Flutes, m.short(f.Diameter), m.short(f.Mill.FluteLength), m.short(f.Mill.StickOut)))
	speed := fmt.Sprintf("%.0f rpm", f.RPM)
	if f.Request.Shop.Machine.Dial {
		speed += ", set by hand at the dial: the program waits for it"
	}
	row("Spindle", speed)
	row("Feed", m.feed(f.Feed)+", chip load "+m.chip()+" for each tooth")
	passes := fmt.Sprintf("%d roughing passes of at most %s, ramped in", max(1, int(math.Ceil(deep/f.Sheet.StepDown-1e-9))), m.short(f.Sheet.StepDown))
	if f.Request.Measured {
		passes += fmt.Sprintf("; %s stay on the walls for the second program", m.short(roughLeft))
	} else {
		passes += "; one finishing pass at full depth, " + m.direction()
	}
	row("Passes", passes)
	row("Depth", fmt.Sprintf("through the sheet and %s into the spoilboard", m.short(d.Through)))
	row("Z zero", m.zero())
	row("X and Y zero", "the sheet's lower left corner")
	row("Held by", m.hold())
	row("Rapids", fmt.Sprintf("%s above the sheet's top", m.short(d.SafeZ)))
	of := "milling"
	if f.Engraving != nil {
		of += " and engraving"
	}
	if f.Request.Measured {
		of += "; the second program takes less"
	}
	row("Time", "about "+ClockTime(f.Seconds)+", "+of)
	s := sheet.Section{Name: "milling", Title: "Milling data", Inset: true}
	s.Tables = append(s.Tables, t)
	if files := m.files(); len(files.Rows) > 0 {
		s.Tables = append(s.Tables, files)
	}
	s.Figures = []sheet.Figure{m.clamps()}
	for _, h := range f.Hints {
		if !slices.Contains(f.saidInUse, h) {
			s.List = append(s.List, upperFirst(h)+".")
		}
	}
	s.Text = []string{"Every program was read back and its moves held against the plates before it was written. Run the frame program first: it traces the extents above the sheet, spindle off."}
	return s
}

// feed is a feed in the shop's units a minute.
func (m sheetMaker) feed(mm float64) string {
	if m.units == "in" {
		return Fixed(mm/InchMM, 1) + " in/min"
	}
	return Fixed(mm, 0) + " mm/min"
}

func (m sheetMaker) chip() string {
	v := m.f.Feed / m.f.RPM / float64(m.f.Mill.Flutes)
	if m.units == "in" {
		return Fixed(v/InchMM, 4) + " in"
	}
	return Fixed(v, 3) + " mm"
}

func (m sheetMaker) direction() string {
	d := m.f.Request.Shop.Defaults
	way := "against the rotation"
	if d.Climb {
		way = "climbing"
	}
	if d.Spring {
		way += ", and once more"
	}
	return way
}

func (m sheetMaker) zero() string {
	if m.f.Request.Shop.Defaults.Zero == "top" {
		return "on the sheet's top"
	}
	return "on the spoilboard, under the sheet"
}

func (m sheetMaker) hold() string {
	d := m.f.Request.Shop.Defaults
	switch d.Hold {
	case "screws":
		return "screws through the bores, put in at the pause"
	case "skin":
		return "a skin of " + m.short(d.Skin) + " left under the plates"
	}
	return fmt.Sprintf("tabs %s wide and %s high on free edges, and clamps", m.short(d.TabWidth), m.short(m.f.tabHigh()))
}

// files lists what belongs to the fixture, in the order of use.
func (m sheetMaker) files() sheet.Table {
	t := sheet.Table{Caption: "Files: " + m.f.ID + " with the ending", Text: true}
	for _, w := range m.writers {
		long := w.Long
		switch second := strings.HasPrefix(w.Ext, "finish."); {
		case second && m.f.Request.Measured:
			long += "; 'blockwright finish' writes it"
		case w.Post == sheetPost || w.Program != nil && w.Program(m.f) == nil:
			continue
		}
		t.Rows = append(t.Rows, []string{"." + w.Ext, long})
	}
	if m.f.Engraving != nil && slices.ContainsFunc(m.writers, func(w Writer) bool { return w.Dialect != nil }) {
		t.Note = "The engraving program has its own tool and its zero on the sheet's top. Engrave before the plates are cut free."
	}
	return t
}

// clamps is the whole sheet, small, with where nothing may stand.
func (m sheetMaker) clamps() sheet.Figure {
	f := m.f
	off := m.milled().Pad(clampRoom)
	full := sheetBound(f.Sheet)
	inside := orb.Bound{
		Min: orb.Point{math.Max(off.Min[0], 0), math.Max(off.Min[1], 0)},
		Max: orb.Point{math.Min(off.Max[0], full.Max[0]), math.Min(off.Max[1], full.Max[1])},
	}
	k := math.Min(66/math.Max(full.Max[0], 1), 60/math.Max(full.Max[1], 1))
	v := view{name: "clamps", shows: full, room: room{6, 6, 8, 6}, scale: k}
	v.draw = func(c *svg.Canvas, at svg.View) {
		c.Paths(sheetStyle, at.Paths(geom.Rect(0, 0, full.Max[0], full.Max[1]))...)
		c.Paths(keepOutStyle, at.Paths(geom.Rect(inside.Min[0], inside.Min[1], inside.Max[0], inside.Max[1]))...)
		small := plateStyle
		small.Width = 0.25
		for _, p := range f.Plates {
			c.Paths(small, at.Paths(p.Outline...)...)
		}
		lo, hi := at.Point(inside.Min), at.Point(inside.Max)
		c.Text(svg.Label{Text: m.size(inside.Max[0]), At: orb.Point{hi[0], at.At[1] - 4}, Size: 3, Anchor: svg.Middle})
		c.Text(svg.Label{Text: m.size(inside.Max[1]), At: orb.Point{at.At[0] - 1.4, hi[1] - 1}, Size: 3, Anchor: svg.Middle, Turn: 90})
		c.Line(thinLine, orb.Point{hi[0], lo[1]}, orb.Point{hi[0], at.At[1] - 1})
		c.Line(thinLine, orb.Point{lo[0], hi[1]}, orb.Point{at.At[0] - 1, hi[1]})
		c.Text(svg.Label{Text: "0", At: orb.Point{at.At[0] - 1.5, at.At[1] - 4}, Size: 3, Anchor: svg.End})
	}
	note := fmt.Sprintf("Clamps and screws outside the hatched part only: beyond X %s or Y %s, and clear of the spindle. No clamp higher than %s above the sheet on the way to the zero.",
		m.size(inside.Max[0]), m.size(inside.Max[1]), m.short(f.Request.Shop.Defaults.SafeZ))
	return m.figure(v, "Where clamps may go", note, "clamps")
}

func (m sheetMaker) size(mm float64) string {
	if m.units == "in" {
		return gcode.Number(math.Ceil(mm/InchMM*20)/20, 2)
	}
	return gcode.Number(math.Ceil(mm), 0)
}
