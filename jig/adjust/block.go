package adjust

// FromStandoff gives the height from the gap in mm that a setup block, slid home
// against the cutter, leaves at the fence, the fence being right. left is the gap that
// the block leaves at a cutter dz mm too high, as plate.GapAtFence has it: on a
// straight flank dz times its run over its rise.
//
// No gap says only that the cutter is not too high; and where the fence is wrong
// too, one reading cannot tell the two apart.
func FromStandoff(gap float64, left func(dz float64) float64) (Move, error) {
	if err := finite("the standoff", gap); err != nil {
		return Move{}, err
	}
	const (
		most = 2.0  // mm too high, from where on the block does not lie as it should
		hair = 1e-5 // mm too high
		jump = 0.2  // mm of gap that a hair makes on a level seat alone
	)
	switch {
	case gap < 0:
		return Move{}, refuse("a standoff of %s; want 0 or more", gap)
	case gap < sense:
		return Move{}, refuse("no gap says only that the cutter is not too high: raise it until the height seat just brushes")
	case left(hair) > jump:
		return Move{}, refuse("the block's height seat is level: a cutter too high lifts the block and leaves no gap to read")
	case left(most) < gap:
		return Move{}, refuse("a gap of %s would mean a cutter more than %s too high: too far for the block; lower it until the block goes home first", gap, most)
	}
	return Move{
		Height: -falling(func(dz float64) float64 { return gap - left(dz) }, 0, most), Knows: [2]bool{true, false},
		Next: "the block goes home against the fence, and fence seat and height seat both just brush",
	}, nil
}
