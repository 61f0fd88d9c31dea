package adjust

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/jig/joint"
)

// FromEdge gives the height from two boards joined edge to edge: the step of their
// faces. The fence of such a joint is free, so there is nothing to correct in it.
//
// With one cutter one of the boards was cut with its other face down, and the faces
// miss each other by twice the height's error. Of a matched set the second cutter is
// the one to move: its board stands above the other by as much as the cutter is too
// low.
func FromEdge(s *joint.Setting, f Flip) (Move, error) {
	if len(s.Passes) < 2 || s.Passes[1].Lies != joint.Flat {
		return Move{}, refuse("a %s is no joint of two edges; see adjust flip, tip and corner", s.Words())
	}
	if s.TurnsOver() {
		m, err := FromFlip(s, f)
		if err == nil {
			m.Next = "two new pieces, one with its other face down: their faces must be level to the touch on both sides"
		}
		return m, err
	}
	step, err := f.signed(s.Passes[1].Stock, Second)
	if err != nil {
		return Move{}, err
	}
	return Move{
		Height: step, Knows: [2]bool{true, false},
		Next: "a new piece of the second cutter: its face that lay on the table must be level with the first one's to the touch",
	}, nil
}

// FromLanding gives height and fence of a plain edge from where the point of the
// profile that was asked to land somewhere came to lie on the board: x from the
// board's end, z from the face that lay on the table, mm.
func FromLanding(s *joint.Setting, at orb.Point) (Move, error) {
	want := s.Request.At
	if want == nil || len(s.Passes) == 0 {
		return Move{}, refuse("no point of the profile was asked to land anywhere, and the joint is a %s; want a cutter for edge and --at", s.Words())
	}
	for _, v := range at {
		if err := finite("the landing", v); err != nil {
			return Move{}, err
		}
	}
	e, dz := at[0]-want.Table[0], at[1]-want.Table[1]
	if most := s.Passes[0].Stock / 2; math.Max(math.Abs(e), math.Abs(dz)) >= most {
		return Move{}, refuse("the point landed %s, %s from where it is wanted: that is no error of the setting; check cutter, point and stock", e, dz)
	}
	return Move{
		Height: -dz + 0, Fence: -e + 0, Knows: [2]bool{true, true},
		Next: "a new piece: the point must land where it is wanted, both ways",
	}, nil
}
