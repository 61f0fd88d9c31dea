package geom

import (
	"math"
	"math/rand"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A path divided anywhere and merged is the path that it was.
func TestMergeUndoesDividing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPath(rapid.Bool().Draw(t, "closed")).Draw(t, "p").Merge()
		if p.Edges() == 0 {
			return
		}
		q := Path{Closed: p.Closed}
		for i := range p.Edges() {
			e := p.Edge(i)
			for range rapid.IntRange(0, 3).Draw(t, "times") {
				if e.Length() < 1e-3 {
					break
				}
				a, b := e.Split(rapid.Float64Range(0.1, 0.9).Draw(t, "at"))
				q.V = append(q.V, Vertex{a.A, a.Bulge})
				e = b
			}
			q.V = append(q.V, Vertex{e.A, e.Bulge})
		}
		if !p.Closed {
			q.V = append(q.V, p.V[len(p.V)-1])
		}
		m := q.Merge()
		// more than half of a circle may be divided elsewhere
		require.LessOrEqual(t, len(m.V), 2*len(p.V))
		require.InDelta(t, p.Length(), m.Length(), 1e-8)
		require.InDelta(t, p.Area(), m.Area(), 2e-9*(1+p.Length()))
		d, _ := Hausdorff([]Path{p}, []Path{m}, 1e-10)
		require.LessOrEqual(t, d, 2e-9)
	})
}

func TestMerge(t *testing.T) {
	// the first vertex divides an edge too
	p := Rect(0, 0, 4, 4)
	p.V = append([]Vertex{V(2, 0)}, append(p.V[1:], p.V[0])...)
	require.Len(t, p.Merge().V, 4)
	// back on itself is not in line
	p = Path{V: []Vertex{V(0, 0), V(5, 0), V(3, 0)}}
	require.Equal(t, p, p.Merge())
	// eight arcs of a circle: halves stay
	var c Path
	c.Closed = true
	for k := range 8 {
		s, co := math.Sincos(float64(k) * math.Pi / 4)
		c.V = append(c.V, B(3*co, 3*s, math.Tan(math.Pi/16)))
	}
	require.Len(t, c.Merge().V, 2)
	require.InDelta(t, 9*math.Pi, c.Merge().Area(), 1e-12)
	// arcs of one tangent, but not of one circle
	p = Path{V: []Vertex{B(0, 0, 0.2), B(4, 0, 0.2), V(12, 4)}}
	require.Len(t, p.Merge().V, 3)
}

// Many short lines along a flat curve: each turns too little to notice, all of them
// together must not become one.
func TestMergeDoesNotDrift(t *testing.T) {
	var p Path
	for i := range 2001 {
		x := float64(i) * 0.01
		p.V = append(p.V, V(x, x*x*2e-7))
	}
	m := p.Merge()
	d, _ := Hausdorff([]Path{p}, []Path{m}, 1e-11)
	require.LessOrEqual(t, d, 1.1e-9)
	require.Less(t, len(m.V), 2001)
	// and a straight row of points is one line, also 10 m away
	r := rand.New(rand.NewSource(1))
	var q Path
	for x := 0.0; x < 100; x += r.Float64() {
		q.V = append(q.V, V(1e4+x, -1e4+x/2))
	}
	require.Len(t, q.Merge().V, 2)
}
