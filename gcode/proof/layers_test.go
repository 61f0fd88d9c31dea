package proof_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/geom"
)

// bored sinks a helix of the given pitch and goes round at the bottom.
func bored(wide, mill, pitch float64) ([]gcode.Move, proof.Part) {
	p := proof.Part{Drill: []geom.Path{geom.Circle(orb.Point{20, 20}, wide/2)}, Sheet: sheet, Thick: thick, Rules: proof.House()}
	p.Rules.Loose = true // its core is another test's question
	h := start()
	q := geom.Circle(orb.Point{20, 20}, (wide-mill)/2)
	h.to(q.Start()[0], q.Start()[1])
	h.down(0)
	for z := 0.0; z > deep; {
		for i := range q.Edges() {
			z = math.Max(deep, z-pitch/float64(q.Edges()))
			h.edge(q.Edge(i), z)
		}
	}
	h.follow(q, deep)
	h.up()
	return h.ms, p
}

// A turn of a helix takes its pitch at once, wherever its moves begin and end.
func TestHoldHelixTakesItsPitch(t *testing.T) {
	for _, tt := range []struct {
		pitch, step float64
		want        string
	}{
		{1.433, 1.5, ""},
		{1.499, 1.5, ""},
		{1.5, 1.5, ""},
		{1.6, 1.5, proof.StepDown},
		{1.433, 1.3, proof.StepDown},
	} {
		ms, p := bored(8, 2, tt.pitch)
		p.Rules.Step = tt.step
		assert.Equal(t, tt.want, codes(proof.Hold(ms, 2, p)), "pitch %g, step %g", tt.pitch, tt.step)
	}
}

// The ramp's angle counts in uncut sheet only.
func TestHoldRampAngle(t *testing.T) {
	round := 2 * math.Pi * 3.0 // of the helix in a bore of 8 for a mill of 2
	for _, tt := range []struct {
		angle float64 // degrees
		want  string
	}{
		{4.9, ""}, {5, ""}, {5.2, proof.Plunge},
	} {
		ms, p := bored(8, 2, round*math.Tan(tt.angle*math.Pi/180))
		assert.Equal(t, tt.want, codes(proof.Hold(ms, 2, p)), "%g°", tt.angle)
	}
	// Once cut, the same bore may be entered as steeply as one likes.
	ms, p := bored(8, 2, 1)
	for _, down := range []func(h *hand){
		func(h *hand) { h.to(23, 20); h.down(deep) },
		func(h *hand) { h.to(17, 20); h.line(17, 20, 0); h.line(17.001, 20, deep) },
		func(h *hand) {
			h.to(20, 17)
			h.down(0)
			h.edge(geom.Edge{A: orb.Point{20, 17}, B: orb.Point{23, 20}, Bulge: math.Tan(math.Pi / 8)}, deep)
		},
	} {
		h := &hand{ms: append([]gcode.Move{}, ms...), at: ms[len(ms)-1].To, rpm: 18000, feed: 800}
		down(h)
		h.up()
		assert.Empty(t, codes(proof.Hold(h.ms, 2, p)))
	}
	// Beside the cut, or deeper, it may not.
	for _, down := range []func(h *hand){
		func(h *hand) { h.to(23.02, 20); h.down(deep) },
		func(h *hand) { h.to(20, 20); h.down(-1) }, // the core still stands
		func(h *hand) { h.to(23, 20); h.down(deep - 0.05) },
	} {
		h := &hand{ms: append([]gcode.Move{}, ms...), at: ms[len(ms)-1].To, rpm: 18000, feed: 800}
		down(h)
		h.up()
		assert.Contains(t, codes(proof.Hold(h.ms, 2, p)), proof.Plunge)
	}
}

// With the table as zero the program starts where no program knows, maybe in the
// sheet: the first lift cuts nothing.
func TestHoldFirstLiftIsNoCut(t *testing.T) {
	lift := gcode.Move{To: [3]float64{0, 0, 11.1}, Op: gcode.Rapid}
	across := gcode.Move{From: lift.To, To: [3]float64{50, 50, 11.1}, Op: gcode.Rapid}
	for _, kind := range []proof.Kind{proof.Milling, proof.Engraving, proof.Frame} {
		p := proof.Part{Thick: 6.1, Top: 6.1, Kind: kind, Rules: proof.House(), Sheet: sheet}
		assert.Empty(t, codes(proof.Hold([]gcode.Move{lift, across}, 2, p)))
		low := lift
		low.To[2] = 11.05
		assert.Contains(t, codes(proof.Hold([]gcode.Move{low}, 2, p)), proof.FirstMove)
	}
}
