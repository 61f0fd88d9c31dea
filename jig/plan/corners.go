package plan

import (
	"math"

	"blockwright/jig/joint"
)

// sides are the four boards of something with four corners: two flat, two upright.
type sides struct {
	s        *joint.Setting
	flat, up float64 // length of the boards
	over     float64 // by which a drawer's front is longer than its back
}

// fourSides is how long the boards are for the outside sizes along the flat boards
// and along the upright ones. In a full miter every board is as long as the outside;
// a land on the tips, or a drawer front's lip, takes its width off at both ends, and
// an overlay lengthens the front alone. It follows from where the joint lays the
// upright board's outside face and end.
func fourSides(s *joint.Setting, flat, up float64) sides {
	first, then := s.Passes[0], s.Passes[1]
	at := s.Nested().T
	over := s.Request.Overlay
	return sides{s: s, over: 2 * over,
		flat: flat - 2*math.Max(0, then.Stock-at[0]),
		up:   up - 2*math.Max(0, first.Stock-at[1]),
	}
}

// add adds the boards and their blanks.
func (k sides) add(p *Plan, saw Saw, width float64, wrap bool) {
	first, then := k.s.Passes[0], k.s.Passes[1]
	if k.over > 0 {
		p.Pieces = append(p.Pieces,
			Piece{"A, front", 1, k.flat + k.over, width, first.Stock, first.Name, faceOf(first)},
			Piece{"C, back", 1, k.flat, width, first.Stock, first.Name, faceOf(first)})
	} else {
		p.Pieces = append(p.Pieces, Piece{"A, C", 2, k.flat, width, first.Stock, first.Name, faceOf(first)})
	}
	p.Pieces = append(p.Pieces, Piece{"B, D", 2, k.up, width, then.Stock, then.Name, faceOf(then)})
	switch {
	case wrap && first.Stock == then.Stock:
		p.Blanks = append(p.Blanks, Blank{"A, B, C, D", saw.blankWidth(1, width), 2*k.flat + k.over + 2*k.up + 3*saw.Kerf, first.Stock, 1})
	case k.over > 0:
		p.Blanks = append(p.Blanks,
			Blank{"A", saw.blankWidth(1, width), k.flat + k.over, first.Stock, 1},
			Blank{"C", saw.blankWidth(1, width), k.flat, first.Stock, 1},
			Blank{"B, D", saw.blankWidth(2, width), k.up, then.Stock, 1})
	default:
		p.Blanks = append(p.Blanks,
			Blank{"A, C", saw.blankWidth(2, width), k.flat, first.Stock, 1},
			Blank{"B, D", saw.blankWidth(2, width), k.up, then.Stock, 1})
	}
}

// spares adds boards to spoil: one of each kind costs little now and a day later.
func (k sides) spares(p *Plan, saw Saw, width float64) {
	if saw.Spares == 0 {
		return
	}
	for i, q := range k.s.Passes {
		length := [2]float64{k.flat + k.over, k.up}[i]
		label := "spare " + [2]string{"A or C", "B or D"}[i]
		p.Pieces = append(p.Pieces, Piece{label, saw.Spares, length, width, q.Stock, q.Name, faceOf(q)})
		p.Blanks = append(p.Blanks, Blank{label, saw.blankWidth(saw.Spares, width), length, q.Stock, 1})
	}
}

// backers adds the scrap that follows each board past the cutter: it takes the
// splinters and keeps a narrow board square.
func (p *Plan) backers(saw Saw, s *joint.Setting, along bool) {
	if along {
		return
	}
	for _, q := range s.Passes {
		p.Pieces = append(p.Pieces, Piece{"backer, " + q.Name, 1, saw.Test.Length, saw.Test.Width, q.Stock, q.Name, "scrap, square, behind the board"})
	}
}

