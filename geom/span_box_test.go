package geom

import (
	"math"
	"math/rand"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
)

// TestSpanBox holds the box of an edge against points all along it: none lies
// outside, and every side is met.
func TestSpanBox(t *testing.T) {
	rng := rand.New(rand.NewSource(1))
	for n := range 5000 {
		bulge := 2*rng.Float64() - 1
		switch n % 5 {
		case 0:
			bulge = 0
		case 1:
			bulge = math.Copysign(1, bulge)
		case 2:
			bulge *= 1e-6
		}
		e := Edge{orb.Point{20 * rng.Float64(), 20 * rng.Float64()}, orb.Point{20 * rng.Float64(), 20 * rng.Float64()}, bulge}
		if n%7 == 0 { // ends level or upright
			e.B[n%2] = e.A[n%2]
		}
		s := e.span()
		b := s.box()
		met := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
		const steps = 3000
		for i := range steps + 1 {
			q := e.At(float64(i) / steps)
			met = met.union(&box{q[0], q[1], q[0], q[1]})
		}
		const rounding, coarse = 1e-11, 1e-5
		require.Less(t, b.x0, met.x0+rounding, "%v", e)
		require.Less(t, b.y0, met.y0+rounding, "%v", e)
		require.Greater(t, b.x1, met.x1-rounding, "%v", e)
		require.Greater(t, b.y1, met.y1-rounding, "%v", e)
		require.Greater(t, b.x0, met.x0-coarse, "%v", e)
		require.Greater(t, b.y0, met.y0-coarse, "%v", e)
		require.Less(t, b.x1, met.x1+coarse, "%v", e)
		require.Less(t, b.y1, met.y1+coarse, "%v", e)
	}
}
