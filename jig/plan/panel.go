package plan

import (
	"strconv"

	"blockwright/jig/joint"
)

// Panel asks for a panel glued up edge to edge.
type Panel struct {
	Width, Length float64 // finished
	Boards        int
	Setting       *joint.Setting
	Saw           Saw
}

// Plan works the panel out. Each joint eats its interlock and the skim: two boards
// laid together are narrower by the way the second's edge comes past the first's.
func (b Panel) Plan() (*Plan, error) {
	s := b.Setting
	if s == nil || len(s.Passes) < 2 || s.Passes[1].Lies != joint.Flat {
		return nil, joint.Refuse("a panel needs a joint of two edges, both boards flat: a cutter for edge-glue or a matched set")
	}
	if err := b.Saw.check(); err != nil {
		return nil, err
	}
	if b.Boards < 2 || b.Boards > 50 {
		return nil, joint.Refuse("a panel of " + strconv.Itoa(b.Boards) + " boards; want 2 to 50")
	}
	if err := within(size{"the panel's width", b.Width, 20, 5000}, size{"the panel's length", b.Length, 150, 5000}); err != nil {
		return nil, err
	}
	eats := s.Nested().T[0]
	width := (b.Width + float64(b.Boards-1)*eats + 2*b.Saw.Edge) / float64(b.Boards)
	if width < 2*eats+20 {
		return nil, joint.Refuse(strconv.Itoa(b.Boards)+" boards would be %s wide each; want at least %s: take fewer boards", width, 2*eats+20)
	}
	first, then := s.Passes[0], s.Passes[1]
	p := &Plan{Title: say("Panel %s × %s of "+strconv.Itoa(b.Boards)+" boards, "+s.Words(), b.Width, b.Length), Ripped: "jointed straight and exactly to width"}
	two := then.Cutter != first.Cutter
	face := "left edge with the good face down, right edge with it up"
	if two {
		face = "left edge with cutter " + first.Cutter.Handle + ", right edge with " + then.Cutter.Handle + ", good face down in both"
	}
	p.Pieces = []Piece{{"1 to " + strconv.Itoa(b.Boards), b.Boards, b.Length + 2*b.Saw.Edge, width, first.Stock, first.Name, face}}
	p.Blanks = []Blank{{"boards", width, b.Length + 2*b.Saw.Edge, first.Stock, b.Boards}}
	if n := b.Saw.Spares; n > 0 {
		p.Pieces = append(p.Pieces, Piece{"spare", n, b.Length + 2*b.Saw.Edge, width, first.Stock, first.Name, "as the others"})
		p.Blanks = append(p.Blanks, Blank{"spare", width, b.Length + 2*b.Saw.Edge, first.Stock, n})
	}
	p.addTests(b.Saw, s, true)
	p.stage(b.Saw, s)
	p.reckon()
	p.Steps = []joint.Message{
		say("Plane boards, spares and test pieces together to one thickness; measure every board. This plan is for %s: plan again with the thickest if they came out otherwise.", first.Stock),
		say("Joint the edges straight and rip all boards to %s. Lay them out as they will be, number them, and pencil one large triangle over all the joints on the good face.", width),
		setUp(),
	}
	outer := " The left edge of board 1 and the right edge of the last stay square."
	if two {
		p.Steps = append(p.Steps,
			say("Cut one test piece with cutter "+first.Cutter.Handle+", good face down. Cut the left edges of all boards with it, in the fence stages above, the height unchanged."+outer),
			say("Disconnect the power; change to cutter "+then.Cutter.Handle+" and set it. Cut the other test piece, the same face down; push the two together: faces level to the touch (blockwright adjust edge)."),
			say("Cut the right edges of all boards, good face down, in the stages of this cutter."))
	} else {
		p.Steps = append(p.Steps,
			say("Cut two test pieces, one with its good face down, one with it up, and lay them together: faces level to the touch (blockwright adjust edge)."),
			say("Cut every board: its left edge with the good face down, its right edge with it up, in the fence stages above, the height unchanged."+outer))
	}
	p.Steps = append(p.Steps,
		say("Try the panel together without glue. Glue both sides of each joint thinly; clamp every 150 mm (6 in), from above and below by turns; check with a straightedge."),
		say("Trim to %s × %s once the glue is dry.", b.Width, b.Length))
	p.Notes = []joint.Message{
		say("Each joint takes %s of width. The boards are wider by that, and by the allowance of %s on both outer edges and both ends.", eats, b.Saw.Edge),
		say("Hold the boards down with featherboards right at the cutter: a board that lifts there makes a step."),
	}
	return p, nil
}
