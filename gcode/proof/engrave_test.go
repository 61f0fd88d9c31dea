package proof_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/geom"
)

// letters are strokes to engrave: an S-like one with arcs, a line, a ring, a dot.
func letters() []geom.Path {
	return []geom.Path{
		{V: []geom.Vertex{geom.V(30, 30), geom.B(34, 30, 0.8), geom.B(34, 35, -0.8), geom.V(38, 40), geom.V(30, 40)}},
		{V: []geom.Vertex{geom.V(42, 30), geom.V(42, 40)}},
		{Closed: true, V: geom.Circle([2]float64{50, 35}, 4).V},
		{V: []geom.Vertex{geom.V(60, 30)}},
	}
}

// engraved engraves the strokes to the height z.
func engraved(ps []geom.Path, z float64) *hand {
	h := start()
	for _, p := range ps {
		h.to(p.Start()[0], p.Start()[1])
		h.down(z)
		h.follow(p, z)
	}
	h.up()
	return h
}

func engraving() proof.Part {
	return proof.Part{Engrave: letters(), Sheet: sheet, Thick: thick, Kind: proof.Engraving, Rules: proof.House()}
}

func TestHoldEngraving(t *testing.T) {
	r := proof.Hold(engraved(letters(), -0.3).ms, 0.2, engraving())
	require.Empty(t, r.Findings)
	assert.InDelta(t, 0, r.Gouge.Size, 1e-6)
	assert.InDelta(t, 0, r.Leftover.Size, 1e-6)

	for _, tt := range []struct {
		name  string
		spoil func(h *hand, p *proof.Part)
		want  string
		gouge float64
		left  float64
	}{
		{"half a millimetre deep", func(h *hand, _ *proof.Part) { *h = *engraved(letters(), -0.5) }, "", 0, 0},
		{"deeper", func(h *hand, _ *proof.Part) { *h = *engraved(letters(), -0.501) }, proof.EngraveLow, 0, 0},
		{"a stroke off by 0.003", func(h *hand, _ *proof.Part) {
			ps := letters()
			ps[1] = ps[1].Move(geom.Shift(0.003, 0))
			*h = *engraved(ps, -0.3)
		}, proof.StrayMark + " " + proof.FaintMark, 0.003, 0.003},
		{"a stroke too long by 0.01", func(h *hand, _ *proof.Part) {
			ps := letters()
			ps[1].V[1] = geom.V(42, 40.01)
			*h = *engraved(ps, -0.3)
		}, proof.StrayMark, 0.01, 0},
		{"a stroke too short by 0.01", func(h *hand, _ *proof.Part) {
			ps := letters()
			ps[1].V[1] = geom.V(42, 39.99)
			*h = *engraved(ps, -0.3)
		}, proof.FaintMark, 0, 0.01},
		{"a stroke missing", func(h *hand, _ *proof.Part) { *h = *engraved(letters()[1:], -0.3) }, proof.FaintMark, 0, 12.2},
		{"a dot missing", func(h *hand, _ *proof.Part) { *h = *engraved(letters()[:3], -0.3) }, proof.FaintMark, 0, 7.1},
		{"a stroke too faint", func(h *hand, _ *proof.Part) { *h = *engraved(letters(), -0.04) }, proof.FaintMark, 0, 0},
		{"nothing", func(h *hand, _ *proof.Part) { *h = *start() }, proof.FaintMark, 0, 0},
		{"spindle off", func(h *hand, _ *proof.Part) {
			for i := range h.ms {
				h.ms[i].RPM = 0
			}
		}, gcode.SpindleOff, 0, 0},
		{"low rapid", func(h *hand, _ *proof.Part) {
			for i := range h.ms {
				if h.ms[i].To[2] == 5 {
					h.ms[i].To[2] = 0.5
				}
			}
			relink(h)
		}, proof.RapidLow, 0, 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			h, p := engraved(letters(), -0.3), engraving()
			tt.spoil(h, &p)
			r := proof.Hold(h.ms, 0.2, p)
			got := codes(r)
			if tt.want == "" {
				require.Empty(t, got)
			}
			assert.Contains(t, got, tt.want)
			assert.InDelta(t, tt.gouge, r.Gouge.Size, 1e-5)
			if tt.left > 0 {
				assert.InDelta(t, tt.left, r.Leftover.Size, 0.5)
			}
		})
	}
}

