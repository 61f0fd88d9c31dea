package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// Flatten replaces arcs by chords that lie within tol mm of them and returns the
// points; a closed path repeats its first point. tol below 1e-9 counts as 1e-9.
//
// A chord over the angle φ of radius r rises r(1 - cos(φ/2)) below its arc, so
// φ = 2·acos(1 - tol/r) = 4·asin(√(tol/2r)); the second form keeps its digits
// when r is large.
func (p Path) Flatten(tol float64) orb.LineString {
	if len(p.V) == 0 {
		return nil
	}
	tol = math.Max(tol, join)
	out := orb.LineString{p.V[0].Point}
	for i := range p.Edges() {
		e := p.Edge(i)
		if !e.Straight() {
			_, r := e.Arc()
			n := 2
			if tol < r {
				n = max(1, int(math.Ceil(math.Abs(e.Sweep())/(4*math.Asin(math.Sqrt(tol/(2*r))))-1e-9)))
			}
			for k := 1; k < n; k++ {
				out = append(out, e.At(float64(k)/float64(n)))
			}
		}
		out = append(out, e.B)
	}
	return out
}
