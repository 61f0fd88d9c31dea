package proof

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"

	"blockwright/geom"
)

// Random ways on a disc, held against a dense grid: the rims of what the ways
// reach tell of every hole, and of none where there is none.
func TestGroundAgainstGrid(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 1))
	const side, reach = 5.8, 1.2
	disc := geom.Circle(orb.Point{side / 2, side / 2}, side/2)
	var rim []curve
	for i := range disc.Edges() {
		rim = curves(rim, disc.Edge(i))
	}
	in := geom.Circle(orb.Point{side / 2, side / 2}, side/2-reach+0.0004)
	grain := []float64{0, 0.25, 1e-3}
	holes, shut := 0, 0
	for n := range 400 {
		var cs []curve
		for i := range in.Edges() {
			cs = curves(cs, in.Edge(i))
		}
		place := func() orb.Point {
			g := grain[n%len(grain)] // half of the cases lie on a lattice
			q := orb.Point{1 + rnd.Float64()*(side-2), 1 + rnd.Float64()*(side-2)}
			if g > 0 {
				q[0], q[1] = math.Round(q[0]/g)*g, math.Round(q[1]/g)*g
			}
			return q
		}
		at := place()
		for range rnd.IntN(9) {
			to := at
			if rnd.IntN(6) > 0 {
				to = place()
			}
			bulge := 0.0
			if rnd.IntN(2) == 0 {
				bulge = rnd.Float64()*0.8 - 0.4
			}
			cs = curves(cs, geom.Edge{A: at, B: to, Bulge: bulge})
			if at = to; rnd.IntN(3) == 0 {
				at = place()
			}
		}
		ways := newField(cs)
		g := newGround(geom.Region{disc}, rim, &trimmer{through: ways, scan: scan{c: cs, left: budget}}, reach)
		most := 0.0
		for x := 0.02; x < side; x += 0.04 {
			for y := 0.02; y < side; y += 0.04 {
				if q := (orb.Point{x, y}); gap(q, orb.Point{side / 2, side / 2}) < side/2 {
					d, _ := ways.distance(q)
					most = max(most, d)
				}
			}
		}
		d, at, found := g.uncovered()
		if most > reach+1e-4 {
			holes++
			assert.True(t, found, "case %d: a place is %.4f away", n, most)
		}
		if found {
			have, _ := ways.distance(at)
			assert.InDelta(t, have, d, 1e-9)
			assert.Greater(t, have, reach)
			continue
		}
		shut++
		assert.LessOrEqual(t, most, reach+1e-4, "case %d", n)
	}
	t.Log(holes, "with a hole,", shut, "without")
	assert.Greater(t, holes, 50)
	assert.Greater(t, shut, 50)
}