// A milling program may engrave the plate that it cuts; what it cuts elsewhere
// into the plate is a gouge, however shallow.
func TestHoldMillEngraves(t *testing.T) {
	h, p := good(), plate()
	p.Engrave = []geom.Path{{V: []geom.Vertex{geom.V(30, 30), geom.V(45, 30)}}}
	e := start()
	e.to(30, 30)
	e.down(-0.3)
	e.follow(p.Engrave[0], -0.3)
	e.up()
	ms := append(append([]gcode.Move{}, e.ms...), h.ms[2:]...)
	r := &hand{ms: ms}
	relink(r)
	rep := proof.Hold(r.ms, mill, p)
	require.Empty(t, codes(rep))
	assert.InDelta(t, 0, rep.Gouge.Size, 1e-6)

	p.Engrave = nil
	assert.Contains(t, codes(proof.Hold(r.ms, mill, p)), proof.Gouged)
	p = plate()
	p.Engrave = []geom.Path{{V: []geom.Vertex{geom.V(30, 30), geom.V(44, 30)}}}
	assert.Contains(t, codes(proof.Hold(r.ms, mill, p)), proof.Gouged)
	p.Engrave = []geom.Path{{V: []geom.Vertex{geom.V(30, 30), geom.V(46, 30)}}}
	assert.Contains(t, codes(proof.Hold(r.ms, mill, p)), proof.FaintMark)
}

func TestHoldFrame(t *testing.T) {
	frame := func() *hand {
		h := &hand{}
		h.up()
		for _, q := range [][2]float64{{20, 20}, {120, 20}, {120, 90}, {20, 90}, {20, 20}} {
			h.rapid(q[0], q[1], 5)
		}
		return h
	}
	p := proof.Part{Sheet: sheet, Thick: thick, Kind: proof.Frame, Rules: proof.House()}
	assert.Empty(t, codes(proof.Hold(frame().ms, mill, p)))
	h := frame()
	h.ms[2].RPM = 100
	assert.Contains(t, codes(proof.Hold(h.ms, mill, p)), proof.FrameSpin)
	h = frame()
	h.ms = append(h.ms, gcode.Move{Op: gcode.Dwell, From: h.at, To: h.at, Feed: 3, RPM: 18000})
	assert.Contains(t, codes(proof.Hold(h.ms, mill, p)), proof.FrameSpin, "it turns while the mill stands")
	var faults []gcode.Finding
	p.Program, faults = gcode.Parse("frame.ngc", []byte("G21 G17 G90 G40 G49 G94 G80 G54 G61\nG0 Z5\nM30\n"))
	require.Empty(t, faults)
	assert.Empty(t, codes(proof.Hold(frame().ms, mill, p)))
	p.Program, _ = gcode.Parse("frame.ngc", []byte("G21 G17 G90 G40 G49 G94 G80 G54 G61\nG0 Z5\nS18000 M3\nM30\n"))
	assert.Contains(t, codes(proof.Hold(frame().ms, mill, p)), proof.FrameSpin, "a word starts it, no move tells")
	p.Program = nil
	h = frame()
	h.ms[3].To[2] = 4
	relink(h)
	assert.Contains(t, codes(proof.Hold(h.ms, mill, p)), proof.FrameLow)
}

// A plate moved by steps of 0.001 keeps the last digits of its design: a program
// beside its paths by less than digits are worth is held as if it lay on them.
func TestHoldEngravingBesideByDigits(t *testing.T) {
	arc := geom.Path{V: []geom.Vertex{geom.B(33.858, 28.554, -0.41421356237309503), geom.V(34.983, 29.679), geom.B(35.233, 29.679, -0.41421356237309503), geom.V(36.358, 28.554)}}
	for _, off := range []float64{0, 1e-14, 6.343e-11, -6.343e-11, 1e-10, 3e-9, -3e-9} {
		for _, way := range [][2]float64{{1, 0}, {0, 1}, {1, 1}, {-1, 1}} {
			part := engraving()
			part.Engrave = []geom.Path{arc.Move(geom.Shift(off*way[0], off*way[1]))}
			r := proof.Hold(engraved([]geom.Path{arc}, -0.3).ms, 0.2, part)
			require.Empty(t, r.Findings, "%g %v", off, way)
			assert.InDelta(t, 0, r.Gouge.Size, 1e-6)
			assert.InDelta(t, 0, r.Leftover.Size, 1e-6)
		}
	}
}
