package geom

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// parallelSlack is by how much in mm a region's boundary may be off its distance
// and still count as parallel: what [Region.Offset] promises, and as much again for
// a vertex that is shared by two edges.
const parallelSlack = 4 * Tol

// Parallel holds a region against one from which it should lie d mm off: outside it
// for d above 0, inside for d below. It measures every vertex and two places of every
// edge by nearest points and winding, and shares nothing with [Region.Offset], whose
// work it is meant to be held against. The error names the first place that is off by
// more than 4·[Tol]. Loops that are missing are not seen: ask the other way round too
// where no inside corner is sharper than |d|.
func (r Region) Parallel(from Region, d float64) error {
	x := NewIndex(from...)
	off := func(q orb.Point) error {
		have := x.Nearest(q).Dist
		if x.Winding(q) > 0 {
			have = -have
		}
		if !(math.Abs(have-d) <= parallelSlack) {
			return fmt.Errorf("the parallel at (%.4f, %.4f) lies %.6f mm from its region; want %.6f", q[0], q[1], have, d)
		}
		return nil
	}
	for _, p := range r {
		for i := range p.Edges() {
			e := p.Edge(i)
			for _, t := range [3]float64{0, 0.37, 0.74} {
				if err := off(e.At(t)); err != nil {
					return err
				}
			}
		}
	}
	return nil
}
