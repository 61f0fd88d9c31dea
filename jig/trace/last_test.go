package trace_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/trace"
)

// combed is the profile of a glue joint's cutter on a board, its first land ending at
// the height z0: lands of 2.6 mm, flanks that rise by rise over 5 mm.
func combed(thick, z0, rise float64) geom.Path {
	const deep, land = 5.0, 2.6
	p := geom.Path{V: []geom.Vertex{geom.V(0, z0-land)}}
	x := 0.0
	for z := z0; z < thick+20; z += land + rise {
		p.V = append(p.V, geom.V(x, z), geom.V(deep-x, z+rise))
		x = deep - x
	}
	q := p.Move(geom.Shift(0, 20*(land+rise)))
	q.V = append(p.Move(geom.Shift(0, -2*(land+rise))).V[:4], p.V[1:]...) // two flanks below
	return q.Between(0, thick)
}

// What ends just inside a face is measured, refused, or said to be unsure: a land or a
// flank of some tenths of a millimetre there is not taken for a chip with confidence.
func TestShortAtFaces(t *testing.T) {
	const thick = 18
	measured := 0
	for k, z0 := range []float64{0.3, 0.4, 2.9} {
		rise := []float64{1.1, 0.8, 2.1}[k]
		p := combed(thick, z0, rise)
		d := clean(p, thick, 600, uint64(k))
		d.length, d.margin = 16, 3
		r, err := trace.Trace([]*trace.Scan{d.scanOf(t)}, trace.Options{DPI: 600, Joint: "edge-glue"})
		if err != nil {
			t.Logf("land ends at %.2f, rise %.1f: %v", z0, rise, err)
			continue
		}
		measured++
		rms, most := apart(p, r.Profile)
		t.Logf("land ends at %.2f, rise %.1f: rms %.4f most %.4f sure %.4f, centre %.3f %q", z0, rise, rms, most, r.Sure.Profile, *r.Centre, r.Notes)
		assert.LessOrEqual(t, rms, r.Sure.Profile)
		c, err := geom.Centre(p)
		require.NoError(t, err)
		e := math.Hypot(c.Centre[0]-r.Centre[0], c.Centre[1]-r.Centre[1])
		assert.True(t, e < r.Sure.Centre || math.Abs(math.Remainder(e, 2.6+rise)) < r.Sure.Centre, "centre %v of %v, sure %v", r.Centre, c.Centre, r.Sure.Centre)
	}
	assert.GreaterOrEqual(t, measured, 2, "the others were refused")
}
