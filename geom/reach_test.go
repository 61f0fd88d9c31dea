package geom

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A rising path with every kind of edge: line, shoulder, arcs both ways, a half
// circle, an arc so flat that its centre lies 10 km away.
func risingPath() Path {
	return Path{V: []Vertex{
		V(34, 0), V(24, 10), V(25.5, 10), B(25.5, 12, 0.1), B(12.5, 20, -0.4), V(12.5, 24),
		B(14, 26, 1), B(14, 36, 2e-7), V(4, 44), V(20, 44), V(20, 50),
	}}
}

// drawRising makes a rising path; arcs that would fall become lines.
func drawRising(t *rapid.T) Path {
	n := rapid.IntRange(2, 8).Draw(t, "vertices")
	lattice := rapid.Bool().Draw(t, "lattice")
	p := Path{}
	x, y := 20.0, 0.0
	for i := range n {
		v := V(x, y)
		step := orb.Point{rapid.Float64Range(-8, 8).Draw(t, "dx"), rapid.Float64Range(0, 6).Draw(t, "dy")}
		if lattice {
			step = orb.Point{math.Round(step[0]), math.Round(step[1])}
		}
		if step[1] < 0.001 { // less would be level, but for rounding
			step[1] = 0
		}
		if math.Abs(step[0]) < 0.001 && step[1] == 0 {
			step[1] = 1
		}
		b := rapid.SampledFrom([]float64{0, 0, 0.1, -0.1, 0.41421356, -0.41421356, 1, -1, 1e-6, -0.73}).Draw(t, "bulge")
		e := Edge{A: v.Point, B: orb.Point{x + step[0], y + step[1]}, Bulge: b}
		if _, falls := e.Falls(); falls || i == n-1 || step[1] == 0 { // a level arc is one that dips by less than Tol
			b = 0
		}
		v.Bulge = b
		p.V = append(p.V, v)
		x, y = x+step[0], y+step[1]
	}
	return p
}

// Along every edge, the x of the edge's own point is what XAt finds at its height,
// or another edge at that height reaches farther.
func TestXAtAgreesWithThePoints(t *testing.T) {
	check := func(t require.TestingT, p Path) {
		for i := range p.Edges() {
			e := p.Edge(i)
			for k := range 101 {
				q := e.At(float64(k) / 100)
				x, ok := p.XAt(q[1])
				require.True(t, ok)
				// Where the path runs nearly level, a rounded height moves x far: the
				// point found must lie on the path, not under the point asked for.
				require.GreaterOrEqual(t, x, q[0]-Tol-math.Sqrt(1e-12))
				require.LessOrEqual(t, p.Nearest(orb.Point{x, q[1]}).Dist, 1e-9)
			}
		}
	}
	check(t, risingPath())
	rapid.Check(t, func(t *rapid.T) { check(t, drawRising(t)) })
}

func TestXAt(t *testing.T) {
	p := risingPath()
	for _, tt := range []struct{ y, want float64 }{
		{0, 34}, {5, 29}, {10, 25.5}, {11, 25.5}, {24, 12.5}, {31, 19}, {36, 14}, {44, 20}, {50, 20},
		{10 - 1e-10, 25.5}, {10 + 1e-10, 25.5}, {50 + 1e-10, 20}, // a hair off a vertex is the vertex
		{31 - 3, 14 + 4}, {31 + 4, 14 + 3}, // half circle about (14, 31): 3-4-5
	} {
		x, ok := p.XAt(tt.y)
		require.True(t, ok, tt.y)
		require.InDelta(t, tt.want, x, 1e-9, tt.y)
	}
	for _, y := range []float64{-1e-6, 50 + 1e-6, math.Inf(1), math.NaN()} {
		_, ok := p.XAt(y)
		require.False(t, ok, y)
	}
	_, ok := Path{}.XAt(0)
	require.False(t, ok)
}

// MostX against 2,000 points of each edge: never less, and more by no more than
// the points are apart.
func TestMostXAgreesWithThePoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawRising(t)
		top := p.End()[1]
		y0 := rapid.Float64Range(-1, top).Draw(t, "y0")
		y1 := y0 + rapid.Float64Range(0, top).Draw(t, "height")
		best, most := math.Inf(-1), math.Inf(-1) // strictly between, and with a hair to spare
		for i := range p.Edges() {
			e := p.Edge(i)
			for k := range 2001 {
				q := e.At(float64(k) / 2000)
				if q[1] >= y0 && q[1] <= y1 {
					best = math.Max(best, q[0])
				}
				if q[1] >= y0-1e-9 && q[1] <= y1+1e-9 {
					most = math.Max(most, q[0])
				}
			}
		}
		at, ok := p.MostX(y0, y1)
		if math.IsInf(best, -1) {
			return // no point happened to lie there
		}
		if !ok || at[0] < best-1e-9 || at[0] > most+0.02 {
			t.Fatalf("%v %v; want at least %v", at, ok, best)
		}
		if at[1] < y0-1e-9 || at[1] > y1+1e-9 || p.Nearest(at).Dist > 1e-9 {
			t.Fatalf("%v is no point of the path between %v and %v", at, y0, y1)
		}
	})
}

