package geom

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// fingers is a path of n fingers, deep mm deep, flanks rising by rise, lands land mm
// long. Its flanks' middles are centres.
func fingers(n int, deep, rise, land float64) Path {
	var p Path
	x, z := 0.0, 0.0
	for range 2 * n {
		p.V = append(p.V, V(x, z), V(x, z+land))
		x, z = deep-x, z+land+rise
	}
	return p
}

func TestCentresOfFingers(t *testing.T) {
	p := fingers(3, 6, 1, 3) // lands at 0, 4, 8, …: flanks' middles at 3.5, 7.5, …, the path ends at 23
	cs, err := Centres(p, Tol, 0.8, 0.1)
	require.NoError(t, err)
	require.Len(t, cs, 5)
	for i, want := range []float64{11.5, 7.5, 15.5, 3.5, 19.5} {
		assert.InDelta(t, 3, cs[i][0], 1e-6)
		if i > 0 { // two share as much
			assert.InDelta(t, math.Abs(want-11.5), math.Abs(cs[i][1]-11.5), 1e-6)
			continue
		}
		assert.InDelta(t, want, cs[i][1], 1e-6)
	}
	one, err := Centre(p)
	require.NoError(t, err)
	assert.InDelta(t, 0, dist(one.Centre, cs[0]), 1e-9)
	cs, err = Centres(p, Tol, 0.8, 0.4)
	require.NoError(t, err)
	assert.Len(t, cs, 1)
}

// A path whose corners are off by a little has the same centres to within that, and
// none by a stricter measure; a chipped corner changes nothing.
func TestCentresOfFingersNotQuiteRight(t *testing.T) {
	p := fingers(3, 6, 1, 3)
	for i := range p.V {
		p.V[i].Point = orb.Point{p.V[i].X() + 0.02*math.Sin(float64(3*i)), p.V[i].Y() + 0.02*math.Cos(float64(5*i))}
	}
	p.V = append(append(p.V[:3:3], V(6, 6.5), V(5.4, 7.1)), p.V[4:]...) // for (6, 7)
	cs, err := Centres(p, 0.1, 0.8, 0.25)
	require.NoError(t, err)
	require.Len(t, cs, 3)
	assert.InDelta(t, 0, dist(cs[0], orb.Point{3, 11.5}), 0.03)
	cs, err = Centres(p, 1e-4, 0.8, 0.25)
	require.NoError(t, err)
	assert.Empty(t, cs)
}

func TestCentresOfProfiles(t *testing.T) {
	for name, tt := range exactProfiles() {
		cs, err := Centres(tt.p, Tol, 0.8, 0.25)
		require.NoError(t, err, name)
		require.NotEmpty(t, cs, name)
		assert.InDelta(t, 0, dist(cs[0], tt.c), 1e-6, name)
	}
	flank, err := Centres(Path{V: []Vertex{V(0, 0), V(3, 20)}}, Tol, 0.8, 0.1)
	require.NoError(t, err)
	assert.Empty(t, flank, "a flank slides along itself")
	_, err = Centres(Path{V: []Vertex{V(0, 0), V(math.NaN(), 20)}}, Tol, 0.8, 0.1)
	assert.Error(t, err)
}
