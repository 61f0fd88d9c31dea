package cutter

import (
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/geom"
)

var drawn = geom.Path{V: []geom.Vertex{
	geom.V(34, 0), geom.V(24, 10), geom.B(25.5, 10.5, -0.2), geom.V(25.5, 14.4), geom.V(12.5, 15.6), geom.V(12.5, 19.5), geom.B(14, 20, 0.1), geom.V(4, 30),
}}

// However a profile is cut into pieces, turned about, shuffled and moved up and
// down, it comes back.
func TestChainAndPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		p := drawn.Move(geom.Shift(0, rapid.Float64Range(-100, 100).Draw(t, "up")))
		axis := "left"
		if rapid.Bool().Draw(t, "right") {
			p, axis = p.Move(geom.MirrorX(0)), "right"
		}
		var pieces []geom.Path
		for i := 0; i < p.Edges(); {
			n := 1 + random.IntN(3)
			end := min(i+n, p.Edges())
			q := geom.Path{V: append([]geom.Vertex(nil), p.V[i:end+1]...)}
			q.V[len(q.V)-1].Bulge = 0
			if random.IntN(2) == 0 {
				q = q.Reverse()
			}
			pieces = append(pieces, q)
			i = end
		}
		random.Shuffle(len(pieces), func(i, j int) { pieces[i], pieces[j] = pieces[j], pieces[i] })
		chains, err := Chain(pieces, 0)
		require.NoError(t, err)
		require.Len(t, chains, 1)
		got, err := Place(chains[0], Placing{})
		require.NoError(t, err)
		assert.Equal(t, axis, got.Axis)
		assert.Equal(t, [2]bool{true, true}, got.Known)
		require.Len(t, got.Profile.V, len(drawn.V))
		for i, v := range drawn.V {
			assert.InDelta(t, 0, apart(v.Point, got.Profile.V[i].Point), 1e-9)
			assert.InDelta(t, v.Bulge, got.Profile.V[i].Bulge, 1e-12)
		}
	})
}

func TestChainGaps(t *testing.T) {
	a := geom.Path{V: []geom.Vertex{geom.V(0, 0), geom.V(5, 5)}}
	b := geom.Path{V: []geom.Vertex{geom.V(5.02, 5), geom.V(9, 9)}}
	c := geom.Path{V: []geom.Vertex{geom.V(5.01, 5), geom.V(9, 0)}}
	got, err := Chain([]geom.Path{a, b}, 0.01)
	require.NoError(t, err)
	assert.Len(t, got, 2)
	got, err = Chain([]geom.Path{a, b}, 0.03)
	require.NoError(t, err)
	require.Len(t, got, 1)
	assert.Equal(t, 5.01, got[0].V[1].X())
	_, err = Chain([]geom.Path{a, b, c}, 0.03)
	assert.ErrorContains(t, err, "3 loose ends meet near")
}

func TestPlaceClosedAndTold(t *testing.T) {
	half := geom.Path{Closed: true, V: append([]geom.Vertex{geom.V(0, 30), geom.V(0, 0)}, drawn.V...)}
	got, err := Place(half, Placing{})
	require.NoError(t, err)
	assert.Equal(t, drawn.V, got.Profile.V)

	moved := drawn.Move(geom.Shift(100, 7))
	got, err = Place(moved, Placing{Axis: "left", Diameter: 68})
	require.NoError(t, err)
	assert.InDelta(t, 34, got.Profile.V[0].X(), 1e-9)
	assert.Zero(t, got.Profile.V[0].Y())
	assert.True(t, got.Known[0])
	got, err = Place(moved.Move(geom.MirrorX(0)).Move(geom.Shift(300, 0)), Placing{Axis: "right"})
	require.NoError(t, err)
	assert.False(t, got.Known[0])
	assert.InDelta(t, unknownLeast, got.Profile.Bound().Min[0], 1e-9)
	assert.InDelta(t, 30, got.Profile.Bound().Max[0]-got.Profile.Bound().Min[0], 1e-9)
}

func TestPlaceRefuses(t *testing.T) {
	under := geom.Path{V: []geom.Vertex{geom.V(30, 0), geom.V(20, 10), geom.V(25, 8), geom.V(5, 30)}}
	for _, tt := range []struct {
		p    geom.Path
		at   Placing
		want string
	}{
		{under, Placing{}, "from (20.0000, 10.0000) to (25.0000, 8.0000) mm of the drawing"},
		{drawn.Move(geom.Shift(-20, 0)), Placing{}, "want --axis left or right"},
		{drawn, Placing{Diameter: 50}, "want a diameter of at least 60"},
		{geom.Circle(orb.Point{20, 20}, 5), Placing{}, "no upright edge"},
		{geom.Path{}, Placing{}, "0 points"},
	} {
		_, err := Place(tt.p, tt.at)
		assert.ErrorContains(t, err, tt.want)
	}
}
