package joint_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
)

// ridge is an invented lock-miter cutter with its centre at (19, 15).
func ridge() *cutter.Cutter {
	return &cutter.Cutter{
		Handle: "ridge-lock", Name: "Ridge lock 45", Joint: "lock-miter", Units: "mm",
		Shank: 12, MaxRPM: 14000, Known: [2]bool{true, true},
		Profile: geom.Path{V: []geom.Vertex{
			geom.V(34, 0), geom.V(24, 10), geom.V(25.5, 10.5), geom.V(25.5, 14.4),
			geom.V(12.5, 15.6), geom.V(12.5, 19.5), geom.V(14, 20), geom.V(4, 30),
		}},
		Body: geom.Path{V: []geom.Vertex{geom.V(6, -30), geom.V(6, 0)}},
	}
}

func solve(t *testing.T, r joint.Request) *joint.Setting {
	t.Helper()
	s, err := joint.Solve(r)
	require.NoError(t, err)
	return s
}

// TestSettings of the invented cutter, worked by hand: H = T/2 - 15, D = 19 - T/2.
func TestSettings(t *testing.T) {
	for _, tt := range []struct{ stock, height, fence float64 }{
		{13, -8.5, 12.5}, {16, -7, 11}, {19, -5.5, 9.5}, {25.4, -2.3, 6.3}, {30, 0, 4},
	} {
		s := solve(t, joint.Request{Cutter: ridge(), Stock: tt.stock})
		assert.InDelta(t, 19, s.Centre[0], geom.Tol)
		assert.InDelta(t, 15, s.Centre[1], geom.Tol)
		assert.InDelta(t, 0, s.Residual, geom.Tol)
		assert.InDelta(t, 13, s.Range[0], geom.Tol)
		assert.InDelta(t, 30, s.Range[1], geom.Tol)
		assert.InDelta(t, 17, s.Usable[0], geom.Tol)
		assert.InDelta(t, 30, s.Usable[1], geom.Tol)
		require.Len(t, s.Passes, 2)
		for _, p := range s.Passes {
			assert.InDelta(t, tt.height, p.Height, geom.Tol)
			assert.InDelta(t, tt.fence, p.Fence, geom.Tol)
			assert.InDelta(t, tt.stock, p.X(0), geom.Tol)
			assert.InDelta(t, 0, p.X(tt.stock), geom.Tol)
			assert.InDelta(t, 0, p.CutLine.Start().Y(), geom.Tol)
			assert.InDelta(t, tt.stock, p.CutLine.End().Y(), geom.Tol)
		}
		assert.Equal(t, tt.stock < 17, len(s.Warnings) > 0, "%v", s.Warnings)
	}
}

func TestOutOfRange(t *testing.T) {
	for _, stock := range []float64{12, 12.99, 30.01, 400} {
		_, err := joint.Solve(joint.Request{Cutter: ridge(), Stock: stock})
		var out *joint.OutOfRange
		require.ErrorAs(t, err, &out)
		assert.InDeltaSlice(t, []float64{13, 30}, out.Range[:], geom.Tol)
		assert.Contains(t, err.Error(), "13 mm to 30 mm")
		assert.NotContains(t, err.Error(), "misses")
	}
	// What prints like the limit says by how much it is not.
	_, err := joint.Solve(joint.Request{Cutter: ridge(), Stock: 12.999998})
	assert.ErrorContains(t, err, "; it misses the limit by 2e-06 mm")
}
