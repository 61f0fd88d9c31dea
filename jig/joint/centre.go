package joint

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// closeFit is the distance in mm within which edges of a file with rounded
// numbers, or of a traced cutter, count as touching.
const closeFit = 0.02

// centreOf is the point about which a half turn carries the profile onto itself,
// and by how much it misses. Where the halves do not match, it is the centre of
// the bearing edges, those of an exact file or else those that touch within
// [closeFit]; where nothing bears, the one that misses least.
func centreOf(p geom.Path) (c orb.Point, residual float64) {
	c, residual = symmetryCentre(p)
	if residual <= geom.Tol {
		return c, residual
	}
	for _, tol := range [2]float64{geom.Tol, closeFit} {
		if b, ok := bearingCentre(p, tol); ok {
			return b, missBy(p, b)
		}
	}
	return c, residual
}

// missBy is how far the half turn about c misses the profile, over the heights
// that profile and half turn share.
func missBy(p geom.Path, c orb.Point) float64 {
	lo, hi := heights(p)
	half := math.Min(c[1]-lo, hi-c[1])
	w := p.Between(c[1]-half, c[1]+half)
	d, _ := geom.Farthest(w, []geom.Path{prolong(w.Move(geom.HalfTurn(c)).Reverse(), hi-lo)}, seam)
	return d
}

func symmetryCentre(p geom.Path) (c orb.Point, residual float64) {
	lo, hi := heights(p)
	residual = math.Inf(1)
	best := 0.0
	for i := range p.V {
		for j := i; j < len(p.V); j++ {
			m := orb.Point{(p.V[i].X() + p.V[j].X()) / 2, (p.V[i].Y() + p.V[j].Y()) / 2}
			o := math.Min(m[1]-lo, hi-m[1])
			if o < centred*(hi-lo) {
				continue
			}
			w := p.Between(m[1]-o, m[1]+o)
			turned := w.Move(geom.HalfTurn(m))
			d := 0.0
			for k := range w.Edges() {
				for _, t := range [3]float64{0, 0.5, 1} {
					d = math.Max(d, turned.Nearest(w.Edge(k).At(t)).Dist)
				}
			}
			if d < residual-geom.Tol && best <= o || o > best && d < residual+geom.Tol || residual > geom.Tol && d < residual {
				c, residual, best = m, d, o
			}
		}
	}
	return c, residual
}