func TestMostX(t *testing.T) {
	p := risingPath()
	for _, tt := range []struct {
		y0, y1 float64
		want   orb.Point
	}{
		{0, 50, orb.Point{34, 0}},
		{1, 50, orb.Point{33, 1}},
		{26, 36, orb.Point{19, 31}}, // inside the half circle
		{26, 30, orb.Point{14 + math.Sqrt(24), 30}},
		{10, 10, orb.Point{25.5, 10}}, // the shoulder
		{10.5, 10.5, orb.Point{25.5, 10.5}},
		{44, 60, orb.Point{20, 44}}, // the lowest of a vertical land
		{math.Inf(-1), math.Inf(1), orb.Point{34, 0}},
	} {
		at, ok := p.MostX(tt.y0, tt.y1)
		require.True(t, ok)
		require.InDelta(t, tt.want[0], at[0], 1e-9)
		require.InDelta(t, tt.want[1], at[1], 1e-9)
	}
	_, ok := p.MostX(51, 60)
	require.False(t, ok)
	_, ok = p.MostX(-5, -1)
	require.False(t, ok)
	_, ok = Path{}.MostX(0, 1)
	require.False(t, ok)
}

// Falls agrees with the heights of 2,000 points along the edge.
func TestFalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := Edge{
			A:     orb.Point{rapid.Float64Range(-9, 9).Draw(t, "ax"), rapid.Float64Range(-9, 9).Draw(t, "ay")},
			B:     orb.Point{rapid.Float64Range(-9, 9).Draw(t, "bx"), rapid.Float64Range(-9, 9).Draw(t, "by")},
			Bulge: rapid.Float64Range(-1, 1).Draw(t, "bulge"),
		}
		if dist(e.A, e.B) < 0.01 {
			return
		}
		depth, high := 0.0, e.A[1]
		for k := range 2001 {
			y := e.At(float64(k) / 2000)[1]
			high = math.Max(high, y)
			depth = math.Max(depth, high-y)
		}
		at, falls := e.Falls()
		if depth > 1e-4 && !falls || depth < 1e-12 && e.B[1] >= e.A[1] && falls {
			t.Fatalf("falls by %v: %v", depth, falls)
		}
		if _, d, _ := e.Nearest(at); falls && d > 1e-9 {
			t.Fatalf("%v lies %v off the edge", at, d)
		}
	})
	_, falls := Edge{A: orb.Point{10, 0}, B: orb.Point{15, 5}, Bulge: 0.4142}.Falls()
	require.False(t, falls, "a quarter round stated to four digits dips by 1e-8")
	_, falls = Edge{A: orb.Point{10, 0}, B: orb.Point{20, 0}, Bulge: 1}.Falls()
	require.True(t, falls)
	_, falls = Edge{A: orb.Point{10, 1}, B: orb.Point{20, 1 - 1e-12}}.Falls()
	require.True(t, falls, "the end must not lie below the start at all")
}

// Extremes of flat arcs keep their digits: an arc of chord 100 that rises 1e-6
// has its centre 1e9 mm away.
func TestExtremeOfFlatArc(t *testing.T) {
	e := Edge{A: orb.Point{20, 0}, B: orb.Point{20, 100}, Bulge: 2e-8}
	require.InDelta(t, 20+1e-6, e.MostX()[0], 1e-13)
	require.InDelta(t, 50, e.MostX()[1], 1e-6)
	require.InDelta(t, 20+0.75e-6, e.xAt(25), 1e-13)
	require.InDelta(t, 20-1e-6, Edge{A: e.A, B: e.B, Bulge: -2e-8}.LeastX()[0], 1e-13)
}

// Beyond against the difference of XAt at 4,000 heights.
func TestBeyond(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := drawRising(t), drawRising(t)
		q = q.Move(Shift(rapid.Float64Range(-5, 5).Draw(t, "x"), rapid.Float64Range(-5, 5).Draw(t, "y")))
		d, y, ok := p.Beyond(q)
		lo, hi := math.Max(p.Start()[1], q.Start()[1]), math.Min(p.End()[1], q.End()[1])
		if hi-lo <= 1e-9 {
			if ok {
				t.Fatalf("%v at %v, but no height is shared", d, y)
			}
			return
		}
		if !ok || y < lo-1e-9 || y > hi+1e-9 {
			t.Fatalf("at %v between %v and %v: %v", y, lo, hi, ok)
		}
		level := func(y float64) bool { // XAt takes the whole of a level edge
			for _, r := range []Path{p, q} {
				for _, v := range r.V {
					if math.Abs(v.Y()-y) < 1e-7 {
						return true
					}
				}
			}
			return false
		}
		best := math.Inf(-1)
		for k := range 4001 {
			h := lo + (hi-lo)*float64(k)/4000
			if level(h) {
				continue
			}
			a, okA := p.XAt(h)
			b, okB := q.XAt(h)
			if okA && okB {
				best = math.Max(best, a-b)
			}
		}
		if d < best-1e-9 {
			t.Fatalf("%v at %v; a height has %v", d, y, best)
		}
	})
	p := Path{V: []Vertex{V(20, 0), V(20, 10)}}
	q := Path{V: []Vertex{B(19, 0, 0.4), V(19, 10)}}
	d, y, ok := q.Beyond(p)
	require.True(t, ok)
	require.InDelta(t, 1, d, 1e-12)
	require.InDelta(t, 5, y, 1e-12)
	d, _, _ = p.Beyond(q)
	require.InDelta(t, 1, d, 1e-12)
	_, _, ok = p.Beyond(Path{})
	require.False(t, ok)
	_, _, ok = p.Beyond(Path{V: []Vertex{V(5, -5), V(5, 0)}})
	require.False(t, ok, "one height is no stretch")
}
