package plate

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/joint"
)

// A cutter that turns pierces a plane that stands aside from its axis by d in a
// figure, its silhouette there: at the height z half as wide as √(r(z)² - d²), and
// nothing where r(z) ≤ d. The edges of the profile become hyperbolas and worse; they
// are fitted by lines and arcs.

// fitted is how far in mm a fitted piece may lie from the silhouette, either way.
const fitted = 0.003

// silhouette is what cutter and body sweep of the plane d mm from the axis: Y along
// the fence from the spindle, z above the table. Its boundary lies within fitted of
// the true one. Where neither edge nor body reach down to the table the cutter's
// lowest radius, or the shank, is taken to go on.
func silhouette(p joint.Pass, d float64) geom.Region {
	axis := geom.Shift(p.Fence, 0)
	edge, body := p.Profile().Move(axis), p.Body().Move(axis)
	all := []geom.Region{pierced(edge, d)}
	low := edge.Start()
	if len(body.V) > 1 {
		all = append(all, pierced(body, d))
		if q := body.Start(); q[1] < low[1] {
			low = q
		}
	}
	if low[1] > 0 {
		r := math.Max(low[0], p.Cutter.Shank/2)
		all = append(all, pierced(geom.Path{V: []geom.Vertex{geom.V(r, -1), geom.V(r, low[1])}}, d))
	}
	return geom.Union(all...)
}

// pierced is the silhouette of one rising path of radius and height.
func pierced(path geom.Path, d float64) geom.Region {
	var out []geom.Region
	var right []geom.Vertex // of the piece in hand, upward
	end := func() {
		if len(right) > 1 {
			v := append([]geom.Vertex(nil), right...)
			v[len(v)-1].Bulge = 0
			for i := len(right) - 1; i >= 0; i-- {
				w := geom.V(-right[i].X(), right[i].Y())
				if i > 0 {
					w.Bulge = right[i-1].Bulge
				}
				v = append(v, w)
			}
			if q, err := geom.NewPath(true, v...); err == nil && math.Abs(q.Area()) > 1e-6 {
				out = append(out, geom.Region{q})
			}
		}
		right = nil
	}
	for i := range path.Edges() {
		for _, e := range splitAt(path.Edge(i), 0, d) {
			if e.At(0.5)[0] <= d {
				end()
				continue
			}
			fit := fitSilhouette(e, d)
			if len(right) > 0 {
				right = right[:len(right)-1]
			}
			right = append(right, fit...)
		}
	}
	end()
	return geom.Union(out...)
}

// fitSilhouette fits the silhouette of one edge that nowhere comes nearer to the
// axis than d by lines and arcs, each as long as fitted allows.
func fitSilhouette(e geom.Edge, d float64) []geom.Vertex {
	// Where the radius comes down to d the half width falls as a square root: with
	// both ends passed ever more slowly it is smooth.
	at := func(s float64) orb.Point {
		q := e.At((1 - math.Cos(math.Pi*s)) / 2)
		return orb.Point{math.Sqrt(math.Max(0, (q[0]-d)*(q[0]+d))), q[1]}
	}
	if d == 0 {
		return []geom.Vertex{{Point: e.A, Bulge: e.Bulge}, {Point: e.B}}
	}
	v := []geom.Vertex{{Point: at(0)}}
	for s0 := 0.0; s0 < 1; {
		s1 := 1.0
		bulge, ok := through(at, s0, s1)
		if !ok {
			// The longest piece that fits; the shorter, the better it does.
			for lo, hi := s0, 1.0; hi-lo > 1e-3*(hi-s0) && hi-s0 > 1e-9; {
				m := (lo + hi) / 2
				if b, good := through(at, s0, m); good {
					lo, s1, bulge = m, m, b
				} else if hi = m; lo == s0 {
					s1, bulge = m, 0 // a chord, should nothing fit at all
				}
			}
		}
		v[len(v)-1].Bulge = bulge
		v = append(v, geom.Vertex{Point: at(s1)})
		s0 = s1
	}
	return v
}

// through is the bulge of the arc through the curve's points at s0, midway and s1,
// and whether it lies within fitted of the curve.
func through(at func(float64) orb.Point, s0, s1 float64) (bulge float64, ok bool) {
	a, m, b := at(s0), at((s0+s1)/2), at(s1)
	turn := math.Atan2((m[0]-a[0])*(b[1]-m[1])-(m[1]-a[1])*(b[0]-m[0]), (m[0]-a[0])*(b[0]-m[0])+(m[1]-a[1])*(b[1]-m[1]))
	bulge = math.Tan(turn / 2) // the chords' turn is half the arc's angle
	if math.Abs(bulge) > 1 {
		return bulge, false
	}
	e := geom.Edge{A: a, B: b, Bulge: bulge}
	const n = 24
	for k := 1; k < n; k++ {
		if _, d, _ := e.Nearest(at(s0 + (s1-s0)*float64(k)/n)); d > fitted*0.9 {
			return bulge, false
		}
	}
	return bulge, true
}
