//go:build outside

package posts

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/testdata/outside"
)

// sweepReport is what testdata/outside/sweep.py finds.
type sweepReport struct {
	Gouge, Leftover, Deepest, Outside float64
	Low                               *float64 `json:"low_rapid"`
	Off, Through, Outers              int
	Tabs                              []struct{ Length, Seat float64 }
}

// TestOutsideSweepsLeaveTheWalls runs every milling program through the RS-274
// interpreter of linuxcnc-uspace and sweeps the mill along the interpreter's moves
// with GEOS: what is left must be the WALL of the drawing.
func TestOutsideSweepsLeaveTheWalls(t *testing.T) {
	for _, c := range fixtures(t) {
		t.Run(c.name, func(t *testing.T) {
			f, files, _, err := Make(t.Context(), c.request)
			require.NoError(t, err)
			dxf := filepath.Join(t.TempDir(), "part.dxf")
			require.NoError(t, os.WriteFile(dxf, files["dxf"], 0o600))
			limit := 0.0005
			if c.request.Shop.Units == "in" {
				limit = 0.002 // the interpreter prints inches with four decimals
			}
			for _, ext := range []string{"ngc", "nc"} {
				s := swept(t, f, string(files[ext]), dxf, limit)
				assert.LessOrEqual(t, s.Gouge, limit, ext)
				assert.LessOrEqual(t, s.Leftover, limit, ext)
				assert.Zero(t, s.Off, "%s: cuts with the spindle off", ext)
				assert.LessOrEqual(t, s.Outside, 0.0, "%s: off the sheet", ext)
				assert.Positive(t, s.Through, ext)
				top := f.setup(&f.Milling).Top
				require.NotNil(t, s.Low, ext)
				assert.GreaterOrEqual(t, *s.Low, top+c.request.Shop.Defaults.SafeZ-limit, "%s: low rapid", ext)
				assert.GreaterOrEqual(t, s.Deepest, top-f.Sheet.Thick()-c.request.Shop.Defaults.Through-limit, ext)
				if c.request.Shop.Defaults.Hold == "tabs" {
					assert.GreaterOrEqual(t, len(s.Tabs), 2*s.Outers, "%s: two tabs a plate", ext)
				}
				for _, tab := range s.Tabs {
					assert.LessOrEqual(t, tab.Length, c.request.Shop.Defaults.TabWidth+f.Diameter+0.2, "%s: longest tab", ext)
					assert.GreaterOrEqual(t, tab.Seat, f.Diameter-0.1, "%s: tab near a seat", ext)
				}
			}
		})
	}
}

// swept runs a program through the interpreter and its moves through GEOS.
func swept(t *testing.T, f *Fixture, program, dxf string, limit float64) sweepReport {
	t.Helper()
	canon, why := outside.RS274(t, []byte(program), outside.Options{})
	require.Empty(t, why)
	require.True(t, canon.Ended)
	type move struct {
		Kind     int        `json:"kind"`
		From, To [3]float64 `json:"-"`
		A        [3]float64 `json:"from"`
		B        [3]float64 `json:"to"`
		Centre   [2]float64 `json:"centre"`
		Turns    int        `json:"turns"`
		RPM      float64    `json:"rpm"`
	}
	var ms []move
	var at [3]float64
	for _, c := range canon.Calls {
		if c.Kind == outside.Dwell {
			continue
		}
		if len(ms) == 0 {
			at = c.To // where the tool stood before the first lift is not known
		}
		ms = append(ms, move{Kind: c.Kind, A: at, B: c.To, Centre: c.Centre, Turns: c.Turns, RPM: c.RPM})
		at = c.To
	}
	in, err := json.Marshal(map[string]any{
		"moves": ms, "mill": f.Diameter, "top": f.setup(&f.Milling).Top, "thick": f.Sheet.Thick(),
		"dxf": dxf, "limit": limit + 1e-4, "width": f.Sheet.Width, "height": f.Sheet.Height,
	})
	require.NoError(t, err)
	var s sweepReport
	require.NoError(t, json.Unmarshal(outside.Python(t, "sweep.py", in), &s))
	return s
}

// TestOutsideEveryProgramIsAccepted runs engraving, frame and pen programs through
// the interpreter too.
func TestOutsideEveryProgramIsAccepted(t *testing.T) {
	for _, c := range fixtures(t) {
		_, files, _, err := Make(t.Context(), c.request)
		require.NoError(t, err, c.name)
		n := 0
		for ext, text := range files {
			if strings.HasSuffix(ext, "ngc") || strings.HasSuffix(ext, "nc") {
				canon, why := outside.RS274(t, text, outside.Options{})
				assert.Empty(t, why, "%s %s", c.name, ext)
				assert.True(t, canon.Ended, "%s %s", c.name, ext)
				n++
			}
		}
		assert.GreaterOrEqual(t, n, 5, c.name)
	}
}
