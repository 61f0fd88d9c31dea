package geom

import (
	"math/rand"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
)

func TestIndexAgainstLoops(t *testing.T) {
	rng := rand.New(rand.NewSource(3))
	for _, n := range []int{1, 2, 3, 5, 17, 300} {
		p := Path{Closed: true}
		for range n {
			p.V = append(p.V, B(rng.Float64()*100, rng.Float64()*100, 2*rng.Float64()-1))
		}
		ps := []Path{p, Circle(orb.Point{50, 50}, 30), {V: []Vertex{V(10, 90)}}}
		x := NewIndex(ps...)
		for range 200 {
			q := orb.Point{rng.Float64()*140 - 20, rng.Float64()*140 - 20}
			want := Nearest(ps, q)
			got := x.Nearest(q)
			require.InDelta(t, want.Dist, got.Dist, 1e-9)
			require.InDelta(t, want.Dist, dist(q, got.At), 1e-9)
			require.True(t, x.Closer(q, want.Dist+1e-6))
			require.False(t, x.Closer(q, want.Dist-1e-6))
			require.Equal(t, Region(ps).Winding(q), x.Winding(q))
		}
		pairs := map[[4]int]bool{}
		x.Pairs(x, 0, func(a, b Near) { pairs[[4]int{a.Path, a.Edge, b.Path, b.Edge}] = true })
		for i := range p.Edges() {
			for j := range i {
				if Intersect(p.Edge(i), p.Edge(j)).N > 0 {
					require.True(t, pairs[[4]int{0, j, 0, i}], "edges %d %d", j, i)
				}
			}
		}
	}
}

func TestIndexEmpty(t *testing.T) {
	x := NewIndex()
	require.False(t, x.Closer(orb.Point{}, 1e9))
	require.Equal(t, 0, x.Winding(orb.Point{}))
	require.Empty(t, Crossings(Path{}, Circle(orb.Point{}, 1)))
	require.Empty(t, SelfCrossings(Path{}))
}
