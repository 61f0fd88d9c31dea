package posts

import (
	"blockwright/jig/plate"
)

// BlockGap designs the height setup block of a request, whatever its kind, and gives
// the gap in mm that it leaves at the fence when it is slid home against a cutter dz mm
// too high: see [plate.GapAtFence]. It fails where [Make] would not make the block.
func BlockGap(r Request) (func(dz float64) float64, error) {
	r.Kind = "block"
	f, err := design(r)
	if err != nil {
		return nil, err
	}
	return plate.GapAtFence(f.Fitted[0], f.Pass), nil
}
