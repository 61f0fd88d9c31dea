package joint

import (
	"github.com/paulmach/orb"

	"blockwright/geom"
)

// farthest samples; a certified bound takes its place once the kernel has one.
func farthest(p, from geom.Path) (d float64, at orb.Point) {
	for i := range p.Edges() {
		e := p.Edge(i)
		for k := range 201 {
			q := e.At(float64(k) / 200)
			if v := from.Nearest(q).Dist; v > d {
				d, at = v, q
			}
		}
	}
	return d, at
}

func crossings(e geom.Edge, line geom.Path) []float64 {
	var ts []float64
	side := func(t float64) bool { q := e.At(t); return q[0] > reach(line, q[1]) }
	for k := range 200 {
		a, b := float64(k)/200, float64(k+1)/200
		if sa, sb := side(a), side(b); sa != sb {
			for range 50 {
				if m := (a + b) / 2; side(m) == sa {
					a = m
				} else {
					b = m
				}
			}
			ts = append(ts, (a+b)/2)
		}
	}
	return ts
}
