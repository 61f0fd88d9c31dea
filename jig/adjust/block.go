package adjust

import (
	"math"

	"blockwright/jig/joint"
	"blockwright/jig/plate"
)

// FromStandoff gives the height from the gap in mm that a setup block, slid home
// against the cutter, leaves at the fence, the fence being right. The block's height
// seat then rests on a flank of the cutter: the gap is dz times the flank's run over
// its rise.
//
// No gap says only that the cutter is not too high; and where the fence is wrong
// too, one reading cannot tell the two apart.
func FromStandoff(s *joint.Setting, gap float64) (Move, error) {
	if err := finite("the standoff", gap); err != nil {
		return Move{}, err
	}
	if gap < 0 {
		return Move{}, refuse("a standoff of %s; want 0 or more", gap)
	}
	n, err := plate.HeightSeatNormal(s.Passes[0])
	if err != nil {
		return Move{}, refuse("%s", err)
	}
	if gap < sense {
		return Move{}, refuse("no gap says only that the cutter is not too high: raise it until the height seat just brushes")
	}
	if math.Abs(n[0]) < 1e-6 {
		return Move{}, refuse("the block's height seat is level: a cutter too high lifts the block and leaves no gap to read")
	}
	dz := gap * math.Abs(n[0]) / math.Abs(n[1])
	if dz > 2 {
		return Move{}, refuse("a gap of %s would mean a cutter %s too high: too far for the block; lower it until the block goes home first", gap, dz)
	}
	return Move{
		Height: -dz, Knows: [2]bool{true, false},
		Next: "the block goes home against the fence, and fence seat and height seat both just brush",
	}, nil
}
