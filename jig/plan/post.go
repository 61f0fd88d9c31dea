package plan

import (
	"fmt"
	"math"

	"blockwright/jig/joint"
)

// Post asks for a hollow four-sided post: the corner joint along the grain.
type Post struct {
	Size, Length float64 // outside, square
	Setting      *joint.Setting
	Saw          Saw
}

// Plan works the post out: two opposite staves have both edges cut flat, the other
// two both edges upright, so no stave has one pass of each kind.
func (b Post) Plan() (*Plan, error) {
	s := b.Setting
	if s == nil || s.Joint != "lock-miter" {
		return nil, fmt.Errorf("plan: a post needs a lock miter cutter")
	}
	if err := b.Saw.check(); err != nil {
		return nil, err
	}
	flat, up := s.Passes[0], s.Passes[1]
	t := math.Max(flat.Stock, up.Stock)
	if !(b.Size >= 3*t && b.Size <= 1000) {
		return nil, fmt.Errorf("plan: the post is %g mm across; want %g to 1000 with stock of %g", b.Size, 3*t, t)
	}
	if !(b.Length >= 150 && b.Length <= 5000) {
		return nil, fmt.Errorf("plan: the post is %g mm long; want 150 to 5000", b.Length)
	}
	p := &Plan{Title: fmt.Sprintf("Post %g × %g mm, %g long, lock miter along the grain", b.Size, b.Size, b.Length)}
	p.Pieces = []Piece{
		{"A, C", 2, b.Length, b.Size, flat.Stock, flat.Name, faceOf(flat)},
		{"B, D", 2, b.Length, b.Size, up.Stock, up.Name, faceOf(up)},
		{"test, flat", 2, testLength, testWidth, flat.Stock, flat.Name, faceOf(flat)},
		{"test, upright", 1, testLength, testWidth, up.Stock, up.Name, faceOf(up)},
	}
	p.Blanks = []Blank{
		{"A, B, C, D", b.Saw.blankWidth(4, b.Size), b.Length, 1},
		{"tests", b.Saw.blankWidth(3, testWidth), testLength, 1},
	}
	p.Stages = map[string][]Stage{flat.Name: Stages(flat), up.Name: Stages(up)}
	p.Stock = needed(p.Blanks)
	p.Steps = []string{
		"Plane all stock and the test pieces together to one thickness; joint one edge of each stave straight.",
		"Rip the staves to the post's outside size exactly, edges parallel: the cut takes the edge to a point and no further.",
		"Disconnect the power; set the cutter with block and gauge; block and wrench out before the power goes on.",
		"Cut two test pieces flat, turn one over (adjust flip); cut the third upright and try the corner (adjust corner).",
		"Flat pass, inside faces down: both edges of A and C, in the fence stages, featherboards before and behind the cutter.",
		"Upright pass, inside faces against the fence, on a tall fence: both edges of B and D.",
		"Try dry; glue on the long flanks, band clamps every 150 mm; check for twist before it sets.",
	}
	p.Notes = []string{
		"Figure runs round the post when A, B, C, D are ripped side by side from one board and keep their order.",
		fmt.Sprintf("Set for the thickest stave, measured: here %g mm.", t),
	}
	return p, nil
}

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
		return nil, fmt.Errorf("plan: a panel needs an edge joint: both boards flat")
	}
	if err := b.Saw.check(); err != nil {
		return nil, err
	}
	if b.Boards < 2 || b.Boards > 50 {
		return nil, fmt.Errorf("plan: a panel of %d boards; want 2 to 50", b.Boards)
	}
	eats := s.Nested().T[0]
	width := (b.Width + float64(b.Boards-1)*eats + 2*b.Saw.Edge) / float64(b.Boards)
	if !(b.Width > 0 && b.Width <= 5000 && b.Length >= 150 && b.Length <= 5000) {
		return nil, fmt.Errorf("plan: a panel of %g × %g mm; want up to 5000, at least 150 long", b.Width, b.Length)
	}
	if width < 2*eats+20 {
		return nil, fmt.Errorf("plan: %d boards would be %.1f mm wide each; want fewer boards", b.Boards, width)
	}
	first, then := s.Passes[0], s.Passes[1]
	p := &Plan{Title: fmt.Sprintf("Panel %g × %g mm of %d boards, %s", b.Width, b.Length, b.Boards, s.Joint)}
	p.Pieces = []Piece{{"1 to " + fmt.Sprint(b.Boards), b.Boards, b.Length + 2*b.Saw.Edge, width, first.Stock,
		first.Name, "left edge with the good face down, right edge with it up (" + then.Name + ")"},
		{"test", 2, testLength, testWidth, first.Stock, first.Name, "one good face down, one up"}}
	p.Blanks = []Blank{{"boards", width, b.Length + 2*b.Saw.Edge, b.Boards}, {"tests", b.Saw.blankWidth(2, testWidth), testLength, 1}}
	p.Stages = map[string][]Stage{first.Name: Stages(first)}
	p.Stock = needed(p.Blanks)
	p.Steps = []string{
		"Plane boards and test pieces together to one thickness; joint all edges straight.",
		"Lay the boards out as they will be, pencil a triangle over the joints.",
		"Disconnect the power; set the height with block or gauge.",
		"Cut two test pieces, one with its good face down, one up; lay them together: faces level to the touch (adjust flip: move by half the step).",
		"Each board: one edge with the good face down, the other with it up; the outer edges of the first and last board stay square.",
		"Glue up in pairs, clamps above and below by turns; trim to size.",
	}
	p.Notes = []string{fmt.Sprintf("Each joint takes %.2f mm of width.", eats)}
	return p, nil
}
