package geom

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
)

func offset(t testing.TB, p Path, d float64) []Path {
	t.Helper()
	out, err := p.Offset(d)
	require.NoError(t, err)
	return out
}

func TestOffsetPlain(t *testing.T) {
	sq := Rect(0, 0, 10, 10)
	in := offset(t, sq, 2)
	require.Len(t, in, 1)
	require.InDelta(t, 36, in[0].Area(), 1e-9)
	out := offset(t, sq, -2)
	require.Len(t, out, 1)
	require.InDelta(t, 100+40*2+math.Pi*4, out[0].Area(), 1e-9)
	require.InDelta(t, 40+2*math.Pi*2, out[0].Length(), 1e-9)
	require.Empty(t, offset(t, sq, 5.1))
	pt := offset(t, sq, 5)
	require.Len(t, pt, 1)
	require.Len(t, pt[0].V, 1)
	require.True(t, pt[0].Closed)
	require.InDelta(t, 0, dist(pt[0].V[0].Point, orb.Point{5, 5}), 1e-9)
	c := offset(t, Circle(orb.Point{3, 3}, 5), 5)
	require.Len(t, c, 1)
	require.Len(t, c[0].V, 1)
	seg := offset(t, Rect(0, 0, 30, 10), 5)
	require.Len(t, seg, 1)
	require.Len(t, seg[0].V, 2)
}
