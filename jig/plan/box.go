package plan

import (
	"math"

	"blockwright/jig/joint"
)

// Box asks for a box with four corners of one kind, or for a drawer. Height is the
// sides' width.
//
// With a drawer lock the fronts lie flat, so Width is the drawer's width across its
// fronts and Length its depth, both outside and without the overlay.
type Box struct {
	Length, Width, Height float64 // outside
	Setting               *joint.Setting
	Saw                   Saw
	Bottom                float64 // thickness of a bottom panel in grooves, 0 without
	Groove                float64 // its depth, 0 = a third of the sides' thickness
	Up                    float64 // of the groove above the sides' lower edge, 0 = twice the bottom's thickness, 6 at least
	Wrap                  bool    // all sides from one board, so that the grain runs round
}

// Plan works the box out. It needs a joint of two boards with an outside corner.
func (b Box) Plan() (*Plan, error) {
	s := b.Setting
	if !corner(s) {
		return nil, joint.Refuse("a box needs a corner joint, one board flat, one upright: a cutter for lock-miter or drawer-lock")
	}
	if err := b.Saw.check(); err != nil {
		return nil, err
	}
	t := thickest(s)
	if err := within(size{"the box's length", b.Length, 4 * t, 5000}, size{"the box's width", b.Width, 4 * t, 5000},
		size{"the box's height", b.Height, 20, 5000}); err != nil {
		return nil, err
	}
	// The longer sides of a box lie flat: a long board on its end is hard to guide.
	flat, up := math.Max(b.Length, b.Width), math.Min(b.Length, b.Width)
	p := &Plan{Title: say("Box %s × %s × %s outside, "+s.Words(), b.Length, b.Width, b.Height), Ripped: "to be ripped after milling"}
	if s.Joint == "drawer-lock" {
		flat, up = b.Width, b.Length
		p.Title = say("Drawer %s wide × %s deep × %s high outside, "+s.Words(), b.Width, b.Length, b.Height)
	}
	sides := fourSides(s, flat, up)
	p.stage(b.Saw, s)
	sides.add(p, b.Saw, b.Height, b.Wrap)
	if b.Bottom > 0 {
		if err := b.bottom(p, flat, up); err != nil {
			return nil, err
		}
	} else if b.Groove > 0 || b.Up > 0 {
		return nil, joint.Refuse("a groove without a bottom; want the bottom's thickness too")
	}
	sides.spares(p, b.Saw, b.Height)
	p.backers(b.Saw, s, false)
	p.addTests(b.Saw, s, false)
	p.reckon()
	p.Steps = b.steps()
	p.Notes = append(p.Notes, sides.notes(b.Wrap)...)
	return p, nil
}

// bottom adds the panel in its grooves.
func (b Box) bottom(p *Plan, flat, up float64) error {
	h := housing{Panel: b.Bottom, Deep: b.Groove, In: "bottom", Saw: b.Saw}
	if err := h.check(b.Setting); err != nil {
		return err
	}
	at := b.Up
	if at == 0 {
		at = b.Saw.up(math.Max(6, 2*b.Bottom))
	}
	if at+b.Bottom > b.Height {
		return joint.Refuse("a groove %s wide, %s above the lower edge, does not fit sides %s high", b.Bottom, at, b.Height)
	}
	h.add(p, b.Setting, flat, up)
	p.Notes = append(p.Notes,
		say("The groove for the bottom: %s wide, %s deep, its lower edge %s above the sides' lower edge, in the inside of all four. It may run out at the ends: the joint hides it.", b.Bottom, h.Deep, at),
		h.play())
	return nil
}

// steps is the order of work.
func (b Box) steps() []joint.Message {
	what := "box"
	if b.Setting.Joint == "drawer-lock" {
		what = "drawer"
	}
	out := prepare(b.Setting, "sides")
	if b.Wrap {
		out = append(out, say("Prepare one board over-wide, its edges straight; crosscut A, B, C and D from it in this order, exactly to length, ends square; pencil the letters and an arrow to the top edge on the outside faces."))
	} else {
		out = append(out, say("Prepare the blanks over-wide and exactly to length, ends square; pencil the letters and an arrow to the top edge on the outside faces."))
	}
	out = append(out, cutCorners(b.Setting, b.Wrap)...)
	out = append(out, say("Rip to the sides' width: the splintered edges go with the allowance."))
	if b.Bottom > 0 {
		out = append(out, say("Groove the insides of all four sides for the bottom; cut the bottom."))
	}
	return append(out, glueCorners(b.Setting, what, b.Bottom > 0)...)
}
