package geom

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
)

// someEdges are lines and arcs of every kind: flat, tiny, half circles, arcs
// that start on an axis, arcs far from the origin.
func someEdges() []Edge {
	r := rand.New(rand.NewSource(1))
	es := []Edge{
		{orb.Point{0, 0}, orb.Point{10, 0}, 0},
		{orb.Point{0, 0}, orb.Point{0, -3}, 0},
		{orb.Point{1, 0}, orb.Point{-1, 0}, 1},
		{orb.Point{1, 0}, orb.Point{-1, 0}, -1},
		{orb.Point{0, -1}, orb.Point{0, 1}, 1},
		{orb.Point{1, 0}, orb.Point{0, 1}, math.Sqrt2 - 1},
		{orb.Point{0, 1}, orb.Point{1, 0}, math.Sqrt2 - 1},
		{orb.Point{0, 0}, orb.Point{100, 0}, 1e-9},
		{orb.Point{0, 0}, orb.Point{100, 7}, -3e-10},
		{orb.Point{0, 0}, orb.Point{1, 1}, 1e-5},
		{orb.Point{0, 0}, orb.Point{1e-6, 0}, 0.7},
		{orb.Point{1e4, 1e4}, orb.Point{1e4 + 5, 1e4 - 2}, 0.4},
	}
	for range 300 {
		b := r.Float64()*2 - 1
		if r.Intn(3) == 0 {
			b *= math.Pow(10, -7*r.Float64())
		}
		es = append(es, Edge{orb.Point{r.NormFloat64() * 10, r.NormFloat64() * 10},
			orb.Point{r.NormFloat64() * 10, r.NormFloat64() * 10}, b})
	}
	return es
}

// halve is a second way to a point on an arc: halve it again and again. The
// middle of an arc lies b·c/2 to the right of its chord.
func halve(e Edge, depth int, each func(orb.Point)) {
	if depth == 0 {
		each(e.A)
		return
	}
	m := orb.Point{(e.A[0]+e.B[0])/2 + e.Bulge*(e.B[1]-e.A[1])/2, (e.A[1]+e.B[1])/2 - e.Bulge*(e.B[0]-e.A[0])/2}
	h := math.Tan(math.Atan(e.Bulge) / 2)
	halve(Edge{e.A, m, h}, depth-1, each)
	halve(Edge{m, e.B, h}, depth-1, each)
}

func dense(e Edge, depth int) []orb.Point {
	var out []orb.Point
	halve(e, depth, func(p orb.Point) { out = append(out, p) })
	return append(out, e.B)
}

func TestEdgeAgainstHalving(t *testing.T) {
	for i, e := range someEdges() {
		t.Run(fmt.Sprint(i), func(t *testing.T) {
			pts := dense(e, 10)
			n := len(pts) - 1
			l, box := 0.0, orb.Bound{Min: e.A, Max: e.A}
			for k, p := range pts {
				require.InDelta(t, 0, dist(p, e.At(float64(k)/float64(n))), 3e-9, "At %d/%d of %v", k, n, e)
				box = box.Extend(p)
				if k > 0 {
					l += dist(p, pts[k-1])
				}
			}
			// a chord of n is shorter than its arc by the fraction (θ/n)²/24
			th := e.Sweep() / float64(n)
			require.InDelta(t, l*(1+th*th/24), e.Length(), 1e-9*(1+l))

			got, sag := e.Bound(), l/float64(n)*math.Abs(th)/8
			for k := range 2 {
				require.LessOrEqual(t, got.Min[k], box.Min[k]+1e-12*(1+math.Abs(box.Min[k])))
				require.GreaterOrEqual(t, got.Max[k], box.Max[k]-1e-12*(1+math.Abs(box.Max[k])))
				require.InDelta(t, box.Min[k], got.Min[k], sag+3e-9)
				require.InDelta(t, box.Max[k], got.Max[k], sag+3e-9)
			}
		})
	}
}

func TestEdgeReverseAndSplit(t *testing.T) {
	for _, e := range someEdges() {
		r := e.Reverse()
		require.InDelta(t, e.Length(), r.Length(), 1e-12*(1+e.Length()))
		for _, f := range []float64{0, 0.1, 0.5, 0.9, 1} {
			require.InDelta(t, 0, dist(e.At(f), r.At(1-f)), 1e-11)
			d, q := e.Direction(f), r.Direction(1-f)
			require.InDelta(t, 0, math.Hypot(d[0]+q[0], d[1]+q[1]), 1e-12)
			require.InDelta(t, 1, math.Hypot(d[0], d[1]), 1e-12)
		}
		for _, f := range []float64{0.2, 0.5, 0.77} {
			a, b := e.Split(f)
			require.InDelta(t, f*e.Length(), a.Length(), 1e-9)
			require.InDelta(t, (1-f)*e.Length(), b.Length(), 1e-9)
			require.Equal(t, a.B, b.A)
			for _, g := range []float64{0.3, 0.6} {
				require.InDelta(t, 0, dist(a.At(g), e.At(g*f)), 3e-9)
				require.InDelta(t, 0, dist(b.At(g), e.At(f+g*(1-f))), 3e-9)
			}
		}
	}
}

func TestEdgeDirectionIsTangent(t *testing.T) {
	for _, e := range someEdges() {
		if e.Length() < 1e-3 {
			continue
		}
		const h = 1e-6
		for _, f := range []float64{0, 0.25, 0.5, 1} {
			a, b := e.At(math.Max(0, f-h)), e.At(math.Min(1, f+h))
			d, l := e.Direction(f), dist(a, b)
			require.InDelta(t, 1, (d[0]*(b[0]-a[0])+d[1]*(b[1]-a[1]))/l, 1e-9)
		}
	}
}

