package geom

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Area, bounds and length against the path flattened finely and measured by orb.
func TestMeasuresAgainstFlattening(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPath(true).Draw(t, "p")
		const tol = 1e-5
		ls := p.Flatten(tol)
		l := p.Length()
		turn := 0.0 // a chord over φ falls short by rφ³/24 of the rise rφ²/8
		for i := range p.Edges() {
			turn += math.Abs(p.Edge(i).Sweep())
		}
		require.InDelta(t, planar.Length(ls), l, tol*turn/3+1e-9*(1+l))
		require.LessOrEqual(t, planar.Length(ls), l+1e-9)
		require.InDelta(t, planar.Area(orb.Ring(ls)), p.Area(), tol*l+1e-9)
		b, f := p.Bound(), ls.Bound()
		require.InDelta(t, 0, dist(b.Min, f.Min), 2*tol)
		require.InDelta(t, 0, dist(b.Max, f.Max), 2*tol)
	})
}

// The same path far from the origin has the same measures.
func TestMeasuresFarAway(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPath(true).Draw(t, "p")
		q := p.Move(Shift(1e4, -1e4))
		require.InDelta(t, p.Area(), q.Area(), 1e-8)
		require.InDelta(t, p.Length(), q.Length(), 1e-9)
	})
}

// The area of a segment with chord c and rise h: r²·acos((r-h)/r) - (r-h)·c/2,
// for the published segment c 10, r 6, h 2.68338 and for flat ones, where the
// closed form loses its digits and the series must take over.
func TestSegmentArea(t *testing.T) {
	area := func(c, r float64) float64 {
		h := r - math.Sqrt(r*r-c*c/4)
		return r*r*math.Acos((r-h)/r) - (r-h)*c/2
	}
	h := 6 - math.Sqrt(6*6-25)
	require.InDelta(t, 2.68338, h, 1e-5)
	seg := Path{V: []Vertex{B(0, 0, 2*h/10), V(10, 0)}, Closed: true}
	require.InDelta(t, area(10, 6), seg.Area(), 1e-12)

	for _, b := range []float64{0.049999, 0.050001, 0.01, 1e-3, 1e-5} {
		// Simpson over the arc's height √(r²-d²) - √(r²-c²/4), written without the
		// difference of two large roots
		e := Edge{orb.Point{0, 0}, orb.Point{10, 0}, b}
		c, r := e.Arc()
		f := func(x float64) float64 {
			d := x - c[0]
			return (25 - d*d) / (math.Sqrt(r*r-d*d) + math.Sqrt(r*r-25))
		}
		const n = 2000
		sum := f(0) + f(10)
		for k := 1; k < n; k++ {
			w := 4.0
			if k%2 == 0 {
				w = 2
			}
			sum += w * f(10*float64(k)/n)
		}
		require.InEpsilon(t, sum*10/n/3, Path{V: []Vertex{B(0, 0, b), V(10, 0)}, Closed: true}.Area(), 1e-9, "bulge %g", b)
	}
}

func TestPlacesAlongAPath(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPath(rapid.Bool().Draw(t, "closed")).Draw(t, "p")
		l := p.Length()
		s := rapid.Float64Range(0, 1).Draw(t, "s") * l
		at := p.AtLength(s)
		require.InDelta(t, s, p.LengthTo(at), 1e-9)
		q := p.Point(at)
		require.InDelta(t, 0, p.Nearest(q).Dist, 3e-9)
		require.Equal(t, p.Start(), p.Point(p.AtLength(-1)))
		require.InDelta(t, 0, dist(p.End(), p.Point(p.AtLength(l+1))), 1e-9)

		e := rapid.Float64Range(0, 1).Draw(t, "e") * l
		if e < s {
			s, e = e, s
		}
		c := p.Cut(s, e)
		require.False(t, c.Closed)
		require.InDelta(t, e-s, c.Length(), 1e-8)
		require.InDelta(t, 0, dist(p.Point(p.AtLength(s)), c.Start()), 1e-8)
		require.InDelta(t, 0, dist(p.Point(p.AtLength(e)), c.End()), 1e-8)
		if p.Closed && p.Edges() > 0 { // on past the start
			c = p.Cut(e, l+s)
			require.InDelta(t, l+s-e, c.Length(), 1e-8)
		}
	})
}

func TestCutKeepsWholeEdges(t *testing.T) {
	p := Path{V: []Vertex{V(0, 0), B(10, 0, 0.3), V(10, 7), V(0.1, 7.3)}, Closed: true}
	c := p.Cut(0, p.Length())
	require.Equal(t, append(append([]Vertex(nil), p.V...), p.V[0]), append(c.V[:4:4], Vertex{Point: c.V[4].Point}))
}

func TestNearestOfPaths(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	ps := []Path{Circle(orb.Point{0, 0}, 5), Rect(10, 0, 20, 3), {V: []Vertex{V(-10, -10)}}}
	for range 200 {
		q := orb.Point{r.NormFloat64() * 12, r.NormFloat64() * 12}
		n := Nearest(ps, q)
		want := math.Min(math.Abs(math.Hypot(q[0], q[1])-5), dist(q, orb.Point{-10, -10}))
		dx, dy := math.Max(10-q[0], q[0]-20), math.Max(0-q[1], q[1]-3)
		switch {
		case dx <= 0 && dy <= 0:
			want = math.Min(want, math.Min(-dx, -dy))
		default:
			want = math.Min(want, math.Hypot(math.Max(0, dx), math.Max(0, dy)))
		}
		require.InDelta(t, want, n.Dist, 1e-9)
		require.InDelta(t, 0, dist(n.At, ps[n.Path].Point(Place{n.Edge, n.T})), 1e-9)
	}
	require.True(t, math.IsInf(Nearest(nil, orb.Point{}).Dist, 1))
	require.Equal(t, orb.Bound{}, Bound(nil))
	require.Equal(t, orb.Bound{Min: orb.Point{-10, -10}, Max: orb.Point{20, 5}}, Bound(ps))
}

// An outer boundary with a hole.
func TestRegionMeasures(t *testing.T) {
	rg := Region{Rect(0, 0, 20, 10), Circle(orb.Point{10, 5}, 3).Reverse()}
	require.InDelta(t, 200-9*math.Pi, rg.Area(), 1e-11)
	for _, tt := range []struct {
		q orb.Point
		w int
		d float64
	}{
		{orb.Point{10, 5}, 0, 3}, {orb.Point{10, 8.5}, 1, -0.5}, {orb.Point{1, 5}, 1, -1},
		{orb.Point{-2, 5}, 0, 2}, {orb.Point{23, 14}, 0, 5},
	} {
		t.Run(fmt.Sprint(tt.q), func(t *testing.T) {
			require.Equal(t, tt.w, rg.Winding(tt.q))
			require.InDelta(t, tt.d, rg.SignedDist(tt.q), 1e-12)
		})
	}
}
