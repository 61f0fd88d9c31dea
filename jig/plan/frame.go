package plan

import (
	"math"

	"blockwright/jig/joint"
)

// Frame asks for a frame of four boards round a panel, a glass or nothing.
//
// With a lock miter the boards stand on edge, mitered at the corners: the board's
// thickness is the frame's face and Member its depth from front to back. With a
// matched set they lie in one plane: two stiles as long as the frame, two rails
// whose ends fit the stiles' edges; Member is their width, and the groove that the
// first cutter leaves along the edges takes the panel.
type Frame struct {
	Length, Width float64 // outside; the stiles of a matched set run along the length
	Member        float64
	Setting       *joint.Setting
	Saw           Saw
	Panel         float64 // thickness, 0 without
	Groove        float64 // lock miter: its depth, 0 = a third of the boards
	Up            float64 // lock miter: of the groove from the back edge; 0 = a third of the frame's depth
	Rabbet        bool    // lock miter: a rabbet at the back edge instead of the groove
	Wrap          bool    // lock miter: all four from one board
}

// Plan works the frame out.
func (b Frame) Plan() (*Plan, error) {
	s := b.Setting
	if s == nil {
		return nil, joint.Refuse("a frame needs a joint")
	}
	if err := b.Saw.check(); err != nil {
		return nil, err
	}
	if b.Panel == 0 && (b.Groove > 0 || b.Up > 0 || b.Rabbet) {
		return nil, joint.Refuse("a groove or rabbet without a panel; want the panel's thickness too")
	}
	switch s.Joint {
	case "lock-miter":
		return b.mitered()
	case "matched":
		return b.coped()
	}
	return nil, joint.Refuse("a frame needs a cutter for lock-miter, its boards on edge, or a matched set, its boards flat; this is one for " + s.Joint)
}

// mitered is a frame of boards on edge.
func (b Frame) mitered() (*Plan, error) {
	s := b.Setting
	t := thickest(s)
	if err := within(size{"the frame's length", b.Length, 4 * t, 5000}, size{"the frame's width", b.Width, 4 * t, 5000},
		size{"its boards' width", b.Member, 10, 500}); err != nil {
		return nil, err
	}
	flat, up := math.Max(b.Length, b.Width), math.Min(b.Length, b.Width)
	p := &Plan{Title: say("Frame %s × %s outside, %s deep, lock miter", b.Length, b.Width, b.Member), Ripped: "to be ripped after milling"}
	k := fourSides(s, flat, up)
	p.stage(b.Saw, s)
	k.add(p, b.Saw, b.Member, b.Wrap)
	if b.Panel > 0 {
		if err := b.housed(p, flat, up); err != nil {
			return nil, err
		}
	}
	k.spares(p, b.Saw, b.Member)
	p.backers(b.Saw, s, false)
	p.addTests(b.Saw, s, false)
	p.reckon()
	p.Steps = b.steps()
	p.Notes = append(p.Notes, k.notes(b.Wrap)...)
	return p, nil
}

// housed adds the panel in its groove or rabbet.
func (b Frame) housed(p *Plan, flat, up float64) error {
	h := housing{Panel: b.Panel, Deep: b.Groove, In: "panel", Saw: b.Saw}
	if err := h.check(b.Setting); err != nil {
		return err
	}
	at := b.Up
	if at == 0 && !b.Rabbet {
		at = b.Saw.down(b.Member / 3)
	}
	if at+b.Panel > b.Member {
		return joint.Refuse("a panel %s thick, %s from the back edge, does not fit a frame %s deep", b.Panel, at, b.Member)
	}
	h.add(p, b.Setting, flat, up)
	where := say("The groove for the panel: %s wide, %s deep, %s from the back edge, in the inside of all four. It may run out at the ends: the joint hides it.", b.Panel, h.Deep, at)
	if b.Rabbet {
		where = say("The rabbet for the panel: %s deep into the boards and at least %s wide from the back edge, on the inside of all four; what is wider holds the points or strips behind the panel. It may run out at the ends: the joint hides it.", h.Deep, b.Panel+at)
	}
	p.Notes = append(p.Notes, where, h.play())
	return nil
}

// steps is the order of work of a frame of boards on edge.
func (b Frame) steps() []joint.Message {
	out := prepare(b.Setting, "boards")
	if b.Wrap {
		out = append(out, say("Prepare one board over-wide, its edges straight; crosscut A, B, C and D from it in this order, exactly to length, ends square; pencil the letters and an arrow to the front edge on the outside faces."))
	} else {
		out = append(out, say("Prepare the blanks over-wide and exactly to length, ends square; pencil the letters and an arrow to the front edge on the outside faces."))
	}
	out = append(out, cutCorners(b.Setting, b.Wrap)...)
	out = append(out, say("Rip to the frame's depth: the splintered edges go with the allowance."))
	switch {
	case b.Panel > 0 && b.Rabbet:
		out = append(out, say("Cut the rabbet along the inside back edge of all four; cut the panel."))
	case b.Panel > 0:
		out = append(out, say("Groove the insides of all four; cut the panel."))
	}
	return append(out, glueCorners(b.Setting, "frame", b.Panel > 0 && !b.Rabbet)...)
}

