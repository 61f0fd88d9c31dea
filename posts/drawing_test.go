package posts

import (
	"encoding/xml"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
	"blockwright/jig/plate"
	"blockwright/jig/shop"
	"blockwright/posts/svg"
)

var update = flag.Bool("update", false, "write the golden files anew")

// worked is an invented 45° lock miter cutter, 30 high, scaled by k.
func worked(k float64) *cutter.Cutter {
	p := geom.Path{V: []geom.Vertex{
		geom.V(34, 0), geom.V(24, 10), geom.V(25.5, 10.5), geom.V(25.5, 14.4), geom.V(12.5, 15.6), geom.V(12.5, 19.5), geom.V(14, 20), geom.V(4, 30),
	}}
	for i := range p.V {
		p.V[i].Point[0] *= k
		p.V[i].Point[1] *= k
	}
	return &cutter.Cutter{Handle: "ridge-lock", Name: "Ridge lock 45", Joint: "lock-miter", Units: "mm", Shank: 12, MaxRPM: 14000,
		Profile: p, Body: geom.Path{V: []geom.Vertex{geom.V(6, -30), geom.V(6, 0)}}, Known: [2]bool{true, true}}
}

var bench = shop.Table{InsertOpening: 98, Pin: 6, FenceWidth: 120, FenceHeight: 60, LiftLow: -40, LiftHigh: 60}

// drawn is the drawing of a kind of fixture for the cutter and stock.
func drawn(t require.TestingT, kind string, c *cutter.Cutter, stock float64, units string) picture {
	s, err := joint.Solve(joint.Request{Cutter: c, Stock: stock})
	require.NoError(t, err)
	sheet := shop.Sheet{Name: "ply 6", Material: "birch plywood", Width: 600, Height: 400, Thickness: 6}
	mark := fmt.Sprintf("RIDGE LOCK 45\nT %.4g MM", stock)
	p := picture{ID: fmt.Sprintf("ridge-lock-%.4gmm-%s", stock, kind), Title: fmt.Sprintf("Ridge lock 45 · %s for stock %.4g mm", kind, stock),
		Units: units, Stock: stock, Setting: s, Table: bench, Sheet: sheet}
	var designs [][]plate.Plate
	switch kind {
	case "block":
		designs, err = plate.Blocks(plate.BlockRequest{Pass: s.Passes[0], Table: bench, Thick: 6, Clear: 0.4, Ease: 0.5, Mark: mark})
	default:
		var g plate.Plate
		g, p.Contact, err = plate.Gauge(plate.GaugeRequest{Pass: s.Passes[0], Table: bench, Thick: 6, Sheets: []shop.Sheet{sheet}, From: kind, Mark: mark})
		designs = [][]plate.Plate{{g}}
	}
	require.NoError(t, err)
	cuts, err := plate.FitAll(designs, []float64{6, 3.175, 2, 1})
	require.NoError(t, err)
	p.Mill = cuts[0].Mill
	x := 12.0
	for _, c := range cuts {
		b := geom.Bound(c.Outline)
		p.Parts = append(p.Parts, part{c, orb.Point{x - b.Min[0], 12 - b.Min[1]}})
		x += b.Max[0] - b.Min[0] + 15
	}
	return p
}

// overlaps lists texts that lie on each other or leave the page.
func overlaps(c *svg.Canvas) []string {
	var out []string
	w, h := c.Size()
	page := orb.Bound{Min: orb.Point{margin / 2, margin / 2}, Max: orb.Point{w - margin/2, h - margin/2}}
	labels := c.Labels()
	for i, a := range labels {
		b := a.Bound()
		if !page.Contains(b.Min) || !page.Contains(b.Max) {
			out = append(out, a.Text+" leaves the page")
		}
		for _, o := range labels[:i] {
			if b.Intersects(o.Bound()) {
				out = append(out, a.Text+" on "+o.Text)
			}
		}
	}
	return out
}

func TestDrawingHasNoTextOnText(t *testing.T) {
	for _, units := range []string{"mm", "in"} {
		for _, kind := range []string{"block", "pin", "cutter"} {
			for _, tt := range []struct{ scale, stock float64 }{
				{0.75, 10}, {0.75, 12}, {1, 13.7}, {1, 15}, {1, 16}, {1, 17.5}, {1, 18}, {1, 19}, {1, 19.05}, {1, 22}, {1, 25.4}, {1, 28}, {1, 30}, {1.3, 38},
			} {
				p := drawn(t, kind, worked(tt.scale), tt.stock, units)
				assert.Empty(t, overlaps(draw(p)), "%s %g %s", kind, tt.stock, units)
			}
		}
	}
}

