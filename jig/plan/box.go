package plan

import (
	"fmt"
	"math"

	"blockwright/jig/joint"
)

// Box asks for a box with four corners of one kind.
type Box struct {
	Length, Width, Height float64 // outside; height is the sides' width
	Setting               *joint.Setting
	Saw                   Saw
	Bottom                float64 // thickness of a bottom panel in grooves, 0 without
	Groove                float64 // its depth, 0 = a third of the sides' thickness
	Up                    float64 // of the groove above the sides' lower edge, 0 = twice the bottom's thickness, 6 at least
}

// panelPlay is the room in mm that a panel has in its grooves, both sides together.
// Common practice, no source.
const panelPlay = 1.0

// Plan works the box out. It needs a joint of two boards with an outside corner.
func (b Box) Plan() (*Plan, error) {
	s := b.Setting
	if s == nil || len(s.Passes) < 2 || s.Passes[1].Lies != joint.Upright {
		return nil, fmt.Errorf("plan: a box needs a corner joint: one board flat, one upright")
	}
	if err := b.Saw.check(); err != nil {
		return nil, err
	}
	flat, up := s.Passes[0], s.Passes[1]
	t := math.Max(flat.Stock, up.Stock)
	for _, v := range []struct {
		name string
		mm   float64
		low  float64
	}{{"length", b.Length, 4 * t}, {"width", b.Width, 4 * t}, {"height", b.Height, 20}} {
		if !(v.mm >= v.low && v.mm <= 5000) {
			return nil, fmt.Errorf("plan: the box's %s is %g mm; want %g to 5000", v.name, v.mm, v.low)
		}
	}
	// The longer sides lie flat: a long board on its end is hard to guide.
	long, short := math.Max(b.Length, b.Width), math.Min(b.Length, b.Width)
	p := &Plan{Title: fmt.Sprintf("Box %g × %g × %g mm outside, %s", b.Length, b.Width, b.Height, s.Joint)}
	lengths := [2]float64{long, short}
	if s.Joint != "lock-miter" {
		// The upright sides stand between the fronts' lips: as long as the box less
		// what the fronts keep outside.
		lip := flush(s)
		lengths[1] = short - 2*lip
		if !(lengths[1] > 0) {
			return nil, fmt.Errorf("plan: the joint's lips of %g mm leave nothing of sides %g long", lip, short)
		}
	}
	p.Pieces = []Piece{
		{"A, C", 2, lengths[0], b.Height, flat.Stock, flat.Name, faceOf(flat)},
		{"B, D", 2, lengths[1], b.Height, up.Stock, up.Name, faceOf(up)},
	}
	p.Blanks = []Blank{
		{"A, C", b.Saw.blankWidth(2, b.Height), lengths[0], 1},
		{"B, D", b.Saw.blankWidth(2, b.Height), lengths[1], 1},
	}
	p.Stages = map[string][]Stage{flat.Name: Stages(flat), up.Name: Stages(up)}
	if b.Bottom > 0 {
		if err := b.bottom(p, long, short, t); err != nil {
			return nil, err
		}
	}
	p.Pieces = append(p.Pieces,
		Piece{"test, flat", 2, testWidth, testLength, flat.Stock, flat.Name, faceOf(flat)},
		Piece{"test, upright", 1, testWidth, testLength, up.Stock, up.Name, faceOf(up)})
	p.Blanks = append(p.Blanks, Blank{"tests", testLength, 3*testWidth + 2*b.Saw.Kerf, 1})
	p.Stock = needed(p.Blanks)
	p.Steps = b.steps()
	p.Notes = []string{
		"Grain wraps round the box when A, B, C, D follow one another along one board; then rip it afterwards and keep the order. With the blanks above, A and C are neighbours, B and D are.",
		"Pencil A to D on the outside faces, and an arrow to the top edge: the labels stay on top in every pass.",
		"A spare side costs little now and a day later: add one of each if the stock allows.",
		"A backer behind each board keeps the far edge from splintering; the strips of 'make strip' guide the fragile tips.",
		fmt.Sprintf("Set for the thickest board, measured: here %g mm.", t),
	}
	return p, nil
}

// flush is what the flat board keeps outside the upright one's end: how far the
// upright board's end stands behind the flat board's face.
func flush(s *joint.Setting) float64 {
	return s.Passes[0].Stock - s.Flush().T[1]
}

func (b Box) bottom(p *Plan, long, short, t float64) error {
	g := b.Groove
	if g == 0 {
		g = t / 3
	}
	up := b.Up
	if up == 0 {
		up = math.Max(6, 2*b.Bottom)
	}
	if !(b.Bottom <= t && g > 0 && g <= t/2) {
		return fmt.Errorf("plan: a bottom of %g mm in a groove %g deep, in sides of %g; want a bottom no thicker than the sides and a groove of at most half of them", b.Bottom, g, t)
	}
	if up+b.Bottom > b.Height {
		return fmt.Errorf("plan: a groove %g above the lower edge does not fit sides of %g", up, b.Height)
	}
	p.Pieces = append(p.Pieces, Piece{"bottom", 1, long - 2*t + 2*g - panelPlay, short - 2*t + 2*g - panelPlay, b.Bottom, "", ""})
	p.Notes = append(p.Notes, fmt.Sprintf("Bottom groove: %.1f wide, %.1f deep, %.1f above the lower edge, in all four sides.", b.Bottom, g, up))
	return nil
}

// steps is the order of work.
func (b Box) steps() []string {
	out := []string{
		"Plane all stock, sides and test pieces together, to one thickness; measure every board and set for the thickest.",
		"Prepare the blanks over-wide and to length; ends square.",
		"Disconnect the power; set the cutter with block and gauge; block and wrench out before the power goes on.",
		"Cut two test pieces flat, turn one over: level faces mean the height is right (adjust flip). Cut the third upright and try the corner (adjust corner).",
		"Flat pass, inside faces down: both ends of the blank for A and C, in the fence stages below, height unchanged.",
		"Upright pass, inside faces against the fence, a backer behind: both ends of the blank for B and D, in its stages.",
		"Rip the blanks to the sides' width; the splintered edges go with the allowance.",
	}
	if b.Bottom > 0 {
		out = append(out, "Groove all four sides for the bottom; cut the bottom; try it dry.")
	}
	return append(out,
		"Try the box dry. Glue sparingly on the long flanks only, keep the tips dry; tape the corners or use a band clamp; check both diagonals.",
	)
}
