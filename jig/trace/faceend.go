package trace

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// This file answers whether a face ends where the profile reaches it.

// faceEnds sums up, over the length, the squared distances by which the outline departs
// from the path towards where a face of the cut is seen to end: a chip makes it end
// early; where it runs on, what is left of a flank is too thin a wedge to be measured.
func (f *profile) faceEnds(c *cut, path *geom.Index) float64 {
	tol := 0.02 + f.pitch
	least := 0.15 + 3*f.pitch + 2*f.blur // as much blur explains
	sum := 0.0
	for side, z := range [2]float64{0, c.thick} {
		last := -1
		for i := range c.pts[:len(c.pts)/2] {
			if side == 1 {
				i = len(c.pts) - 1 - i
			}
			if math.Abs(c.pts[i][1]-z) < tol {
				last = i
			}
		}
		if last < 0 {
			continue
		}
		at, end := orb.Point{c.pts[last][0], z}, f.tip(side)
		if d := end[0] - at[0]; d > least {
			d += speck // the wedge's tip, too thin to be seen
			sum += d * d * d / 3
		} else if far := path.Nearest(at).Dist; far > least {
			sum += math.Hypot(at[0]-end[0], far) * far * far / 3 // growing evenly
		}
	}
	return 1.5 * sum // only part of it is seen
}
