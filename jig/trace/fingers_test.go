package trace_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/trace"
)

// fingers is an edge-glue cut whose last flanks end at the faces, rest above or below
// the land before them.
func fingers(rise, run, land, rest float64) (geom.Path, float64) {
	thick := 2*rest + 4*land + 3*rise
	part := run * rest / rise
	p := geom.Path{V: []geom.Vertex{geom.V(run-part, 0), geom.V(run, rest)}}
	x, z := run, rest
	for range 3 {
		z += land
		p.V = append(p.V, geom.V(x, z))
		x, z = run-x, z+rise
		p.V = append(p.V, geom.V(x, z))
	}
	p.V = append(p.V, geom.V(x, z+land), geom.V(part, thick))
	return p, thick
}

// A flank that ends within a millimetre of a face is no chip, however little is left of
// it; the centre of several is the one in the middle of the board.
func TestFlanksAtTheFaces(t *testing.T) {
	for _, rest := range []float64{0.25, 0.45} {
		t.Run(fmt.Sprint(rest), func(t *testing.T) {
			p, thick := fingers(1.3, 5.5, 2.9, rest)
			d := clean(p, thick, 600, uint64(100*rest))
			d.tilt = 1.3
			r, err := trace.Trace([]*trace.Scan{d.scanOf(t)}, trace.Options{DPI: 600, Joint: "edge-glue"})
			require.NoError(t, err)
			rms, _ := apart(p, r.Profile)
			if rest > 0.3 { // less is too thin to be measured, and said to be uncertain
				assert.Less(t, rms, 0.03)
			}
			assert.LessOrEqual(t, rms, r.Sure.Profile)
			assert.InDelta(t, thick/2, r.Centre[1], math.Min(0.04, r.Sure.Centre))
			assert.InDelta(t, 2.75, r.Centre[0], math.Min(0.04, r.Sure.Centre))
		})
	}
}
