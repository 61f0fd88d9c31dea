package joint_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/joint"
)

// TestClearance: a tooth 0.5 longer than the notch, its flanks taken on straight,
// leaves 0.5 at the bottom of the groove and moves nothing else.
func TestClearance(t *testing.T) {
	c := ridge()
	c.Profile = geom.Path{V: []geom.Vertex{
		geom.V(34, 0), geom.V(24, 10), geom.V(26, 10+2.0/3), geom.V(26, 14.4-0.5*1.2/13),
		geom.V(12.5, 15.6), geom.V(12.5, 19.5), geom.V(14, 20), geom.V(4, 30),
	}}
	s := solve(t, joint.Request{Cutter: c, Stock: 19})
	assert.InDelta(t, 19, s.Centre[0], geom.Tol)
	assert.InDelta(t, 15, s.Centre[1], geom.Tol)
	assert.InDelta(t, 0.5, s.Residual, geom.Tol)
	assert.InDelta(t, 14, s.Range[0], geom.Tol)
	f := s.With(0, 0)
	assert.InDelta(t, 0.5, f.Flush.Normal, geom.Tol)
	assert.InDelta(t, 0, f.Flush.Interference, geom.Tol)
	m := s.Minimise()
	assert.Less(t, math.Abs(m.Height-s.Passes[0].Height), 0.3, "both are shown, they differ: %+v", m)
}

// TestShortTooth: a tooth shorter than the notch is deep bears first; the lands
// there must not run into wood, so the flanks gape.
func TestShortTooth(t *testing.T) {
	c := ridge()
	c.Profile = geom.Path{V: []geom.Vertex{
		geom.V(34, 0), geom.V(24, 10), geom.V(25, 10+1.0/3), geom.V(25, 14.4+0.5*1.2/13),
		geom.V(12.5, 15.6), geom.V(12.5, 19.5), geom.V(14, 20), geom.V(4, 30),
	}}
	s := solve(t, joint.Request{Cutter: c, Stock: 19})
	f := s.With(0, 0)
	assert.LessOrEqual(t, f.Flush.Interference, geom.Tol)
	t.Logf("%v %v %+v", s.Centre, s.Residual, f.Flush)
}

// TestRoundedFile: the invented cutter in inches rounded to a thousandth still has
// its centre, its range, and closes within the rounding.
func TestRoundedFile(t *testing.T) {
	c := ridge()
	for i := range c.Profile.V {
		for k := range 2 {
			v := &c.Profile.V[i].Point[k]
			*v = math.Round(*v/0.0254) * 0.0254
		}
	}
	s, err := joint.Solve(joint.Request{Cutter: c, Stock: 19})
	require.NoError(t, err)
	assert.InDelta(t, 19, s.Centre[0], 0.03)
	assert.InDelta(t, 15, s.Centre[1], 0.03)
	assert.InDelta(t, 13, s.Range[0], 0.06)
	assert.InDelta(t, 30, s.Range[1], 0.06)
	f := s.With(0, 0)
	assert.Less(t, f.Flush.Normal, 0.06)
	assert.Less(t, f.Flush.Interference, 0.06)
}
