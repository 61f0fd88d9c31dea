package posts

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"blockwright/gcode"
	"blockwright/geom"
)

// pen is the nominal outlines as a path for a pen that touches the sheet's top:
// to look at sizes and places before anything is cut. The spindle stays off.
func pen(f *Fixture) *Program {
	p := &Program{Pen: true, Top: true, Notes: map[int]string{}}
	safe := f.Request.Shop.Defaults.SafeZ
	at := [3]float64{0, 0, safe}
	p.Moves = append(p.Moves, gcode.Move{To: at})
	add := func(m gcode.Move) {
		if m.To == at {
			return
		}
		m.From = at
		p.Moves = append(p.Moves, m)
		at = m.To
	}
	feed := math.Min(f.Request.Shop.Machine.FeedXY, 1000)
	down := math.Min(f.Request.Shop.Machine.FeedZ, 300)
	for i, c := range f.Plates {
		p.Notes[len(p.Moves)] = c.Part
		for _, path := range f.nominal(i) {
			s := path.Start()
			add(gcode.Move{To: [3]float64{s[0], s[1], safe}})
			add(gcode.Move{To: [3]float64{s[0], s[1], 0}, Op: gcode.Line, Feed: down})
			for i := range path.Edges() {
				add(feedAlong(path.Edge(i), 0, feed))
			}
			add(gcode.Move{To: [3]float64{s[0], s[1], safe}})
		}
	}
	return p
}

// nominal are the outlines and bores of plate i on the sheet.
func (f *Fixture) nominal(i int) []geom.Path {
	c := f.Plates[i]
	return append(append([]geom.Path{}, c.Outline...), c.Drill...)
}

// feedAlong is the feed move along an edge at the height z.
func feedAlong(e geom.Edge, z, feed float64) gcode.Move {
	m := gcode.Move{To: [3]float64{e.B[0], e.B[1], z}, Op: gcode.Line, Feed: feed}
	if !e.Straight() {
		m.Centre, _ = e.Arc()
		m.Op = gcode.CCW
		if e.Bulge < 0 {
			m.Op = gcode.CW
		}
	}
	return m
}

// holdPen holds the moves of a pen program, as read back, against the nominal
// outlines: the spindle stays off, nothing goes below the sheet's top, no rapid
// runs low, no line is drawn off an outline and no outline is left out.
func (f *Fixture) holdPen(prog *gcode.Program, ms []gcode.Move) []gcode.Finding {
	var found []gcode.Finding
	fault := func(m *gcode.Move, format string, a ...any) {
		b := prog.Blocks[m.Block]
		found = append(found, gcode.Finding{File: prog.Name, Line: int(b.Line), Column: 1, Code: PenFault, Text: fmt.Sprintf(format, a...)})
	}
	slack := f.wordStep() * 2
	safe := f.Request.Shop.Defaults.SafeZ - slack
	var nominal, drawn []geom.Path
	for i := range f.Plates {
		nominal = append(nominal, f.nominal(i)...)
	}
	for i := range ms {
		m := &ms[i]
		if !m.Moves() {
			continue
		}
		across := math.Hypot(m.To[0]-m.From[0], m.To[1]-m.From[1])
		switch {
		case m.RPM != 0:
			fault(m, "spindle at %g rpm; a pen wants it off", m.RPM)
		case m.To[2] < -slack:
			fault(m, "goes to Z %.4f, below the sheet's top", m.To[2])
		case !m.Cuts() && i > 0 && across > 0 && math.Min(m.From[2], m.To[2]) < safe:
			fault(m, "rapid at Z %.4f; want %.4f or higher", math.Min(m.From[2], m.To[2]), safe)
		case m.Cuts() && (across > 0 || m.Arc()):
			e := edgeOf(m)
			drawn = append(drawn, e)
			if d, at := geom.Farthest(e, nominal, slack); d > slack {
				fault(m, "draws %.4f mm off the outline at (%.4f, %.4f)", d, at[0], at[1])
			}
		}
	}
	for _, p := range nominal {
		if d, at := geom.Farthest(p, drawn, slack); d > slack {
			found = append(found, gcode.Finding{File: prog.Name, Code: PenFault, Text: fmt.Sprintf("leaves out the outline at (%.4f, %.4f)", at[0], at[1])})
		}
	}
	return found
}

// PenFault is the code of what is wrong with a pen program (ours).
const PenFault = "RS490"

// wordStep is the least step in mm of the words of the fixture's programs.
func (f *Fixture) wordStep() float64 {
	if f.Request.Shop.Units == "in" {
		return inchStep
	}
	return 1e-4
}

// edgeOf is a feed move in XY as a path of one edge.
func edgeOf(m *gcode.Move) geom.Path {
	a, b := orb.Point{m.From[0], m.From[1]}, orb.Point{m.To[0], m.To[1]}
	p := geom.Path{V: []geom.Vertex{{Point: a}, {Point: b}}}
	if m.Arc() {
		p.V[0].Bulge = math.Tan(m.Sweep() / 4)
	}
	return p
}
