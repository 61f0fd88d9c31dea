package plan

import "blockwright/jig/joint"

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
		return nil, joint.Refuse("a post needs a cutter for lock-miter")
	}
	if err := b.Saw.check(); err != nil {
		return nil, err
	}
	t := thickest(s)
	if err := within(size{"the post's size", b.Size, 3 * t, 1000}, size{"the post's length", b.Length, 150, 5000}); err != nil {
		return nil, err
	}
	k := fourSides(s, b.Size, b.Size)
	flat, up := s.Passes[0], s.Passes[1]
	p := &Plan{Title: say("Post %s × %s, %s long, lock miter along the grain", b.Size, b.Size, b.Length), Ripped: "to be ripped before milling"}
	p.Pieces = []Piece{
		{"A, C", 2, b.Length, k.flat, flat.Stock, flat.Name, faceOf(flat)},
		{"B, D", 2, b.Length, k.up, up.Stock, up.Name, faceOf(up)},
	}
	if flat.Stock == up.Stock {
		p.Blanks = []Blank{{"A, B, C, D", 2*k.flat + 2*k.up + 3*b.Saw.Kerf + 2*b.Saw.Edge, b.Length, flat.Stock, 1}}
	} else {
		p.Blanks = []Blank{
			{"A, C", b.Saw.blankWidth(2, k.flat), b.Length, flat.Stock, 1},
			{"B, D", b.Saw.blankWidth(2, k.up), b.Length, up.Stock, 1},
		}
	}
	if n := b.Saw.Spares; n > 0 {
		for i, q := range s.Passes {
			label, w := "spare "+[2]string{"A or C", "B or D"}[i], [2]float64{k.flat, k.up}[i]
			p.Pieces = append(p.Pieces, Piece{label, n, b.Length, w, q.Stock, q.Name, faceOf(q)})
			p.Blanks = append(p.Blanks, Blank{label, b.Saw.blankWidth(n, w), b.Length, q.Stock, 1})
		}
	}
	p.addTests(b.Saw, s, true)
	p.stage(b.Saw, s)
	p.reckon()
	p.Steps = append(prepare(s, "staves"),
		say("Joint one edge straight and rip the staves exactly to %s, edges parallel: the cut takes the edge to a point and no further. Pencil the letters and an arrow to the top end on the outside faces.", k.flat),
		setUp(),
		say("Cut two test pieces flat and turn one over: level faces mean the height is right (blockwright adjust flip). Look at the tips for the fence (adjust tip). Cut the third upright and try the corner (adjust corner)."),
		say("Flat pass, inside faces down: both edges of A and C, in the fence stages above, the height unchanged, featherboards before and behind the cutter."),
		say("Upright pass, inside faces against the fence: both edges of B and D, in the same stages, held to a tall fence with featherboards."),
		say("Try it together without glue. Glue sparingly on the long flanks; band clamps every 150 mm (6 in); sight along it for twist before the glue sets."))
	p.Notes = []joint.Message{
		say("The figure runs round the post when A, B, C and D are ripped side by side from one board and keep their order."),
		say("A cut edge is a point and has nothing to ride on behind the cutter. A land of a few tenths of a millimeter, a hundredth of an inch or two, carries it (--land); chamfer the corners afterwards."),
	}
	if b.Saw.Spares == 0 {
		p.Notes = append(p.Notes, say("A spare stave costs little now and a day later: --spare 1."))
	}
	return p, nil
}