// prepare is how every job begins.
func prepare(s *joint.Setting, what string) []joint.Message {
	if a, b := s.Passes[0].Stock, s.Passes[1].Stock; a != b {
		return []joint.Message{say("Plane "+what+", spares and test pieces together, each kind to its thickness; measure every board. This plan is for %s and %s: plan again with the thickest of each if they came out otherwise.", a, b)}
	}
	return []joint.Message{say("Plane "+what+", spares and test pieces together to one thickness; measure every board. This plan is for %s: plan again with the thickest if they came out otherwise.", s.Passes[0].Stock)}
}

// setUp is how cutter and fence come to their places.
func setUp() joint.Message {
	return say("Disconnect the power. Set the fence with the gauge, lock it; raise the cutter to the block, lock it; check both again. Take block, gauge and wrench out before the power goes on.")
}

// cutCorners is the milling of all four corners.
func cutCorners(s *joint.Setting, single bool) []joint.Message {
	a, b := "the blank for A and C", "the blank for B and D"
	if single || s.Request.Overlay > 0 {
		a = "A and C"
	}
	if single {
		b = "B and D"
	}
	out := []joint.Message{setUp()}
	stages := "in the fence stages above, the height unchanged, a backer behind"
	if s.Joint != "drawer-lock" {
		return append(out,
			say("Cut two test pieces flat and turn one over: level faces mean the height is right (blockwright adjust flip). Look at the tips for the fence (adjust tip). Cut the third upright and try the corner (adjust corner)."),
			say("Flat pass, inside faces down: both ends of "+a+", "+stages+"."),
			say("Upright pass, inside faces against the fence: both ends of "+b+", "+stages+" and the board held to a tall fence."))
	}
	spacer := math.Abs(s.Passes[1].Fence - s.Passes[0].Fence)
	out = append(out,
		say("Cut a test front flat. Put the spacer of %s between fence and stop and cut a test side on its end. Push them together: the side's end must meet the front's lip without a gap (blockwright setting says what to move).", spacer),
		say("Front and back first, flat, inside faces down: both ends of "+a+", "+stages+"."))
	if o := s.Request.Overlay; o > 0 {
		out = append(out, say("The back has no overlay: for its ends the fence stands %s farther forward, with a spacer of that behind it, or set it anew without the overlay.", o))
	}
	return append(out,
		say("Sides on their ends, inside faces against the fence, with the spacer of %s: both ends of "+b+", "+stages+" and the board held to a tall fence.", spacer))
}

// glueCorners is how it goes together.
func glueCorners(s *joint.Setting, what string, panel bool) []joint.Message {
	out := []joint.Message{say("Try the " + what + " together without glue; the corners must close by hand.")}
	text := "Glue sparingly on the long flanks, keep the tips dry. Pull the corners together with tape or a band clamp"
	if s.Joint == "drawer-lock" {
		text = "Glue sparingly in the groove and on the tooth. Clamp across the sides"
	}
	if panel {
		text += "; the panel gets no glue"
	}
	return append(out, say(text+". Measure both diagonals: equal means square. Wipe glue off before it sets."))
}

// notes is what to know beside the steps.
func (k sides) notes(wrap bool) []joint.Message {
	var out []joint.Message
	first, then := k.s.Passes[0], k.s.Passes[1]
	switch {
	case wrap && first.Stock == then.Stock:
		out = append(out, say("The grain runs round: D meets A at the one corner where it breaks. Put that corner where nobody looks."))
	case wrap:
		out = append(out, say("Boards of two thicknesses cannot come from one board: the grain does not run round."))
	case k.s.Joint != "drawer-lock":
		out = append(out, say("With these blanks A matches C and B matches D. For grain that runs round the corners take all four from one board: --wrap."))
	}
	if k.s.Request.Land > 0 {
		out = append(out, say("The land of %s on the tips leaves a notch as wide along each outside corner: sand or chamfer it away. The outside size counts the notch as full.", k.s.Request.Land))
	}
	return append(out,
		say("A backer takes the splinters of the far edge; trim its end after each pass. The strips of 'make strip' carry the fragile tips over the fence opening and the insert."),
		say("The letters stay on the outside faces and the arrow points the same way in every pass: so no board is ever turned end for end without your noticing."))
}
