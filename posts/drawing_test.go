package posts

import (
	"encoding/xml"
	"flag"
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

// worked is the invented demo cutter at the stock, with a block drawn by hand.
func worked(t require.TestingT, stock float64, units string) picture {
	profile := geom.Path{V: []geom.Vertex{
		geom.V(34, 0), geom.V(24, 10), geom.V(25.5, 10.5), geom.V(25.5, 14.4), geom.V(12.5, 15.6), geom.V(12.5, 19.5), geom.V(14, 20), geom.V(4, 30),
	}}
	c := &cutter.Cutter{Handle: "ridge-lock", Name: "Ridge lock 45", Joint: "lock-miter", Units: "mm", Shank: 12, MaxRPM: 14000,
		Profile: profile, Body: geom.Path{V: []geom.Vertex{geom.V(6, -30), geom.V(6, 0)}}, Known: [2]bool{true, true}}
	s, err := joint.Solve(joint.Request{Cutter: c, Stock: stock})
	require.NoError(t, err)
	pass := s.Passes[0]
	far, ear := 49-pass.Fence+40, stock+26
	line := pass.CutLine
	out := geom.Path{Closed: true, V: []geom.Vertex{geom.V(far, 0), geom.V(far, ear), geom.V(0, ear),
		geom.V(0, stock+16.2), geom.V(20, stock+16.2), geom.V(20, stock+10), geom.V(0, stock+10)}}
	up := line.V
	for i := len(up) - 1; i >= 0; i-- {
		out.V = append(out.V, up[i])
	}
	seat := func(name string, fixes byte, v ...geom.Vertex) plate.Seat {
		return plate.Seat{Name: name, Path: geom.Path{V: v}, Fixes: fixes}
	}
	e := func(i int) (geom.Vertex, geom.Vertex) { return up[i], up[i+1] }
	f0, f1 := e(1)
	l0, l1 := e(4)
	letters, _ := plate.Letters("RIDGE LOCK 45", orb.Point{26, stock + 14}, 5)
	more, _ := plate.Letters("19", orb.Point{26, 8}, 5)
	block := plate.Cut{Mill: 3.175, Wall: geom.Region{out}, Plate: plate.Plate{Kind: "block", Mark: "RIDGE LOCK 45", Outline: geom.Region{out},
		Drill: []geom.Path{geom.Circle(orb.Point{far - 9, ear - 9}, 3)}, Engrave: append(letters, more...),
		Seats: []plate.Seat{
			seat("table edge: stands on the table", 0, geom.V(49-pass.Fence, 0), geom.V(far, 0)),
			seat("height seat: the cutter's flank from below", 'z', f0, f1),
			seat("fence seat: the cutter's land", 'x', l0, l1),
			seat("ear: against the fence", 0, geom.V(0, ear), geom.V(0, stock+16.2)),
		}}}
	barOut := geom.Path{Closed: true, V: []geom.Vertex{geom.V(0, 0), geom.V(40, 0), geom.V(40, 77), geom.V(20, 77), geom.V(20, 83.2), geom.V(40, 83.2), geom.V(40, 160), geom.V(0, 160)}}
	bar := plate.Cut{Mill: 3.175, Wall: geom.Region{barOut}, Plate: plate.Plate{Kind: "block", Mark: "BAR", Outline: geom.Region{barOut},
		Seats: []plate.Seat{seat("crossbar back: both fence halves", 0, geom.V(0, 160), geom.V(0, 0))}}}
	id := "ridge-lock-19mm-block"
	return picture{ID: id, Title: "Height block for Ridge lock 45, stock 19 mm", Units: units, Stock: stock, Setting: s,
		Table: shop.Table{InsertOpening: 98, FenceWidth: 120, FenceHeight: 60}, Mill: 3.175,
		Sheet: shop.Sheet{Name: "ply 6", Material: "birch plywood", Width: 600, Height: 400, Thickness: 6},
		Parts: []part{{block, orb.Point{25, 20}}, {bar, orb.Point{130, 20}}}}
}

// gauge is a fence gauge from the setup pin, drawn by hand: two feet and a nose.
func gauge(t require.TestingT, stock float64, units string) picture {
	p := worked(t, stock, units)
	p.ID, p.Title, p.Pin = "ridge-lock-19mm-gauge-pin", "Fence gauge for Ridge lock 45, from the pin", 6
	nose := 3 - p.Setting.Passes[0].Fence
	out := geom.Path{Closed: true, V: []geom.Vertex{
		geom.V(0, 0), geom.V(35, 0), geom.V(35, 170), geom.V(0, 170), geom.V(0, 130), geom.V(12, 130), geom.V(12, 95),
		geom.V(nose, 95), geom.V(nose, 75), geom.V(12, 75), geom.V(12, 40), geom.V(0, 40),
	}}
	letters, _ := plate.Letters("RIDGE", orb.Point{15, 20}, 4)
	seat := func(name string, fixes byte, v ...geom.Vertex) plate.Seat {
		return plate.Seat{Name: name, Path: geom.Path{V: v}, Fixes: fixes}
	}
	p.Parts = []part{{plate.Cut{Mill: 3.175, Wall: geom.Region{out}, Plate: plate.Plate{
		Kind: "gauge", Mark: "RIDGE", Outline: geom.Region{out}, Engrave: letters, Drill: []geom.Path{geom.Circle(orb.Point{28, 150}, 3)},
		Seats: []plate.Seat{
			seat("foot", 0, geom.V(0, 40), geom.V(0, 0)), seat("foot", 0, geom.V(0, 170), geom.V(0, 130)),
			seat("nose", 'x', geom.V(nose, 95), geom.V(nose, 75)),
		}}}, orb.Point{30, 20}}}
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
		for _, stock := range []float64{13, 13.7, 15, 16, 17.5, 18, 19, 19.05, 22, 25.4, 28, 30} {
			assert.Empty(t, overlaps(draw(worked(t, stock, units))), "block %g %s", stock, units)
			assert.Empty(t, overlaps(draw(gauge(t, stock, units))), "gauge %g %s", stock, units)
		}
	}
}

func TestDrawingGolden(t *testing.T) {
	for name, p := range map[string]picture{"drawing-block.svg": worked(t, 19, "mm"), "drawing-gauge.svg": gauge(t, 19.05, "in")} {
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
	p := worked(t, 19, "mm")
	z, ok := slotAbove(p.Parts[0].Outline, 19)
	require.True(t, ok)
	assert.Equal(t, [2]float64{29, 35.2}, z)
	_, ok = slotAbove(geom.Region{geom.Rect(0, 0, 10, 10)}, 5)
	assert.False(t, ok)
}

func BenchmarkDrawing(b *testing.B) {
	p := worked(b, 19, "mm")
	for b.Loop() {
		draw(p).Bytes()
	}
}
