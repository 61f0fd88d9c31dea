package plate

import (
	"math"
	"sort"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// boardEnd is the end of a board, stock thick, that the cut line leaves: the cut line
// where it lies in front of the fence face, the face x = 0 itself elsewhere (a board
// cannot reach behind the fence), also above and below the cutter. Travelled upward.
func boardEnd(cut geom.Path, stock float64) geom.Path {
	if len(cut.V) < 2 {
		return geom.Path{}
	}
	var v []geom.Vertex
	if from := cut.Start(); from[1] > geom.Tol {
		v = append(v, geom.V(0, 0), geom.V(0, from[1]))
	}
	for i := range cut.Edges() {
		for _, e := range splitAt(cut.Edge(i), 0, 0) {
			if m := e.At(0.5); m[0] < 0 {
				e = geom.Edge{A: orb.Point{0, e.A[1]}, B: orb.Point{0, e.B[1]}}
			}
			v = append(v, geom.Vertex{Point: e.A, Bulge: e.Bulge}, geom.Vertex{Point: e.B})
		}
	}
	if to := cut.End(); to[1] < stock-geom.Tol {
		v = append(v, geom.V(0, to[1]), geom.V(0, stock))
	}
	p, err := geom.NewPath(false, v...)
	if err != nil {
		return geom.Path{}
	}
	return p.Merge()
}

// splitAt cuts an edge where its coordinate on the axis (0 for x, 1 for y)
// passes the value.
func splitAt(e geom.Edge, axis int, value float64) []geom.Edge {
	var ts []float64
	if e.Straight() {
		if a, b := e.A[axis]-value, e.B[axis]-value; a*b < 0 {
			ts = append(ts, a/(a-b))
		}
	} else {
		c, r := e.Arc()
		if off := value - c[axis]; math.Abs(off) < r {
			h := math.Sqrt(r*r - off*off)
			for _, s := range [2]float64{-h, h} {
				q := orb.Point{value, value}
				q[1-axis] = c[1-axis] + s
				if _, d, t := e.Nearest(q); d < geom.Tol && t > 1e-12 && t < 1-1e-12 {
					ts = append(ts, t)
				}
			}
		}
	}
	sort.Float64s(ts)
	var out []geom.Edge
	from := 0.0
	for _, t := range ts {
		a, b := e.Split((t - from) / (1 - from))
		out, e, from = append(out, a), b, t
	}
	return append(out, e)
}

// outward is the unit normal that points out of the plate, where the path runs
// with the plate on its left.
func outward(d orb.Point) orb.Point { return orb.Point{d[1], -d[0]} }

// turn is the angle in radians by which a path turns from direction a to b,
// positive to the left.
func turn(a, b orb.Point) float64 {
	return math.Atan2(a[0]*b[1]-a[1]*b[0], a[0]*b[0]+a[1]*b[1])
}