// byHand is a block with its crossbar whose shapes are written down here, so that
// the golden drawing changes with the drawing alone.
func byHand(t require.TestingT) picture {
	p := drawn(t, "block", worked(1), 19, "mm")
	seat := func(name string, fixes byte, v ...geom.Vertex) plate.Seat {
		return plate.Seat{Name: name, Path: geom.Path{V: v}, Fixes: fixes}
	}
	letters, _ := plate.Letters("RIDGE LOCK 45", orb.Point{26, 20}, 5)
	block := geom.Path{Closed: true, V: []geom.Vertex{
		geom.V(19, 0), geom.V(80, 0), geom.B(80, 42, math.Sqrt2-1), geom.V(77, 45), geom.V(0, 45), geom.V(0, 35), geom.V(15, 35), geom.V(15, 29), geom.V(0, 29), geom.V(0, 19),
		geom.V(4.5, 14.5), geom.V(3, 14), geom.V(3, 10.1), geom.V(16, 8.9), geom.V(16, 5), geom.V(14.5, 4.5),
	}}
	bar := geom.Path{Closed: true, V: []geom.Vertex{
		geom.V(0, -80), geom.V(30, -80), geom.V(30, -3), geom.V(15, -3), geom.V(15, 3), geom.V(30, 3), geom.V(30, 80), geom.V(0, 80),
	}}
	p.Parts = []part{
		{plate.Cut{Wall: geom.Region{block}, Plate: plate.Plate{
			Kind: "block", Outline: geom.Region{block}, Engrave: letters, Drill: []geom.Path{geom.Circle(orb.Point{71, 36}, 4)},
			Seats: []plate.Seat{
				seat("table edge", 0, geom.V(39.5, 0), geom.V(80, 0)), seat("height", 'z', geom.V(3, 10.1), geom.V(16, 8.9)),
				seat("fence", 'x', geom.V(3, 14), geom.V(3, 10.1)), seat("ear, upper", 0, geom.V(0, 45), geom.V(0, 35)),
			}}}, orb.Point{12, 12}},
		{plate.Cut{Wall: geom.Region{bar}, Plate: plate.Plate{
			Kind: "block", Outline: geom.Region{bar}, Seats: []plate.Seat{seat("crossbar back", 0, geom.V(0, 80), geom.V(0, -80))},
		}}, orb.Point{107, 92}},
	}
	p.Mill = 3.175
	return p
}

// byHandGauge is a gauge from the pin, likewise.
func byHandGauge(t require.TestingT) picture {
	p := drawn(t, "pin", worked(1), 19.05, "in")
	bar := geom.Path{Closed: true, V: []geom.Vertex{
		geom.V(0, -80), geom.V(30, -80), geom.V(30, 80), geom.V(0, 80), geom.V(0, 61), geom.V(5, 61), geom.V(5, 8), geom.V(-6.475, 8),
		geom.V(-6.475, -8), geom.V(5, -8), geom.V(5, -61), geom.V(0, -61),
	}}
	p.Parts = []part{{plate.Cut{Wall: geom.Region{bar}, Plate: plate.Plate{Kind: "gauge", Outline: geom.Region{bar}, Seats: []plate.Seat{
		{Name: "foot", Path: geom.Path{V: []geom.Vertex{geom.V(0, 80), geom.V(0, 61)}}},
		{Name: "nose", Path: geom.Path{V: []geom.Vertex{geom.V(-6.475, 8), geom.V(-6.475, -8)}}, Fixes: 'x'},
		{Name: "foot", Path: geom.Path{V: []geom.Vertex{geom.V(0, -61), geom.V(0, -80)}}},
	}}}, orb.Point{20, 92}}}
	p.Contact = plate.Contact{From: "pin", Pin: 6, X: -6.475, Support: "the table"}
	p.Mill = 6.35
	return p
}

