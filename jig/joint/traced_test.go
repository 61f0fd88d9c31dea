package joint_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
)

// The fingers of a traced glue joint cutter, one land of them wrong by some hundredths
// as dirt leaves it, are set by the centre nearest their middle, though about another
// they fit more closely.
func TestTracedFingers(t *testing.T) {
	p := geom.Path{V: []geom.Vertex{
		geom.V(10.00, 0), geom.V(10.00, 1.35), geom.V(16.38, 2.53), geom.V(16.37, 4.99),
		geom.V(10.00, 6.17), geom.V(10.01, 8.63), geom.V(16.38, 9.81), geom.V(16.39, 12.27),
		geom.V(10.00, 13.45), geom.V(10.00, 15.91), geom.V(16.34, 17.09), geom.V(16.40, 17.62), geom.V(16.37, 19.58), geom.V(13.20, 20.02),
	}}
	c := &cutter.Cutter{Handle: "fingers", Joint: "edge-glue", Units: "mm", Profile: p, Traced: &cutter.Traced{Centre: 0.03, Profile: 0.05}}
	s, err := joint.Limits(c, 0)
	require.NoError(t, err)
	assert.InDelta(t, 13.19, s.Centre[0], 0.02)
	assert.InDelta(t, 9.22, s.Centre[1], 0.02)
	assert.Greater(t, s.Range[1], 18.0)
}