func TestEdgeArc(t *testing.T) {
	// quarter of the unit circle
	c, r := Edge{orb.Point{1, 0}, orb.Point{0, 1}, math.Sqrt2 - 1}.Arc()
	require.InDelta(t, 0, math.Hypot(c[0], c[1]), 1e-15)
	require.InDelta(t, 1, r, 1e-15)

	// r = c(1+b²)/4b with b = 2·sagitta/chord (DXF Reference); the published
	// segment h = r - √(r² - c²/4) has h = 2.68338 for c = 10, r = 6.
	b := 2 * 2.68338 / 10
	_, r = Edge{orb.Point{0, 0}, orb.Point{10, 0}, b}.Arc()
	require.InDelta(t, 6, r, 1e-5)

	for _, e := range someEdges() {
		if e.Straight() {
			continue
		}
		c, r := e.Arc()
		for _, f := range []float64{0, 0.3, 1} {
			require.InDelta(t, r, dist(c, e.At(f)), 1e-9+1e-12*r)
		}
	}
}

// Nearest against points taken densely; then the distance against the circle's
// own, where it is well conditioned.
func TestEdgeNearestAgainstSampling(t *testing.T) {
	r := rand.New(rand.NewSource(2))
	for _, e := range someEdges() {
		pts := dense(e, 10)
		step := e.Length() / float64(len(pts)-1)
		for k := range 20 {
			q := orb.Point{e.A[0] + r.NormFloat64()*15, e.A[1] + r.NormFloat64()*15}
			switch k {
			case 0:
				q = e.A
			case 1:
				q = e.B
			case 2:
				q = e.At(0.37)
			case 3: // the far side of the middle's normal
				d, m := e.Direction(0.5), e.At(0.5)
				q = orb.Point{m[0] - 40*d[1], m[1] + 40*d[0]}
			case 4:
				if !e.Straight() && math.Abs(e.Bulge) > 1e-3 {
					q, _ = e.Arc()
				}
			}
			best := math.Inf(1)
			for _, p := range pts {
				best = math.Min(best, dist(p, q))
			}
			at, d, f := e.Nearest(q)
			require.InDelta(t, d, dist(at, q), 2e-9, "%v from %v", e, q)
			require.InDelta(t, d, e.Dist(q), 0)
			require.InDelta(t, 0, dist(at, e.At(f)), 5e-9, "%v from %v: fraction %g", e, q, f)
			require.LessOrEqual(t, d, best+2e-9, "%v from %v", e, q)
			require.GreaterOrEqual(t, d, best-step, "%v from %v", e, q)
			if best > step { // near enough the sample is off only by the square
				require.InDelta(t, best, d, step*step*(1/best+math.Abs(e.Sweep())/e.Length())+2e-9)
			}
		}
	}
}

// A flat arc has its centre far away: taken from there, distances, boxes and
// windings would lose the last 1e-5 mm or more.
func TestFlatArcsKeepTheirDigits(t *testing.T) {
	for _, sag := range []float64{2e-9, 1e-7, 1e-5, 1e-3} {
		for _, sign := range []float64{1, -1} {
			e := Edge{orb.Point{0, 0}, orb.Point{100, 0}, sign * sag / 50}
			require.False(t, e.Straight())
			// a counter-clockwise arc over a chord to the right hangs below it
			_, d, f := e.Nearest(orb.Point{50, 3})
			require.InDelta(t, 3+sign*sag, d, 1e-13)
			require.InDelta(t, 0.5, f, 1e-9)
			b := e.Bound()
			if sign > 0 {
				require.InDelta(t, -sag, b.Min[1], 1e-15)
				require.Equal(t, 0.0, b.Max[1])
			} else {
				require.InDelta(t, sag, b.Max[1], 1e-15)
			}
			p := Path{V: []Vertex{{e.A, e.Bulge}, V(100, 0), V(100, 50), V(0, 50)}, Closed: true}
			in, out := orb.Point{50, -sign*sag + 1e-10}, orb.Point{50, -sign*sag - 1e-10}
			require.Equal(t, 1, p.Winding(in), "sagitta %g", sign*sag)
			require.Equal(t, 0, p.Winding(out), "sagitta %g", sign*sag)
			up := p.Move(Turn(math.Pi/2, orb.Point{}))
			require.Equal(t, 1, up.Winding(orb.Point{sign*sag - 1e-10, 50}), "sagitta %g upright", sign*sag)
			require.Equal(t, 0, up.Winding(orb.Point{sign*sag + 1e-10, 50}), "sagitta %g upright", sign*sag)
			require.LessOrEqual(t, len(Path{V: []Vertex{{e.A, e.Bulge}, {Point: e.B}}}.Flatten(1e-9)), 2000)
		}
	}
}

func TestEdgeOfNoLength(t *testing.T) {
	e := Edge{orb.Point{1, 2}, orb.Point{1, 2}, 0.5}
	require.True(t, e.Straight())
	require.Zero(t, e.Length())
	require.Equal(t, orb.Point{}, e.Direction(0.5))
	at, d, _ := e.Nearest(orb.Point{4, 6})
	require.Equal(t, e.A, at)
	require.Equal(t, 5.0, d)
	require.Equal(t, orb.Bound{Min: e.A, Max: e.A}, e.Bound())
}