func TestDrawingGolden(t *testing.T) {
	for name, p := range map[string]picture{"drawing-block.svg": byHand(t), "drawing-gauge.svg": byHandGauge(t)} {
		got := draw(p).Bytes()
		assert.Equal(t, got, draw(p).Bytes())
		require.NoError(t, xml.Unmarshal(got, new(struct{})))
		file := filepath.Join("../testdata/golden", name)
		if *update {
			require.NoError(t, os.WriteFile(file, got, 0o644))
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err)
		w, g := strings.Split(string(want), "\n"), strings.Split(string(got), "\n")
		for i := range min(len(w), len(g)) {
			require.Equal(t, w[i], g[i], "line %d of %s: meant? go test ./posts -update, then read the diff", i+1, name)
		}
		require.Len(t, g, len(w), "lines of %s: meant? go test ./posts -update, then read the diff", name)
	}
}

func TestSize(t *testing.T) {
	mm, in := picture{Units: "mm"}, picture{Units: "in"}
	assert.Equal(t, "−5.5", mm.size(-5.5))
	assert.Equal(t, "0", mm.size(-0.0001))
	assert.Equal(t, "12.346", mm.size(12.3456))
	assert.Equal(t, "0.75", in.size(19.05))
	assert.Equal(t, "−0.2165", in.size(-5.5))
}

func TestSeatLetters(t *testing.T) {
	assert.Equal(t, "A", letters(0))
	assert.Equal(t, "J", letters(8))
	assert.Equal(t, "Z", letters(23))
	assert.Equal(t, "A1", letters(24))
}

func TestSlotAbove(t *testing.T) {
	p := drawn(t, "block", worked(1), 19, "mm")
	z, ok := slotAbove(p.Parts[0].Outline, 19)
	require.True(t, ok)
	assert.InDelta(t, 6.2, z[1]-z[0], 1e-9)
	assert.Greater(t, z[0], 25.0)
	// A bearing above the stock makes a recess below the ear, which is no slot.
	c := worked(1)
	c.Body = geom.Path{V: []geom.Vertex{geom.V(6, -30), geom.V(6, 0), geom.V(4, 30), geom.V(14, 30.5), geom.V(14, 38)}}
	z, ok = slotAbove(drawn(t, "block", c, 19, "mm").Parts[0].Outline, 19)
	require.True(t, ok)
	assert.InDelta(t, 6.2, z[1]-z[0], 1e-9)
	_, ok = slotAbove(geom.Region{geom.Rect(0, 0, 10, 10)}, 5)
	assert.False(t, ok)
}

func BenchmarkDrawing(b *testing.B) {
	p := drawn(b, "block", worked(1), 19, "mm")
	for b.Loop() {
		draw(p).Bytes()
	}
}

// What a shop or a file does not state, or states oddly, must not stop a drawing.
func TestDrawingOfOddFixtures(t *testing.T) {
	base := drawn(t, "block", worked(1), 19, "mm")
	gauge := drawn(t, "pin", worked(1), 19, "mm")
	for name, change := range map[string]func(p *picture){
		"no table":     func(p *picture) { p.Table = shop.Table{} },
		"no setting":   func(p *picture) { p.Setting = nil },
		"no such pass": func(p *picture) { p.Pass = 7 },
		"no sheet":     func(p *picture) { p.Sheet = shop.Sheet{} },
		"no parts":     func(p *picture) { p.Parts = nil },
		"one part":     func(p *picture) { p.Parts = p.Parts[:1] },
		"small sheet":  func(p *picture) { p.Sheet.Width, p.Sheet.Height = 50, 50 },
		"other kind":   func(p *picture) { p.Parts = []part{{plate.Cut{Plate: plate.Plate{Kind: "strip"}}, orb.Point{}}} },
		"no seats": func(p *picture) {
			p.Parts = []part{{plate.Cut{Plate: plate.Plate{Kind: p.Parts[0].Kind, Outline: p.Parts[0].Outline}}, orb.Point{}}}
		},
		"hostile names": func(p *picture) {
			p.ID, p.Title, p.Sheet.Material = "<\"&>\x00", "</svg><script>\u202e", strings.Repeat("漢&", 500)
		},
	} {
		for _, p := range []picture{base, gauge} {
			change(&p)
			c := draw(p)
			require.NoError(t, xml.Unmarshal(c.Bytes(), new(struct{})), name)
			w, h := c.Size()
			assert.Less(t, w, 2000.0, name)
			assert.Less(t, h, 2000.0, name)
			assert.NotContains(t, string(c.Bytes()), "<script", name)
			assert.NotContains(t, string(c.Bytes()), "NaN", name)
		}
	}
}