// coped is a frame of stiles and rails.
func (b Frame) coped() (*Plan, error) {
	s := b.Setting
	first, then := s.Passes[0], s.Passes[1]
	eats := s.Nested().T[0] // the rail's end comes past the stile's edge by so much
	if b.Groove > 0 || b.Up > 0 || b.Rabbet || b.Wrap {
		return nil, joint.Refuse("a groove's place, a rabbet or a wrapped grain; want none with a matched set: the first cutter makes the groove")
	}
	g, grooved := s.Groove()
	if !grooved {
		return nil, joint.Refuse("the first cutter leaves the tongue; want the cutter that leaves the groove first and the other as the second: the stiles' groove takes the rails' tongues and the panel")
	}
	if err := within(size{"the members' width", b.Member, 2*g.Deep + 10, 500}, size{"the frame's length", b.Length, 3 * b.Member, 5000},
		size{"the frame's width", b.Width, 2*b.Member + 50, 5000}); err != nil {
		return nil, err
	}
	rail := b.Width - 2*b.Member + 2*eats
	if wide := g.To - g.From; b.Panel > wide {
		return nil, joint.Refuse("a panel %s thick; the groove is %s wide: thin the panel's edges to that, or take %s", b.Panel, wide, wide)
	}
	p := &Plan{Title: say("Frame %s × %s outside, members %s wide, matched set", b.Length, b.Width, b.Member), Ripped: "to be ripped as the steps say"}
	p.stage(b.Saw, s)
	along, ends := "inner edge with cutter "+first.Cutter.Handle+", face down", "both ends with cutter "+then.Cutter.Handle+", then the inner edge with "+first.Cutter.Handle+", face down"
	p.Pieces = []Piece{
		{"stiles", 2, b.Length, b.Member, first.Stock, first.Name, along},
		{"rails", 2, rail, b.Member, then.Stock, then.Name, ends},
	}
	p.Blanks = []Blank{
		{"stiles", b.Saw.blankWidth(2, b.Member), b.Length, first.Stock, 1},
		{"rails", b.Saw.blankWidth(2, b.Member), rail, then.Stock, 1},
	}
	if b.Panel > 0 {
		in := func(v float64) float64 { return v - 2*b.Member + 2*g.Deep - b.Saw.Play }
		p.Pieces = append(p.Pieces, Piece{"panel", 1, in(b.Length), in(b.Width), b.Panel, "", ""})
		p.Notes = append(p.Notes, housing{In: "panel", Saw: b.Saw}.play())
	}
	if n := b.Saw.Spares; n > 0 {
		p.Pieces = append(p.Pieces,
			Piece{"spare stile", n, b.Length, b.Member, first.Stock, first.Name, along},
			Piece{"spare rail", n, rail, b.Member, then.Stock, then.Name, ends})
		p.Blanks = append(p.Blanks,
			Blank{"spare stile", b.Saw.blankWidth(n, b.Member), b.Length, first.Stock, 1},
			Blank{"spare rail", b.Saw.blankWidth(n, b.Member), rail, then.Stock, 1})
	}
	p.Pieces = append(p.Pieces, Piece{"backer", 1, b.Saw.Test.Length, b.Saw.Test.Width, then.Stock, then.Name, "scrap, square, behind the rails' ends"})
	p.addTests(b.Saw, s, true)
	p.reckon()
	p.Steps = append(prepare(s, "stiles, rails"),
		say("Rip the stiles to %s. Leave the rails' blank whole, exactly %s long, ends square. Pencil the face of every board.", b.Member, rail),
		setUp(),
		say("Cut one test piece along its edge with cutter "+first.Cutter.Handle+", face down. Leave this setting for the edges or note it; the block finds it again."),
		say("Disconnect the power; change to cutter "+then.Cutter.Handle+" and set it. Cut the end of the other test piece, the same face down, and push the two together: faces level to the touch (blockwright adjust edge)."),
		say("Cut both ends of the rails' blank, face down, square against the fence with a backer behind, in the fence stages of this cutter. A narrow rail alone wants a sled."),
		say("Rip the rails to %s: the splinters go with the allowance.", b.Member),
		say("Disconnect the power; change back to cutter "+first.Cutter.Handle+" and set it with its block. Cut the inner edge of all four, face down, in its stages."))
	last := "Try the frame together without glue. Glue the rails' ends and the stiles' edges there only"
	if b.Panel > 0 {
		p.Steps = append(p.Steps, say("Cut the panel; try it in the grooves: it must slide."))
		last += ", never the panel"
	}
	p.Steps = append(p.Steps, say(last+"; clamp along the rails; measure both diagonals: equal means square."))
	p.Notes = append(p.Notes,
		say("The groove is %s wide and %s deep from the stiles' own edge. Each rail is longer than the opening between the edges by %s at both ends.", g.To-g.From, g.Deep, eats),
		say("Cut the ends before the edges: the cut along the edge takes the splinters away."))
	return p, nil
}
