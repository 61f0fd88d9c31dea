package plan

import (
	"math"

	"blockwright/jig/joint"
)

// A housing is what holds a panel inside four boards: a groove, or a rabbet at one
// edge.
type housing struct {
	Panel float64 // its thickness
	Deep  float64 // into the boards; 0: a third of the thinner
	In    string  // label of the piece
	Saw   Saw
}

// check fills in the depth and refuses what would cut the boards through.
func (h *housing) check(s *joint.Setting) error {
	t := math.Min(s.Passes[0].Stock, s.Passes[1].Stock)
	if h.Deep == 0 {
		h.Deep = h.Saw.down(t / 3)
	}
	if h.Panel > t {
		return joint.Refuse("the "+h.In+": %s thick; want at most the boards' own %s", h.Panel, t)
	}
	if h.Deep > t/2 {
		return joint.Refuse("the "+h.In+"'s groove: %s deep; want at most half of the boards' %s", h.Deep, t)
	}
	return nil
}

// add adds the panel: the inside of the boards and what enters them, less the play.
// flat and up are the outside sizes.
func (h housing) add(p *Plan, s *joint.Setting, flat, up float64) {
	in := func(outside, t float64) float64 { return outside - 2*t + 2*h.Deep - h.Saw.Play }
	p.Pieces = append(p.Pieces, Piece{h.In, 1, in(flat, s.Passes[1].Stock), in(up, s.Passes[0].Stock), h.Panel, "", ""})
}

// play is what to know of the panel.
func (h housing) play() joint.Message {
	return say("The "+h.In+" has %s of play in its grooves, for plywood. Solid wood swells across the grain: give it more that way, and never glue it in.", h.Saw.Play)
}
