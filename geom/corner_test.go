package geom

import (
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
)

// notched is a plate with a wedge of the waste angle alpha cut into its top edge,
// apex at (50, 20).
func notched(alpha float64) Path {
	w := 30 * math.Tan(alpha/2)
	if alpha > 0.6*math.Pi {
		w = 45
	}
	y := 20 + w/math.Tan(alpha/2)
	return Path{Closed: true, V: []Vertex{V(0, 0), V(100, 0), V(100, y), V(50+w, y), V(50, 20), V(50-w, y), V(0, y)}}
}

func TestCornerFormulas(t *testing.T) {
	right, ok := notched(math.Pi / 2).Corner(4)
	require.True(t, ok)
	require.InDelta(t, math.Pi/2, right.Angle, 1e-12)
	// Machinery's Handbook, 31st ed., p. 80: a fillet has 0.2146 r², rounded .215
	require.InDelta(t, 0.2146, right.UncutArea(1), 5e-5)
	require.InDelta(t, 0.215*9, right.UncutArea(3), 9*5e-4)

	for _, deg := range []float64{20, 45, 60, 90, 120, 150, 170} {
		t.Run(fmt.Sprint(deg), func(t *testing.T) {
			alpha, r := deg*math.Pi/180, 1.5875
			p := notched(alpha)
			c, ok := p.Corner(4)
			require.True(t, ok)
			require.InDelta(t, alpha, c.Angle, 1e-12)

			// What a mill cannot reach, from the circle that touches both edges:
			// its centre lies r/sin(α/2) up the bisector.
			centre := orb.Point{50, 20 + r/math.Sin(alpha/2)}
			f := c.Fillet(r)
			require.InDelta(t, c.UncutArea(r), f.Area(), 1e-10)
			require.InDelta(t, dist(centre, c.At)-r, c.Uncut(r), 1e-12)
			for i := range f.V {
				if e := f.Edge(i); !e.Straight() {
					got, rad := e.Arc()
					require.InDelta(t, 0, dist(got, centre), 1e-9)
					require.InDelta(t, r, rad, 1e-9)
					require.InDelta(t, c.Uncut(r), e.Dist(c.At), 1e-9)
				} else {
					require.InDelta(t, c.Tangent(r), e.Length(), 1e-9)
				}
			}
			wall := Union(Region{p}, Region{f})
			require.InDelta(t, p.Area()+c.UncutArea(r), wall.Area(), 1e-8)

			left := func(cut Path, i int) float64 { // straight length that lies on edge i
				l := 0.0
				for _, q := range Difference(Region{p}, Region{cut}) {
					for k := range q.V {
						if e := q.Edge(k); e.Straight() && p.Edge(i).Dist(e.A) < Tol && p.Edge(i).Dist(e.B) < Tol {
							l += e.Length()
						}
					}
				}
				return l
			}
			whole := p.Edge(3).Length()
			d := c.Bisector(r)
			require.InDelta(t, 0, d.Nearest(c.At).Dist, 1e-9)
			require.InDelta(t, whole-c.Loss(r), left(d, 3), 1e-5)
			require.InDelta(t, whole-c.Loss(r), left(d, 4), 1e-5)

			d = c.Along(r, true) // keeps edge 4
			require.InDelta(t, 0, d.Nearest(c.At).Dist, 1e-9)
			require.InDelta(t, whole, left(d, 4), 1e-5)
			require.InDelta(t, whole-c.Undercut(r), left(d, 3), 1e-5)
			d = c.Along(r, false)
			require.InDelta(t, whole, left(d, 3), 1e-5)
			require.InDelta(t, whole-c.Undercut(r), left(d, 4), 1e-5)
		})
	}
}

func TestNoCorner(t *testing.T) {
	p := notched(1)
	for _, i := range []int{-1, 0, 1, 2, 3, 5, 6, 7} {
		_, ok := p.Corner(i)
		require.False(t, ok, "vertex %d", i)
	}
	open := Path{V: p.V}
	_, ok := open.Corner(4)
	require.True(t, ok)
	_, ok = open.Corner(6)
	require.False(t, ok)
	_, ok = Path{V: []Vertex{V(0, 0), V(5, 0), V(10, 0)}}.Corner(1)
	require.False(t, ok)
	// a half circle met by its own chord, material outside: two corners of 90°
	c, ok := Path{V: []Vertex{B(0, 0, -1), V(10, 0)}, Closed: true}.Corner(0)
	require.True(t, ok)
	require.InDelta(t, math.Pi/2, c.Angle, 1e-12)
}

