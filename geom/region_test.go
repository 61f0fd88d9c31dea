package geom

import (
	"math"
	"math/rand"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
)

func TestRegionContains(t *testing.T) {
	r := Region{Rect(0, 0, 20, 10), Circle(orb.Point{10, 5}, 3).Reverse()}
	for _, tt := range []struct {
		q    orb.Point
		want bool
	}{
		{orb.Point{1, 1}, true}, {orb.Point{10, 5}, false}, {orb.Point{-1, 5}, false},
		{orb.Point{0, 5}, true}, {orb.Point{20, 10}, true}, {orb.Point{13, 5}, true},
		{orb.Point{-0.9e-6, 5}, true}, {orb.Point{-1.1e-6, 5}, false},
		{orb.Point{13 - 0.9e-6, 5}, true}, {orb.Point{13 - 1.1e-6, 5}, false},
	} {
		require.Equal(t, tt.want, r.Contains(tt.q), "%v", tt.q)
	}
	for _, tt := range []struct {
		name string
		p    Path
		want bool
	}{
		{"inside", Path{V: []Vertex{V(1, 1), V(19, 1)}}, true},
		{"through the hole", Path{V: []Vertex{V(1, 5), V(19, 5)}}, false},
		{"tangent to the hole", Path{V: []Vertex{V(1, 8), V(19, 8)}}, true},
		{"a little into the hole", Path{V: []Vertex{V(1, 7.99), V(19, 7.99)}}, false},
		{"the boundary", r[0], true},
		{"the hole's boundary", r[1], true},
		{"part of an edge", Path{V: []Vertex{V(5, 0), V(15, 0)}}, true},
		{"out and in again", Path{V: []Vertex{V(5, 1), V(5, -1), V(6, -1), V(6, 1)}}, false},
		{"an arc that bulges out", Path{V: []Vertex{B(5, 0.1, 0.2), V(15, 0.1)}}, false},
		{"a point", Path{V: []Vertex{V(5, 1)}}, true},
		{"a point outside", Path{V: []Vertex{V(10, 5)}}, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			at, ok := r.ContainsPath(tt.p)
			require.Equal(t, tt.want, ok)
			if !ok {
				require.False(t, r.Contains(at))
				require.InDelta(t, 0, tt.p.Nearest(at).Dist, 1e-9)
			}
		})
	}
}

func TestRegionCheck(t *testing.T) {
	hole := Rect(2, 2, 4, 4).Reverse()
	for _, tt := range []struct {
		name string
		r    Region
		why  string
		at   orb.Point
	}{
		{"nothing", nil, "", orb.Point{}},
		{"plate with a hole", Region{Rect(0, 0, 9, 9), hole}, "", orb.Point{}},
		{"island in the hole", Region{Rect(0, 0, 9, 9), Rect(2, 2, 8, 8).Reverse(), Rect(3, 3, 4, 4)}, "", orb.Point{}},
		{"touching", Region{Rect(0, 0, 4, 4), Rect(4, 4, 8, 8)}, "", orb.Point{}},
		{"hole touching the edge", Region{Rect(0, 0, 9, 9), Circle(orb.Point{2, 2}, 2).Reverse()}, "", orb.Point{}},
		{"open", Region{{V: Rect(0, 0, 1, 1).V}}, "open", orb.Point{0, 0}},
		{"a point", Region{{V: []Vertex{V(3, 2)}, Closed: true}}, "point", orb.Point{3, 2}},
		{"no vertex", Region{{Closed: true}}, "no vertex", orb.Point{}},
		{"no number", Region{{V: []Vertex{V(0, 0), V(math.NaN(), 1), V(1, 1)}, Closed: true}}, "no place", orb.Point{}},
		{"eight", Region{{V: []Vertex{V(0, 0), V(4, 4), V(4, 0), V(0, 4)}, Closed: true}}, "edges 0 and 2 cross", orb.Point{2, 2}},
		{"spike", Region{{V: []Vertex{V(0, 0), V(4, 0), V(8, 0), V(4, 0), V(4, 4)}, Closed: true}}, "overlap", orb.Point{4, 0}},
		{"two that cross", Region{Rect(0, 0, 4, 4), Rect(2, -1, 3, 5)}, "crosses path 0", orb.Point{}},
		{"two that overlap", Region{Rect(0, 0, 4, 4), Rect(4, 1, 8, 3)}, "overlaps path 0", orb.Point{}},
		{"clockwise outer", Region{hole}, "runs clockwise with winding number 0", orb.Point{2, 2}},
		{"counter-clockwise hole", Region{Rect(0, 0, 9, 9), hole.Reverse()}, "runs counter-clockwise with winding number 1", orb.Point{2, 2}},
		{"hole in a hole", Region{Rect(0, 0, 9, 9), Rect(1, 1, 8, 8).Reverse(), hole}, "runs clockwise with winding number 0", orb.Point{2, 2}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			err := tt.r.Check()
			if tt.why == "" {
				require.NoError(t, err)
				return
			}
			require.ErrorContains(t, err, tt.why)
			var f *Fault
			require.ErrorAs(t, err, &f)
			if tt.at != (orb.Point{}) {
				require.InDelta(t, 0, dist(tt.at, f.At), 1e-9)
			}
		})
	}
}

// Whatever a boolean gives passes the check.
func TestBooleansPassTheCheck(t *testing.T) {
	for seed := range 400 {
		r := rand.New(rand.NewSource(int64(seed)))
		a, b := shape(r), shape(r)
		for _, g := range []Region{Union(a, b), Intersection(a, b), Difference(a, b)} {
			require.NoError(t, g.Check(), "seed %d: %v", seed, g)
		}
	}
}
