package geom

import (
	"math"
	"math/rand"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
)

func TestIntersect(t *testing.T) {
	line := func(x0, y0, x1, y1 float64) Edge { return Edge{A: orb.Point{x0, y0}, B: orb.Point{x1, y1}} }
	arc := func(x0, y0, x1, y1, b float64) Edge {
		return Edge{A: orb.Point{x0, y0}, B: orb.Point{x1, y1}, Bulge: b}
	}
	for _, tt := range []struct {
		name string
		a, b Edge
		kind Kind
		at   []orb.Point
	}{
		{"lines cross", line(0, 0, 10, 0), line(5, -5, 5, 5), Crosses, []orb.Point{{5, 0}}},
		{"lines miss", line(0, 0, 10, 0), line(5, 1, 5, 5), None, nil},
		{"end on a line", line(0, 0, 10, 0), line(5, 0, 5, 5), Touches, []orb.Point{{5, 0}}},
		{"end short by half Tol", line(0, 0, 10, 0), line(5, 0.5e-6, 5, 5), Touches, []orb.Point{{5, 0}}},
		{"end short by two Tol", line(0, 0, 10, 0), line(5, 2e-6, 5, 5), None, nil},
		{"end past by half Tol", line(0, 0, 10, 0), line(5, -0.5e-6, 5, 5), Touches, []orb.Point{{5, 0}}},
		{"corner", line(0, 0, 10, 0), line(10, 0, 10, 5), Touches, []orb.Point{{10, 0}}},
		{"lines overlap", line(0, 0, 10, 0), line(12, 0, 4, 0), Overlap, []orb.Point{{4, 0}, {10, 0}}},
		{"one in the other", line(4, 0, 6, 0), line(0, 0, 10, 0), Overlap, []orb.Point{{4, 0}, {6, 0}}},
		{"overlap half Tol apart", line(0, 0, 10, 0), line(2, 0.5e-6, 12, 0.5e-6), Overlap, []orb.Point{{2, 0}, {10, 0}}},
		{"parallel two Tol apart", line(0, 0, 10, 0), line(2, 2e-6, 12, 2e-6), None, nil},
		{"end to end", line(0, 0, 10, 0), line(10, 0, 20, 0), Touches, []orb.Point{{10, 0}}},
		{"flat cross", line(0, 0, 100, 0), line(0, -1e-4, 100, 1e-4), Crosses, []orb.Point{{50, 0}}},
		{"line through an arc", line(-10, 3, 10, 3), arc(5, 0, -5, 0, 1), Crosses, []orb.Point{{-4, 3}, {4, 3}}},
		{"line through one side", line(0, 3, 10, 3), arc(5, 0, -5, 0, 1), Crosses, []orb.Point{{4, 3}}},
		{"line on the arc's other half", line(-10, -3, 10, -3), arc(5, 0, -5, 0, 1), None, nil},
		{"tangent", line(-10, 5, 10, 5), arc(5, 0, -5, 0, 1), Touches, []orb.Point{{0, 5}}},
		{"tangent within Tol, inside", line(-10, 5-0.9e-6, 10, 5-0.9e-6), arc(5, 0, -5, 0, 1), Touches, []orb.Point{{0, 5}}},
		{"tangent within Tol, outside", line(-10, 5+0.9e-6, 10, 5+0.9e-6), arc(5, 0, -5, 0, 1), Touches, []orb.Point{{0, 5}}},
		{"past tangent by two Tol", line(-10, 5+2e-6, 10, 5+2e-6), arc(5, 0, -5, 0, 1), None, nil},
		{"short of tangent by two Tol", line(-10, 5-2e-6, 10, 5-2e-6), arc(5, 0, -5, 0, 1), Crosses,
			[]orb.Point{{-math.Sqrt(10 * 2e-6), 5}, {math.Sqrt(10 * 2e-6), 5}}},
		{"smooth join", line(-10, 5, 0, 5), arc(0, 5, 5, 0, -math.Tan(math.Pi/8)), Touches, []orb.Point{{0, 5}}},
		{"chord", line(-5, 0, 5, 0), arc(5, 0, -5, 0, 1), Touches, []orb.Point{{-5, 0}, {5, 0}}},
		{"circles cross", arc(5, 0, -5, 0, 1), arc(9, 3, -1, 3, 1), Crosses,
			[]orb.Point{{2 - 0.6*math.Sqrt(18.75), 1.5 + 0.8*math.Sqrt(18.75)}}},
		{"half circles outside tangent", arc(5, 0, -5, 0, 1), arc(-4, 9, 4, 9, 1), Touches, []orb.Point{{0, 5}}},
		{"inside tangent", arc(5, 0, -5, 0, 1), arc(2, 3, -2, 3, 1), Touches, []orb.Point{{0, 5}}},
		{"concentric", arc(5, 0, -5, 0, 1), arc(4, 0, -4, 0, 1), None, nil},
		{"same arc", arc(5, 0, -5, 0, 1), arc(5, 0, -5, 0, 1), Overlap, []orb.Point{{5, 0}, {-5, 0}}},
		{"same arc back", arc(5, 0, -5, 0, 1), arc(-5, 0, 5, 0, -1), Overlap, []orb.Point{{5, 0}, {-5, 0}}},
		{"two halves", arc(5, 0, -5, 0, 1), arc(-5, 0, 5, 0, 1), Touches, []orb.Point{{5, 0}, {-5, 0}}},
		{"quarter of a half", arc(5, 0, -5, 0, 1), arc(0, 5, -5, 0, math.Tan(math.Pi/8)), Overlap, []orb.Point{{0, 5}, {-5, 0}}},
		{"arcs share part", arc(5, 0, -5, 0, 1), arc(0, 5, 0, -5, 1), Overlap, []orb.Point{{0, 5}, {-5, 0}}},
		{"point on a line", line(0, 0, 10, 0), line(3, 0, 3, 0), Touches, []orb.Point{{3, 0}}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			for _, far := range []float64{0, 1e4} {
				for form := range 8 {
					a, b := tt.a, tt.b
					mv := func(q orb.Point) orb.Point {
						if form&1 != 0 {
							q[1] = -q[1]
						}
						return orb.Point{q[0] + far, q[1] - far}
					}
					a.A, a.B, b.A, b.B = mv(a.A), mv(a.B), mv(b.A), mv(b.B)
					if form&1 != 0 {
						a.Bulge, b.Bulge = -a.Bulge, -b.Bulge
					}
					if form&2 != 0 {
						a = a.Reverse()
					}
					if form&4 != 0 {
						a, b = b, a
					}
					c := Intersect(a, b)
					require.Equal(t, tt.kind, c.Kind, "form %d: %v", form, c)
					if len(tt.at) == 0 {
						continue
					}
					require.Equal(t, len(tt.at), c.N, "form %d: %v", form, c)
					for _, want := range tt.at {
						d := math.Inf(1)
						for k := range c.N {
							d = math.Min(d, dist(c.Meet[k].At, mv(want)))
						}
						require.Less(t, d, 3e-6, "form %d: %v", form, c)
					}
					for k := range c.N {
						m := c.Meet[k]
						require.Less(t, dist(a.At(m.TA), m.At), 2e-6)
						require.Less(t, dist(b.At(m.TB), m.At), 2e-6)
					}
				}
			}
		})
	}
}

