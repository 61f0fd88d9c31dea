package trace

import (
	"math"

	"blockwright/geom"
)

// This file answers how much of the outline the profile leaves out.

// leftOut is the root mean square distance in mm, over the profile's length, of what was
// taken for dirt or a chip and left out: of the outline as it was first found, where it
// departs by more than noise.
func (f *profile) leftOut() float64 {
	// Past its ends the profile goes on along the faces.
	a, b := f.path.Start(), f.path.End()
	x := geom.NewIndex(f.path)
	most := 0.0
	for _, c := range f.cuts {
		limit := 4*math.Max(f.noise, f.pitch/20) + f.pitch/4
		sum := 0.0
		q := c.between(math.Max(0.1, 2*f.blur))
		for i := 1; i < len(q); i++ {
			p := q[i]
			d := x.Nearest(p).Dist
			if p[0] > a[0] {
				d = math.Min(d, math.Abs(p[1]))
			}
			if p[0] > b[0] {
				d = math.Min(d, math.Abs(c.thick-p[1]))
			}
			if d > limit {
				sum += d * d * math.Min(dist(q[i-1], p), 0.2)
			}
		}
		most = math.Max(most, sum)
	}
	return math.Sqrt(most / f.path.Length())
}
