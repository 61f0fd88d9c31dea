//go:build outside

package posts

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/testdata/outside"
)

// sweepReport is what testdata/outside/sweep.py finds.
type sweepReport struct {
	Gouge, Leftover, Deepest, Outside, Loose float64
	Low                                      *float64 `json:"low_rapid"`
	Off, Through, Outers                     int
	Tabs                                     []struct{ Length, Seat float64 }
}

// TestOutsideSweepsLeaveTheWalls runs every milling program through the RS-274
// interpreter of linuxcnc-uspace and sweeps the mill along the interpreter's moves
// with GEOS: what is left must be the WALL of the drawing.
func TestOutsideSweepsLeaveTheWalls(t *testing.T) {
	for _, c := range fixtures(t) {
		t.Run(c.name, func(t *testing.T) { holdSweep(t, c.request) })
	}
}

// TestOutsideSweepsOfRandomFixtures does the same for a few fixtures drawn at
// random, in mm and in inches.
func TestOutsideSweepsOfRandomFixtures(t *testing.T) {
	for units, most := range map[string]int{"mm": 1, "in": 2} {
		s, _ := startedShop(t, units)
		draw := rapid.Custom(func(t *rapid.T) Request { return drawRequest(t, s) })
		swept := 0
		for seed := 0; swept < most; seed++ {
			require.Less(t, seed, 30, "hardly any can be made")
			r := draw.Example(seed)
			if _, _, _, err := Make(t.Context(), r); err != nil {
				continue // refused, which is judged elsewhere
			}
			swept++
			t.Run(fmt.Sprintf("%s %s %d", units, r.Kind, seed), func(t *testing.T) { holdSweep(t, r) })
		}
	}
}

// holdSweep makes the fixture and holds what the interpreter and GEOS find against its
// drawing.
func holdSweep(t *testing.T, r Request) {
	t.Helper()
	f, files, _, err := Make(t.Context(), r)
	require.NoError(t, err)
	dxf := filepath.Join(t.TempDir(), "part.dxf")
	require.NoError(t, os.WriteFile(dxf, files["dxf"], 0o600))
	limit := 0.0005
	programs := [2][]byte{files["ngc"], files["nc"]}
	if r.Shop.Units == "in" {
		// The interpreter prints four decimals of the program's unit, which in
		// inches is coarser than the words: it gets the same words in mm. What is
		// left is the rounding of the words, half a step in X and in Y at either
		// end of a distance.
		limit += inchStep
		for i := range programs {
			programs[i], err = outside.InMM(programs[i])
			require.NoError(t, err)
		}
	}
	// The interpreter makes the same moves of both dialects, so one sweep does.
	ngc, why := outside.RS274(t, programs[0], outside.Options{})
	require.Empty(t, why)
	grbl, why := outside.RS274(t, programs[1], outside.Options{})
	require.Empty(t, why)
	require.Equal(t, ngc.Calls, grbl.Calls)
	require.True(t, ngc.Ended && grbl.Ended)
	s := sweptByGEOS(t, f, ngc, dxf, limit)
	t.Logf("gouge %.5f, leftover %.5f, %d tabs", s.Gouge, s.Leftover, len(s.Tabs))
	assert.LessOrEqual(t, s.Gouge, limit)
	assert.LessOrEqual(t, s.Leftover, limit)
	assert.LessOrEqual(t, s.Loose, 0.5, "waste that nothing holds")
	assert.Zero(t, s.Off, "cuts with the spindle off")
	assert.LessOrEqual(t, s.Outside, 0.0, "off the sheet")
	assert.Positive(t, s.Through)
	top := f.setup(&f.Milling).Top
	require.NotNil(t, s.Low)
	assert.GreaterOrEqual(t, *s.Low, top+r.Shop.Defaults.SafeZ-limit, "low rapid")
	assert.GreaterOrEqual(t, s.Deepest, top-f.Sheet.Thick()-r.Shop.Defaults.Through-limit)
	if r.Shop.Defaults.Hold == "tabs" {
		assert.GreaterOrEqual(t, len(s.Tabs), 2*s.Outers, "two tabs a plate")
	}
	for _, tab := range s.Tabs {
		assert.LessOrEqual(t, tab.Length, r.Shop.Defaults.TabWidth+f.Diameter+0.2, "longest tab")
		assert.GreaterOrEqual(t, tab.Seat, f.Diameter-0.1, "tab near a seat")
	}
}

// sweptByGEOS sweeps the mill along the interpreter's moves with GEOS.
func sweptByGEOS(t *testing.T, f *Fixture, canon outside.Canon, dxf string, limit float64) sweepReport {
	t.Helper()
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
	skin := 0.0
	if d := f.Request.Shop.Defaults; d.Hold == "skin" {
		skin = d.Skin
	}
	in, err := json.Marshal(map[string]any{
		"moves": ms, "mill": f.Diameter, "top": f.setup(&f.Milling).Top, "thick": f.Sheet.Thick(),
		"skin": skin, "dxf": dxf, "limit": limit, "width": f.Sheet.Width, "height": f.Sheet.Height,
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