// Random pairs against walking along one edge and watching the side of the other.
func TestIntersectAgainstWalk(t *testing.T) {
	rng := rand.New(rand.NewSource(1))
	for n := range 4000 {
		edge := func() Edge {
			e := Edge{A: orb.Point{rng.Float64() * 10, rng.Float64() * 10}, B: orb.Point{rng.Float64() * 10, rng.Float64() * 10}}
			switch rng.Intn(4) {
			case 0:
				e.Bulge = 2*rng.Float64() - 1
			case 1:
				e.Bulge = math.Pow(10, -7*rng.Float64())
			case 2:
				e.Bulge = float64(1 - 2*rng.Intn(2))
			}
			return e
		}
		a, b := edge(), edge()
		c := Intersect(a, b)
		sb := b.span()
		var want []orb.Point
		prev := 0.0
		const steps = 400
		for i := range steps + 1 {
			f := func(x float64) float64 { return sb.side(a.At(x)) }
			x := float64(i) / steps
			v := f(x)
			if i > 0 && prev < 0 != (v < 0) {
				lo, hi := x-1.0/steps, x
				for range 60 {
					m := (lo + hi) / 2
					if f(m) < 0 == (prev < 0) {
						lo = m
					} else {
						hi = m
					}
				}
				if q := a.At(lo); sb.within(q) && dist(q, b.A) > 1e-3 && dist(q, b.B) > 1e-3 && dist(q, a.A) > 1e-3 && dist(q, a.B) > 1e-3 {
					want = append(want, q)
				}
			}
			prev = v
		}
		for _, q := range want {
			d := math.Inf(1)
			for k := range c.N {
				d = math.Min(d, dist(c.Meet[k].At, q))
			}
			require.Less(t, d, 1e-6, "pair %d: %+v %+v: %v, want %v", n, a, b, c, want)
		}
		for k := range c.N {
			require.LessOrEqual(t, a.Dist(c.Meet[k].At), Tol*1.01, "pair %d: %+v %+v", n, a, b)
			require.LessOrEqual(t, b.Dist(c.Meet[k].At), Tol*1.01, "pair %d: %+v %+v", n, a, b)
		}
	}
}

func TestCrossings(t *testing.T) {
	p := Circle(orb.Point{0, 0}, 5)
	require.Len(t, Crossings(p, Rect(-10, -3, 10, 3)), 2)
	require.Empty(t, SelfCrossings(p))
	require.Empty(t, SelfCrossings(Rect(0, 0, 4, 4)))
	eight := Path{V: []Vertex{V(0, 0), V(4, 4), V(4, 0), V(0, 4)}, Closed: true}
	c := SelfCrossings(eight)
	require.Len(t, c, 1)
	require.Equal(t, Crosses, c[0].Kind)
	require.InDelta(t, 2, c[0].Meet[0].At.X(), 1e-9)
	spike := Path{V: []Vertex{V(0, 0), V(4, 0), V(8, 0), V(4, 0), V(4, 4)}, Closed: true}
	require.NotEmpty(t, SelfCrossings(spike))
}
