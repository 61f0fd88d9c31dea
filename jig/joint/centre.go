package joint

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// centreOf is the point about which a half turn carries the profile onto itself,
// and by how much it misses.
func centreOf(p geom.Path) (c orb.Point, residual float64) {
	lo, hi := heights(p)
	residual = math.Inf(1)
	best := 0.0
	for i := range p.V {
		for j := i; j < len(p.V); j++ {
			m := orb.Point{(p.V[i].X() + p.V[j].X()) / 2, (p.V[i].Y() + p.V[j].Y()) / 2}
			o := math.Min(m[1]-lo, hi-m[1])
			if o <= geom.Tol {
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
