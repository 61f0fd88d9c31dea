package geom

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// genPath draws paths on a lattice or off it, with lines, arcs and half circles.
func genPath(closed bool) *rapid.Generator[Path] {
	return rapid.Custom(func(t *rapid.T) Path {
		lattice := rapid.Bool().Draw(t, "lattice")
		n := rapid.IntRange(1, 12).Draw(t, "n")
		vs := make([]Vertex, n)
		for i := range vs {
			if lattice {
				vs[i] = V(float64(rapid.IntRange(-5, 5).Draw(t, "x")), float64(rapid.IntRange(-5, 5).Draw(t, "y")))
				vs[i].Bulge = rapid.SampledFrom([]float64{0, 0, 0, 1, -1, math.Sqrt2 - 1, 1 - math.Sqrt2, 2.5}).Draw(t, "bulge")
			} else {
				vs[i] = B(rapid.Float64Range(-50, 50).Draw(t, "x"), rapid.Float64Range(-50, 50).Draw(t, "y"),
					rapid.Float64Range(-1, 1).Draw(t, "bulge"))
			}
		}
		p, err := NewPath(closed, vs...)
		if err != nil {
			t.Fatal(err)
		}
		return p
	})
}

func TestNewPath(t *testing.T) {
	nan := math.NaN()
	for _, tt := range []struct {
		name   string
		closed bool
		v      []Vertex
		want   []Vertex
		err    string
	}{
		{"none", false, nil, nil, "at least one vertex"},
		{"no number", false, []Vertex{V(0, 0), V(nan, 1)}, nil, "vertex 1"},
		{"infinite bulge", true, []Vertex{V(0, 0), B(1, 1, math.Inf(1))}, nil, "vertex 1"},
		{"line", false, []Vertex{V(0, 0), V(1, 0)}, []Vertex{V(0, 0), V(1, 0)}, ""},
		{"repeat takes the later bulge", false, []Vertex{B(0, 0, 1), B(0, 0, 0.5), V(2, 0)}, []Vertex{B(0, 0, 0.5), V(2, 0)}, ""},
		{"closing repeat", true, []Vertex{V(0, 0), V(1, 0), V(1, 1), B(0, 0, 3)}, []Vertex{V(0, 0), V(1, 0), V(1, 1)}, ""},
		{"open end has no bulge", false, []Vertex{V(0, 0), B(1, 0, 7)}, []Vertex{V(0, 0), V(1, 0)}, ""},
		{"all one point", true, []Vertex{B(1, 1, 2), B(1, 1, 3)}, []Vertex{V(1, 1)}, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p, err := NewPath(tt.closed, tt.v...)
			if tt.err != "" {
				require.ErrorContains(t, err, tt.err)
				return
			}
			require.NoError(t, err)
			require.Equal(t, tt.want, p.V)
		})
	}
}

// Three quarters of a circle of radius 2 about the origin, also where the vertex
// is given twice.
func TestNewPathSplitsLargeArcs(t *testing.T) {
	b := math.Tan(1.5 * math.Pi / 4)
	for _, v := range [][]Vertex{
		{B(2, 0, b), V(0, -2)},
		{V(2, 0), B(2, 0, b), V(0, -2)},
	} {
		p, err := NewPath(false, v...)
		require.NoError(t, err)
		require.Len(t, p.V, 3)
		require.InDelta(t, 1.5*math.Pi*2, p.Length(), 1e-12)
		for i := range p.Edges() {
			require.LessOrEqual(t, math.Abs(p.V[i].Bulge), 1.0)
			c, r := p.Edge(i).Arc()
			require.InDelta(t, 2, r, 1e-12)
			require.InDelta(t, 0, math.Hypot(c[0], c[1]), 1e-12)
		}
	}
}

func TestPathForms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPath(rapid.Bool().Draw(t, "closed")).Draw(t, "p")
		for i := range p.Edges() {
			if math.Abs(p.V[i].Bulge) > 1 {
				t.Fatalf("bulge %v", p.V[i].Bulge)
			}
		}
		r := p.Reverse()
		require.Equal(t, p, r.Reverse())
		require.InDelta(t, p.Length(), r.Length(), 1e-9)
		require.InDelta(t, p.Area(), -r.Area(), 1e-8)
		require.Equal(t, p.Start(), r.End())
		k := rapid.IntRange(-20, 20).Draw(t, "k")
		q := p.Rotate(k)
		require.InDelta(t, p.Length(), q.Length(), 1e-9)
		require.InDelta(t, p.Area(), q.Area(), 1e-8)
		b, bq := p.Bound(), q.Bound()
		require.InDelta(t, 0, dist(b.Min, bq.Min)+dist(b.Max, bq.Max), 1e-9)
		c := p.Clone()
		c.V[0].Point[0]++
		require.NotEqual(t, c.V[0], p.V[0])
		if p.Edges() > 0 {
			require.Equal(t, p.End(), p.Edge(p.Edges()-1).B)
		}
	})
}

func TestShapes(t *testing.T) {
	require.InDelta(t, math.Pi*9, Circle(orb.Point{5, 5}, 3).Area(), 1e-12)
	require.InDelta(t, 12.0, Rect(1, 2, 4, 6).Area(), 0)
	s := Slot(orb.Point{0, 0}, orb.Point{30, 40}, 8)
	require.InDelta(t, 50*8+math.Pi*16, s.Area(), 1e-11)
	require.InDelta(t, 100+math.Pi*8, s.Length(), 1e-11)
	require.Equal(t, Circle(orb.Point{1, 1}, 2), Slot(orb.Point{1, 1}, orb.Point{1, 1}, 4))
}
