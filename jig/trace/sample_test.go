package trace_test

import (
	"flag"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/trace"
)

var update = flag.Bool("update", false, "draw the sample scan anew")

const sample = "../../testdata/scans/ridge-lock-19mm.jpg"

// ridge is the profile of the cutter that a new shop has, and its centre.
func ridge() (geom.Path, orb.Point) {
	return geom.Path{V: []geom.Vertex{geom.V(34, 0), geom.V(24, 10), geom.V(25.5, 10.5), geom.V(25.5, 14.4),
		geom.V(12.5, 15.6), geom.V(12.5, 19.5), geom.V(14, 20), geom.V(4, 30)}}, orb.Point{19, 15}
}

// The sample scan in testdata, which commands are tried with, is the demo cutter's cut
// in a board of 19 mm. It has no density in its file.
func TestSample(t *testing.T) {
	p, c := ridge()
	q, centre := onBoard(p, c, 19, 0)
	if *update {
		d := clean(q, 19, 600, 7)
		d.length, d.tilt, d.margin, d.noise = 30, 1.2, 3, 3
		require.NoError(t, os.WriteFile(sample, jpegOf(t, d.grey(), 88), 0o644))
	}
	data, err := os.ReadFile(sample)
	require.NoError(t, err)
	s := open(t, data)
	assert.Zero(t, s.DPI)
	r, err := trace.Trace([]*trace.Scan{s}, trace.Options{DPI: 600, Joint: "lock-miter"})
	require.NoError(t, err)
	assert.InDelta(t, centre[0], r.Centre[0], 0.01)
	assert.InDelta(t, centre[1], r.Centre[1], 0.01)
	assert.InDelta(t, 1.2, r.Tilt, 0.02)
	rms, _ := apart(q, r.Profile)
	assert.Less(t, rms, 0.01)
	assert.Equal(t, 7, r.Profile.Edges())
}

// parseBack reads a traced cutter's file as a cutter.
func parseBack(t *testing.T, text []byte) *cutter.Cutter {
	t.Helper()
	c, err := cutter.Parse("cutters/traced.toml", text)
	require.NoError(t, err, "%s", text)
	return c
}