// A groove with flanks of two angles: after the root every inside corner below has
// the mill's radius and both flanks keep their length.
func TestRoot(t *testing.T) {
	const r = 1.6
	for _, tt := range []struct {
		name         string
		x0, x1       float64 // the groove's top
		depth        float64 // of the root, normal to the bottom
		kept0, kept1 float64
	}{
		{"square", 40, 60, r, 10, 10},
		{"wide", 35, 62, r * (1 + math.Cos(math.Pi/2+math.Atan2(2, 10))), 0, 0},
		{"undercut", 43, 57, r * (1 + math.Cos(math.Pi/2-math.Atan2(3, 10))), 0, 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := Path{Closed: true, V: []Vertex{V(0, 0), V(100, 0), V(100, 30), V(tt.x1, 30), V(60, 20), V(40, 20), V(tt.x0, 30), V(0, 30)}}
			root, err := p.Root(4, r)
			require.NoError(t, err)
			b := root.Bound()
			require.InDelta(t, 20, b.Max[1], 1e-9)
			require.InDelta(t, 20-tt.depth, b.Min[1], 1e-9)
			wall := Difference(Region{p}, Region{root})
			require.Len(t, wall, 1)
			require.InDelta(t, p.Area()-root.Area(), wall.Area(), 1e-8)
			arcs := 0
			for i := range wall[0].V {
				if e := wall[0].Edge(i); !e.Straight() {
					_, rad := e.Arc()
					require.InDelta(t, r, rad, 1e-9)
					arcs++
				}
				_, corner := wall[0].Corner(i)
				require.False(t, corner, "a sharp inside corner is left at %v", wall[0].V[i].Point)
			}
			require.Equal(t, 2, arcs)
			// the flanks, whole
			n := 0
			for i := range wall[0].V {
				e := wall[0].Edge(i)
				for _, k := range []int{3, 5} {
					if p.Edge(k).Dist(e.At(0.3)) < 1e-9 && e.Length() > p.Edge(k).Length()-1e-9 {
						n++
					}
				}
			}
			require.Equal(t, 2, n)
		})
	}
}

func TestRootOfAStep(t *testing.T) {
	// one inside corner; the step's other end is an outside corner
	p := Path{Closed: true, V: []Vertex{V(0, 0), V(30, 0), V(30, 10), V(20, 10), V(20, 20), V(0, 20)}}
	root, err := p.Root(2, 2)
	require.NoError(t, err)
	wall := Difference(Region{p}, Region{root})
	require.Len(t, wall, 1)
	require.InDelta(t, 8, wall[0].Edge(1).Length(), 1e-9) // the neighbour lost the depth
	for i := range wall[0].V {
		_, corner := wall[0].Corner(i)
		require.False(t, corner)
	}
}

func TestNoRoot(t *testing.T) {
	p := Path{Closed: true, V: []Vertex{V(0, 0), V(100, 0), V(100, 30), V(52, 30), V(52, 20), V(50, 20), V(50, 30), V(0, 30)}}
	for _, tt := range []struct {
		name string
		p    Path
		i    int
		err  string
	}{
		{"too narrow", p, 4, "too short"},
		{"flat", p, 0, "no inside corner"},
		{"arc", Path{Closed: true, V: []Vertex{B(0, 0, 0.3), V(9, 0), V(9, 9)}}, 0, "not straight"},
		{"no such edge", p, 8, "no neighbours"},
		{"end", Path{V: p.V}, 0, "no neighbours"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := tt.p.Root(tt.i, 1.01)
			require.ErrorContains(t, err, tt.err)
		})
	}
	_, err := p.Root(4, 1) // exactly the mill's diameter passes
	require.NoError(t, err)
}
