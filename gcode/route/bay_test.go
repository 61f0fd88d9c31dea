package route

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
)

// A bay whose mouth the kerf closes is milled away from the inside: the proof does
// not look for what is cut loose there.
func TestBayWithANarrowMouthIsMilledAway(t *testing.T) {
	for _, mouth := range []float64{3.3, 4, 5, 6, 7, 7.4, 9, 14} {
		tool := mill(3.175)
		tool.Sheet = orb.Bound{Max: orb.Point{300, 200}}
		bay := geom.Union(geom.Region{geom.Circle(orb.Point{70, 50}, 12)}, geom.Region{geom.Rect(70-mouth/2, 10, 70+mouth/2, 50)})
		wall := closed(t, geom.Difference(geom.Region{roundRect(20, 20, 120, 90, 3)}, bay), tool.Diameter/2)
		jobs := []Job{{Name: "bay", Wall: wall, Thick: 6, Allowance: 0.15, Climb: true}}
		p, err := Plan(jobs, tool)
		require.NoError(t, err, "mouth %g", mouth)
		s := newSim(p, jobs, tool)
		s.tol = 1e-7
		require.Empty(t, s.run(), "mouth %g", mouth)
		// The kerf's rims: where they leave a mouth open, the waste hangs on there.
		if open := mouth - 2*(tool.Diameter+jobs[0].Allowance+tool.KerfExtra); open > 0.01 {
			continue
		}
		stands := 0
		for x := 58.25; x < 82; x += 0.5 {
			for y := 38.25; y < 62; y += 0.5 {
				q := orb.Point{x, y}
				if wall.SignedDist(q) > 0.01 && !s.wasCut(len(s.moves), q, -tool.Through, tool.Diameter/2) {
					stands++
				}
			}
		}
		assert.Zero(t, stands, "mouth %g: places of the bay that still stand", mouth)
	}
}
