//go:build outside

package trace_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image/png"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
	"blockwright/jig/trace"
	"blockwright/testdata/outside"
)

// A drawn is the truth about a scan that numpy drew.
type drawn struct {
	Kind        string
	Thick, Tilt float64
	Centre      [2]float64
	Profile     [][2]float64
}

// joints of the kinds of profile.
var joints = map[string]string{"glue": "edge-glue", "drawer": "drawer-lock"}

// fromNumpy draws a scan and gives it with the truth. The folder that TRACE_KEEP names
// keeps what was drawn for the next time.
func fromNumpy(t *testing.T, seed, dpi, pieces int, more ...string) (*drawn, geom.Path, []byte) {
	t.Helper()
	args := append([]string{strconv.Itoa(seed), strconv.Itoa(dpi), strconv.Itoa(pieces)}, more...)
	kept := filepath.Join(os.Getenv("TRACE_KEEP"), strings.Join(args, "-"))
	out, err := os.ReadFile(kept)
	if os.Getenv("TRACE_KEEP") == "" || err != nil {
		out = outside.Python(t, "scan.py", nil, args...)
		if os.Getenv("TRACE_KEEP") != "" {
			require.NoError(t, os.WriteFile(kept, out, 0o644))
		}
	}
	line, data, ok := bytes.Cut(out, []byte("\n"))
	require.True(t, ok)
	d := &drawn{}
	require.NoError(t, json.Unmarshal(line, d))
	var p geom.Path
	for _, q := range d.Profile {
		p.V = append(p.V, geom.V(q[0], q[1]))
	}
	return d, p, data
}

// Scans drawn by numpy, which shares nothing with this program, are measured as well
// as they ought to be: centre within 0.02 mm and profile within 0.03 mm RMS at 1200
// pixels an inch, twice that at 600, and what is stated holds in nine of ten cases.
// [tries] tells how to try more.
func TestOutsideScans(t *testing.T) { outsideScans(t, 12) }

// So are those of other cutters: rounded corners, clearance in the groove, edge glue,
// drawer locks, and rubbings on paper.
func TestOutsideScansOfManyCutters(t *testing.T) { outsideScans(t, 12, "many") }

func outsideScans(t *testing.T, n int, more ...string) {
	o := triesOf(t, n)
	for _, dpi := range []int{600, 1200} {
		if o.skips(dpi) {
			continue
		}
		all := &score{}
		kinds := map[string]*score{}
		for _, seed := range o.seeds {
			d, p, data := fromNumpy(t, seed, dpi, o.pieces, more...)
			if o.quality > 0 {
				m, err := png.Decode(bytes.NewReader(data))
				require.NoError(t, err)
				data = o.file(t, m)
			}
			k := kinds[d.Kind]
			if k == nil {
				k = &score{}
				kinds[d.Kind] = k
			}
			joint := "lock-miter"
			if j := joints[d.Kind]; j != "" {
				joint = j
			}
			centre := d.Centre
			if len(more) > 0 { // by its bearing edges, as a setting takes it
				c, err := trueCentre(p, joint)
				require.NoError(t, err, "%s, seed %d", d.Kind, seed)
				centre = c
			}
			r, err := trace.Trace([]*trace.Scan{open(t, data)}, trace.Options{Joint: joint, DPI: float64(dpi)})
			if err == nil {
				assert.InDelta(t, d.Tilt, r.Tilt, 0.05)
				assert.InDelta(t, d.Thick, r.Board, 0.03*1200/float64(dpi))
				assert.Equal(t, o.pieces, r.Pieces)
			}
			what := fmt.Sprintf("%d dpi, seed %d, %s", dpi, seed, d.Kind)
			all.count(t, what, p, centre, r, err, float64(dpi))
			k.count(nil, what, p, centre, r, err, float64(dpi))
		}
		for _, kind := range slices.Sorted(maps.Keys(kinds)) {
			t.Logf("%d dpi, %s: %s", dpi, kind, kinds[kind])
		}
		t.Logf("%d dpi: %s", dpi, all)
		got := all.n - all.refused
		assert.LessOrEqual(t, all.refused, all.n/20)
		assert.GreaterOrEqual(t, all.good, got*9/10)
		assert.GreaterOrEqual(t, all.centre, got*9/10)
		assert.GreaterOrEqual(t, all.rms, got*9/10)
	}
}

// trueCentre is the centre by which a cutter of that profile is set.
func trueCentre(p geom.Path, jointName string) ([2]float64, error) {
	c := &cutter.Cutter{Handle: "true", Joint: jointName, Units: "mm", Profile: p.Move(geom.Shift(1, 0)), Known: [2]bool{true, true}}
	s, err := joint.Limits(c, 0)
	if err != nil {
		return [2]float64{}, err
	}
	return [2]float64{s.Centre[0] - 1, s.Centre[1]}, nil
}
