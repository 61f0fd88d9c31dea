package geom

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// turns is the winding number by summing the angle under which q sees the path,
// flattened finely: nothing in common with counting crossings of a ray.
func turns(p Path, q orb.Point) int {
	ls := p.Flatten(1e-4)
	sum := 0.0
	for i := 1; i < len(ls); i++ {
		ax, ay := ls[i-1][0]-q[0], ls[i-1][1]-q[1]
		bx, by := ls[i][0]-q[0], ls[i][1]-q[1]
		sum += math.Atan2(ax*by-ay*bx, ax*bx+ay*by)
	}
	return int(math.Round(sum / (2 * math.Pi)))
}

// Lattice points lie at the height of vertices, of arcs' tops and of horizontal
// edges: the ray meets all of them.
func TestWindingAgainstTurnedAngle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPath(true).Draw(t, "p")
		for x := -6.0; x <= 6; x++ {
			for y := -6.0; y <= 6; y++ {
				q := orb.Point{x, y}
				if p.Nearest(q).Dist < 1e-3 {
					continue
				}
				require.Equal(t, turns(p, q), p.Winding(q), "round %v", q)
				require.Equal(t, -p.Winding(q), p.Reverse().Winding(q), "round %v, reversed", q)
			}
		}
	})
}

func TestWindingOfArcsOnTheRay(t *testing.T) {
	c := Circle(orb.Point{0, 0}, 2)
	for _, turn := range []float64{0, math.Pi / 2, 1, math.Pi, -math.Pi / 2} {
		p := c.Move(Turn(turn, orb.Point{}))
		for _, y := range []float64{-2 + 1e-9, -1, 0, 1, 2 - 1e-9} {
			half := math.Sqrt(4 - y*y)
			require.Equal(t, 1, p.Winding(orb.Point{0, y}))
			require.Equal(t, 0, p.Winding(orb.Point{-half - 1e-6, y}))
			require.Equal(t, 0, p.Winding(orb.Point{half + 1e-6, y}))
			require.Equal(t, 1, p.Winding(orb.Point{half - 1e-6, y}))
		}
		require.Equal(t, 0, p.Winding(orb.Point{-5, 2 + 1e-9}))
		require.Equal(t, 0, p.Winding(orb.Point{-5, -2 - 1e-9}))
	}
	open := Path{V: c.V}
	require.Equal(t, 0, open.Winding(orb.Point{}))
}
