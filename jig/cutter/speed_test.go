package cutter

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"blockwright/geom"
)

// Society of Manufacturing Engineers, Useful formulas for machining: a diameter of
// 125 mm at 350 rpm runs 137.4 m/min.
func TestRimSpeed(t *testing.T) {
	c := straight(62.5)
	assert.InDelta(t, 137.4, 60*c.RimSpeed(350), 0.05)
	assert.Zero(t, c.RimSpeed(0))
	c.Known[0] = false
	assert.Zero(t, c.RimSpeed(350))
}

func TestCommonSpeed(t *testing.T) {
	for _, tt := range []struct{ diameter, rpm float64 }{
		{3, 24000}, {25.4, 24000}, {25.5, 18000}, {50.8, 18000}, {63.5, 16000}, {68, 12000}, {88.9, 12000}, {89, 0},
	} {
		assert.Equal(t, tt.rpm, straight(tt.diameter/2).CommonSpeed(), "diameter %v", tt.diameter)
	}
	c := straight(20)
	c.Known[0] = false
	assert.Zero(t, c.CommonSpeed())
}

func straight(r float64) *Cutter {
	return &Cutter{Known: [2]bool{true, true}, Profile: geom.Path{V: []geom.Vertex{geom.V(r, 0), geom.V(r, 10)}}}
}
