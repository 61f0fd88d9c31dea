package geom

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParallel(t *testing.T) {
	plate := Region{Rect(0, 0, 60, 40), Circle(orb.Point{30, 20}, 8).Reverse()}
	for _, d := range []float64{3, -3, 0.2, 7.9999} {
		out, err := plate.Offset(d)
		require.NoError(t, err)
		require.NoError(t, out.Parallel(plate, d))
		assert.ErrorContains(t, out.Parallel(plate, d+1e-5), "want")
		assert.Error(t, out.Parallel(plate, -d), "the other side")
		out[0].V[1].Point[0] += 1e-5
		out[0].V[1].Point[1] += 1e-5
		assert.Error(t, out.Parallel(plate, d), "a vertex off by 0.00001")
	}
	out, err := plate.Offset(-3)
	require.NoError(t, err)
	require.NoError(t, out[:1].Parallel(plate, -3), "a loop that is missing is not seen")
	assert.Error(t, plate.Parallel(out[:1], 3), "but the other way round")
	assert.Error(t, plate.Parallel(nil, 3))
	out[0].V[0].Point[1] = math.NaN()
	assert.Error(t, out.Parallel(plate, -3))
}
