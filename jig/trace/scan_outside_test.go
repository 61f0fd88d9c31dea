//go:build outside

package trace_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/trace"
	"blockwright/testdata/outside"
)

// Scans drawn by numpy, which shares nothing with this program, are measured as well
// as they ought to be: centre within 0.02 mm and profile within 0.03 mm RMS at 1200
// pixels an inch, twice that at 600, and what is stated holds in nine of ten cases.
// TRACE_CASES sets how many.
func TestOutsideScans(t *testing.T) {
	n := 12
	if v, err := strconv.Atoi(os.Getenv("TRACE_CASES")); err == nil {
		n = v
	}
	for _, dpi := range []int{600, 1200} {
		refused, centre, profile, most, good := 0, 0, 0, 0, 0
		worst, worstRMS := 0.0, 0.0
		for seed := range n {
			out := outside.Python(t, "scan.py", nil, strconv.Itoa(seed), strconv.Itoa(dpi))
			line, data, ok := bytes.Cut(out, []byte("\n"))
			require.True(t, ok)
			var truth struct {
				Thick, Tilt float64
				Centre      [2]float64
				Profile     [][2]float64
			}
			require.NoError(t, json.Unmarshal(line, &truth))
			var p geom.Path
			for _, q := range truth.Profile {
				p.V = append(p.V, geom.V(q[0], q[1]))
			}
			r, err := trace.Trace([]*trace.Scan{open(t, data)}, trace.Options{Joint: "lock-miter"})
			if err != nil {
				refused++
				t.Logf("%d dpi, seed %d: refused: %v", dpi, seed, err)
				continue
			}
			rms, far := apart(p, r.Profile)
			e := math.Hypot(r.Centre[0]-truth.Centre[0], r.Centre[1]-truth.Centre[1])
			worst, worstRMS = math.Max(worst, e), math.Max(worstRMS, rms)
			k := 1200 / float64(dpi)
			for _, c := range []struct {
				in bool
				n  *int
			}{{e <= r.Sure.Centre, &centre}, {rms <= r.Sure.Profile, &profile}, {far <= r.Sure.Profile, &most}, {e < 0.02*k && rms < 0.03*k, &good}} {
				if c.in {
					*c.n++
				}
			}
			assert.InDelta(t, truth.Tilt, r.Tilt, 0.05)
			assert.InDelta(t, truth.Thick, r.Board, 0.03*k)
			if e > r.Sure.Centre || rms > r.Sure.Profile || e > 0.02*k || rms > 0.03*k {
				t.Logf("%d dpi, seed %d: centre off %.4f, sure %.4f; profile off rms %.4f most %.4f, sure %.4f; %d edges of %d", dpi, seed, e, r.Sure.Centre, rms, far, r.Sure.Profile, r.Profile.Edges(), p.Edges())
			}
		}
		got := n - refused
		t.Logf("%d dpi, %d scans: %d refused, %d good, stated centre holds in %d, profile RMS in %d, greatest in %d; worst centre %.4f, RMS %.4f", dpi, n, refused, good, centre, profile, most, worst, worstRMS)
		assert.LessOrEqual(t, refused, n/20)
		assert.GreaterOrEqual(t, good, got*9/10)
		assert.GreaterOrEqual(t, centre, got*9/10)
		assert.GreaterOrEqual(t, profile, got*9/10)
	}
}
