package joint_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/joint"
)

// traced is the worked profile as n measured points with noise, heights made to
// rise as a cutter's file wants them.
func traced(n int, noise float64, seed uint64) geom.Path {
	rnd := rand.New(rand.NewPCG(seed, 7))
	p := ridge().Profile
	top := math.Inf(-1)
	var q geom.Path
	for i := range n {
		place := p.AtLength(p.Length() * float64(i) / float64(n-1))
		at := p.Edge(place.Edge).At(place.T)
		top = math.Max(top, at[1]+noise*rnd.NormFloat64())
		q.V = append(q.V, geom.V(at[0]+noise*rnd.NormFloat64(), top))
	}
	return q
}

// The centre of a measured profile is judged by what was fitted to it: where its
// own points run into one another by their noise, no centre of a few short edges
// takes its place. All figures of a setting come in reasonable time.
func TestSolveMeasured(t *testing.T) {
	for _, n := range []int{300, 500, 2000} {
		for seed := range uint64(3) {
			c := *ridge()
			c.Profile = traced(n, 0.007, seed)
			start := time.Now()
			s, err := joint.Solve(joint.Request{Cutter: &c, Stock: 19})
			require.NoError(t, err)
			assert.InDelta(t, 19, s.Centre[0], 0.005, "%d points, seed %d", n, seed)
			assert.InDelta(t, 15, s.Centre[1], 0.005, "%d points, seed %d", n, seed)
			assert.InDelta(t, 13, s.Range[0], 0.2, "%d points, seed %d", n, seed)
			assert.InDelta(t, 30, s.Range[1], 0.2, "%d points, seed %d", n, seed)
			s.With(0.1, 0.05)
			if seed == 0 {
				m := s.Minimise()
				assert.InDelta(t, s.Passes[0].Height, m.Height, 0.02)
				assert.InDelta(t, s.Passes[0].Fence, m.Fence, 0.02)
			}
			require.Less(t, time.Since(start), 10*time.Second) // minutes, when every point is held against every edge
		}
	}
}
