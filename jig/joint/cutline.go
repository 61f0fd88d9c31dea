package joint

import (
	"math"

	"blockwright/geom"
)

// seam is the distance in mm under which two places are one when paths are cut
// and sewn here. Rounding of lengths below 1 m stays under 1e-12.
const seam = 1e-9

// reach is how far the edge stands out at the height z, the greatest x at a
// shoulder, -Inf where there is no edge.
func reach(p geom.Path, z float64) float64 {
	x, ok := p.XAt(z)
	if !ok {
		return math.Inf(-1)
	}
	return x
}
