//go:build outside

package proof_test

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/geom"
	"blockwright/testdata/outside"
)

// geos sweeps the moves that the RS-274 interpreter makes of a program.
func geos(t *testing.T, text []byte, mill float64, p *proof.Part) swept {
	t.Helper()
	canon, why := outside.RS274(t, text, outside.Options{})
	require.Empty(t, why)
	type move struct {
		Kind   int        `json:"kind"`
		From   [3]float64 `json:"from"`
		To     [3]float64 `json:"to"`
		Centre [2]float64 `json:"centre"`
		Turns  int        `json:"turns"`
		RPM    float64    `json:"rpm"`
	}
	var ms []move
	var at [3]float64
	for _, c := range canon.Calls {
		if c.Kind == outside.Dwell {
			continue
		}
		if len(ms) == 0 {
			at = c.To
		}
		ms = append(ms, move{c.Kind, at, c.To, c.Centre, c.Turns, c.RPM})
		at = c.To
	}
	var wall [][][3]float64
	for _, w := range p.Wall {
		var v [][3]float64
		for _, x := range w.V {
			v = append(v, [3]float64{x.X(), x.Y(), x.Bulge})
		}
		wall = append(wall, v)
	}
	drill := [][3]float64{}
	for _, d := range p.Drill {
		c, r := d.Edge(0).Arc()
		drill = append(drill, [3]float64{c[0], c[1], r})
	}
	in, err := json.Marshal(map[string]any{
		"moves": ms, "mill": mill, "top": p.Top, "thick": p.Thick, "skin": 0, "wall": wall, "drill": drill,
		"limit": p.Rules.Limit, "width": p.Sheet.Max[0], "height": p.Sheet.Max[1],
	})
	require.NoError(t, err)
	var got swept
	require.NoError(t, json.Unmarshal(outside.Python(t, "sweep.py", in), &got))
	return got
}

// swept is what testdata/outside/sweep.py finds.
type swept struct {
	Gouge, Leftover, Loose float64
	Tabs                   []struct{ Length float64 }
}

// TestOutsideLooseWaste: GEOS finds the same waste that nothing holds, between plates
// that stand near each other.
func TestOutsideLooseWaste(t *testing.T) {
	for _, gap := range []float64{mill, 2*mill - 0.5, 2*mill + 1, 2*mill + 4} {
		h, p := pair(t, gap)
		var text bytes.Buffer
		require.NoError(t, gcode.Print(&text, gcode.RS274NGC(), gcode.Listing{Moves: h.ms}))
		slug := strings.Contains(codes(proof.Hold(h.ms, mill, p)), proof.Slug)
		assert.Equal(t, gap < 2*mill, slug, "gap %g", gap)
		loose := geos(t, text.Bytes(), mill, &p).Loose
		t.Logf("gap %g: %.3f loose", gap, loose)
		assert.Equal(t, slug, loose > 0.5, "gap %g: half of %g loose", gap, loose)
	}
}

// TestOutsideGougeAndLeftover spoils programs by known and unknown amounts. The
// RS-274 interpreter runs them, GEOS sweeps the mill along its moves, and finds
// the same gouge and leftover: within the last printed digit of the moves, and
// chords.
func TestOutsideGougeAndLeftover(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	for k := range 5 {
		p := plate()
		p.Rules.Hold, p.Rules.TabHigh, p.Rules.Limit = proof.Unknown, 0, 0.0012
		h := start()
		out := func() float64 { // how far off the walls are cut
			if k == 0 {
				return 0
			}
			return (r.Float64() - 0.5) * math.Pow(10, -3*r.Float64()) * 0.6
		}
		a, b, c := out(), out(), out()
		h.helix(geom.Circle(p.Drill[0].Bound().Center(), 1+a), deep, math.Tan(4*math.Pi/180))
		h.kerf(rounded(51.5-b, 41.5-b, 98.5+b, 68.5+b, 2.5+b))
		h.kerf(rounded(18.5+c, 18.5+c, 121.5-c, 91.5-c, 9.5-c))
		var text bytes.Buffer
		require.NoError(t, gcode.Print(&text, gcode.RS274NGC(), gcode.Listing{Moves: h.ms}))
		prog, found := gcode.Parse("p.ngc", text.Bytes())
		require.Empty(t, found)
		var ms []gcode.Move
		prog.Run(gcode.RS274NGC(), func(m *gcode.Move) { ms = append(ms, *m) })
		rep := proof.Hold(ms, mill, p)
		g := geos(t, text.Bytes(), mill, &p)
		gouge, left := g.Gouge, g.Leftover
		t.Logf("off by %.4f %.4f %.4f: gouge %.4f, GEOS %.4f; leftover %.4f, GEOS %.4f", a, b, c, rep.Gouge.Size, gouge, rep.Leftover.Size, left)
		assert.InDelta(t, gouge, math.Max(0, rep.Gouge.Size), 2e-4)
		assert.InDelta(t, left, math.Max(0, rep.Leftover.Size), 2e-4)
		assert.InDelta(t, math.Max(0, math.Max(a, math.Max(b, c))), math.Max(0, rep.Gouge.Size), 2e-4, "a gouge is what was put in")
		assert.InDelta(t, math.Max(0, -math.Min(a, math.Min(b, c))), math.Max(0, rep.Leftover.Size), 2e-4)
	}
}

// TestOutsideTabs: GEOS finds the same tabs.
func TestOutsideTabs(t *testing.T) {
	for _, w := range trades()[:1] {
		text := w.print(t)
		found, rep, _ := w.judge(text)
		require.Empty(t, found)
		p := w.part()
		p.Rules.Limit = 0.0005
		g := geos(t, text, w.tool.Diameter, &p)
		gouge, left, tabs := g.Gouge, g.Leftover, g.Tabs
		assert.LessOrEqual(t, gouge, 0.0005)
		assert.LessOrEqual(t, left, 0.0006)
		assert.InDelta(t, gouge, rep.Gouge.Size, 2e-4)
		require.Len(t, tabs, len(rep.Tabs))
		for i := range tabs {
			// GEOS's runs end where the wall is cut within the limit, short of the
			// points nearest to the cut's ends.
			assert.InDelta(t, rep.Tabs[i].Size, tabs[i].Length, 0.2)
		}
	}
}
