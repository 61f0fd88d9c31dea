package proof_test

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/geom"
)

// codes of a report, each once, in order of appearance.
func codes(r proof.Report) string {
	var out []string
	seen := map[string]bool{}
	for _, f := range r.Findings {
		if !seen[f.Code] {
			seen[f.Code] = true
			out = append(out, f.Code)
		}
	}
	return strings.Join(out, " ")
}

// first is the index of the first move for which is holds.
func first(h *hand, is func(m gcode.Move) bool) int {
	for i, m := range h.ms {
		if is(m) {
			return i
		}
	}
	panic("no such move in the test's program")
}

func relink(h *hand) {
	for i := 1; i < len(h.ms); i++ {
		if h.ms[i].Op == gcode.Dwell || h.ms[i].Op == gcode.Pause {
			h.ms[i].To = h.ms[i-1].To
		}
		h.ms[i].From = h.ms[i-1].To
	}
}

// Each row spoils the good program, or the rules, in one way.
func TestHoldFaults(t *testing.T) {
	isCut := func(m gcode.Move) bool { return m.Op == gcode.Line && m.From[2] < -1 && m.To[2] < -1 }
	for _, tt := range []struct {
		name  string
		spoil func(h *hand, p *proof.Part)
		want  string
	}{
		{"rapid across below the safe height", func(h *hand, _ *proof.Part) {
			i := first(h, func(m gcode.Move) bool { return m.Op == gcode.Rapid && m.From[0] != m.To[0] })
			h.ms[i-1].To[2], h.ms[i].To[2] = 4, 4
			relink(h)
		}, proof.RapidLow},
		{"z rapid down to half a millimetre", func(h *hand, _ *proof.Part) {
			i := first(h, func(m gcode.Move) bool { return m.Op == gcode.Rapid && m.To[2] == 1 })
			h.ms[i].To[2] = 0.5
			relink(h)
		}, proof.RapidEnd},
		{"straight down into the sheet", func(h *hand, _ *proof.Part) {
			i := first(h, func(m gcode.Move) bool { return m.To[2] == 0.001 })
			h.ms[i].To[2] = -1
			relink(h)
		}, proof.Plunge},
		{"too deep", func(h *hand, _ *proof.Part) {
			for i := range h.ms {
				if h.ms[i].To[2] == deep {
					h.ms[i].To[2] = -6.6
				}
			}
			relink(h)
		}, proof.TooDeep},
		{"too deep in one pass", func(h *hand, p *proof.Part) { p.Rules.Step = 1.5 }, proof.StepDown},
		{"a whole layer lost", func(h *hand, p *proof.Part) {
			for i := range h.ms {
				if h.ms[i].To[2] == -2 {
					h.ms[i].To[2] = 0.5
				}
			}
			relink(h)
		}, ""},
		{"sheet too small", func(_ *hand, p *proof.Part) { p.Sheet.Max[0] = 122.9 }, proof.OffSheet},
		{"feed across beside the sheet, above it", func(h *hand, _ *proof.Part) {
			h.up()
			h.line(h.at[0], h.at[1], 0.5)
			h.line(-40, h.at[1], 0.5)
			h.up()
		}, proof.OffSheet},
		{"rapid down beside the sheet", func(h *hand, _ *proof.Part) {
			h.to(-40, 20)
			h.up()
		}, proof.OffSheet},
		{"rapid beside the sheet at the safe height", func(h *hand, _ *proof.Part) {
			h.up()
			h.rapid(-40, 20, 5)
		}, "none"},
		{"sheet just large enough", func(_ *hand, p *proof.Part) { p.Sheet.Max[0] = 123 }, "none"},
		{"spindle off for one move", func(h *hand, _ *proof.Part) {
			h.ms[first(h, isCut)].RPM = 0
		}, gcode.SpindleOff},
		{"spindle backwards", func(h *hand, _ *proof.Part) {
			h.ms[first(h, isCut)].RPM = -18000
		}, gcode.SpindleBack},
		{"no dwell", func(h *hand, p *proof.Part) {
			p.Rules.SpinUp = 3
			h.ms[first(h, func(m gcode.Move) bool { return m.Op == gcode.Dwell })].Feed = 0
		}, proof.SpinUp},
		{"dwell as long as wanted", func(h *hand, p *proof.Part) { p.Rules.SpinUp = 3 }, "none"},
		{"outline before the window", func(h *hand, _ *proof.Part) {
			o := start()
			out := rounded(18.5, 18.5, 121.5, 91.5, 9.5)
			l := out.Length()
			o.kerf(out, [2]float64{0.25*l - 3.5, 0.25*l + 3.5}, [2]float64{0.75*l - 3.5, 0.75*l + 3.5})
			o.window()
			o.helix(geom.Circle(orb.Point{32, 55}, 1), deep, math.Tan(4*math.Pi/180))
			*h = *o
		}, proof.Loose},
		{"the window's waste left in it", func(h *hand, _ *proof.Part) {
			o := start()
			o.kerf(rounded(51.5, 41.5, 98.5, 68.5, 2.5))
			*h = *o
		}, proof.Slug},
		{"one way through the window's waste left out", func(h *hand, _ *proof.Part) {
			o := start()
			for _, d := range []float64{12, 10, 6, 4, 2} {
				o.inset(d)
			}
			o.kerf(rounded(51.5, 41.5, 98.5, 68.5, 2.5))
			*h = *o
		}, proof.Slug},
		{"first motion sideways", func(h *hand, _ *proof.Part) { h.ms[0].To = [3]float64{1, 0, 5}; relink(h) }, proof.FirstMove},
		{"ends in the sheet", func(h *hand, _ *proof.Part) { h.ms = h.ms[:len(h.ms)-1] }, proof.LastMove},
		{"a gap between moves", func(h *hand, _ *proof.Part) { h.ms[first(h, isCut)].From[2] += 0.1 }, proof.Jump},
		{"no number", func(h *hand, _ *proof.Part) { h.ms[3].To[1] = math.NaN() }, proof.NoPlace},
		{"shank in the sheet", func(_ *hand, p *proof.Part) { p.Rules.Flute = 6.2 }, proof.FluteShort},
		{"flutes just long enough", func(_ *hand, p *proof.Part) { p.Rules.Flute = 6.3 }, "none"},
		{"no feed", func(h *hand, _ *proof.Part) { h.ms[first(h, isCut)].Feed = 0 }, gcode.NoFeed},
		{"feed above the machine's", func(h *hand, p *proof.Part) { p.Rules.Feed = 800; h.ms[first(h, isCut)].Feed = 900 }, proof.FeedHigh},
		{"feed too low", func(h *hand, p *proof.Part) { p.Rules.FeedLow = 200; h.ms[first(h, isCut)].Feed = 60 }, proof.FeedLow},
		{"falls too fast", func(h *hand, p *proof.Part) { p.Rules.Descend = 100 }, proof.FallFast},
		{"speed above the mark", func(_ *hand, p *proof.Part) { p.Rules.RPMHigh = 16000 }, proof.SpeedOff},
		{"speed too low", func(_ *hand, p *proof.Part) { p.Rules.RPMLow = 20000 }, proof.SpeedOff},
		{"travel", func(_ *hand, p *proof.Part) { p.Rules.Travel = [3]float64{300, 90, 60} }, gcode.Travel},
		{"pause in the sheet", func(h *hand, _ *proof.Part) {
			i := first(h, isCut)
			pause := gcode.Move{Op: gcode.Pause, From: h.ms[i].To, To: h.ms[i].To, RPM: 18000}
			h.ms = append(h.ms[:i+1], append([]gcode.Move{pause}, h.ms[i+1:]...)...)
		}, proof.PauseLow + " " + proof.PauseSpin},
		{"no pause for a spindle started by hand", func(_ *hand, p *proof.Part) { p.Rules.Dial = true }, proof.NoPause},
		{"a pause for a spindle started by hand", func(h *hand, p *proof.Part) {
			p.Rules.Dial = true
			h.ms = append([]gcode.Move{h.ms[0], {Op: gcode.Pause, To: h.ms[0].To}}, h.ms[1:]...)
			relink(h)
		}, "none"},
		{"no pause for screws", func(_ *hand, p *proof.Part) { p.Rules.Hold = proof.ByScrews }, proof.NoPause},
		{"one pause for screws and a spindle started by hand", func(h *hand, p *proof.Part) {
			p.Rules.Dial, p.Rules.Hold = true, proof.ByScrews
			h.ms = append([]gcode.Move{h.ms[0], {Op: gcode.Pause, To: h.ms[0].To}}, h.ms[1:]...)
			relink(h)
		}, proof.NoPause},
		{"arc of two radii", func(h *hand, _ *proof.Part) {
			h.ms[first(h, func(m gcode.Move) bool { return m.Op == gcode.CCW })].Centre[0] += 0.002
		}, gcode.ArcRadii},
		{"seat beside a tab", func(_ *hand, p *proof.Part) {
			p.Keep = []geom.Path{{V: []geom.Vertex{geom.V(120, 30), geom.V(120, 49)}}}
		}, proof.TabSeat},
		{"seat far enough from a tab", func(_ *hand, p *proof.Part) {
			p.Keep = []geom.Path{{V: []geom.Vertex{geom.V(120, 30), geom.V(120, 48.4)}}}
		}, "none"},
		{"tabs not wanted", func(_ *hand, p *proof.Part) { p.Rules.Hold = proof.ByScrews }, proof.TabLong},
		{"tab too long", func(_ *hand, p *proof.Part) { p.Rules.Tab = 3.9 }, proof.TabLong},
		{"tab too low", func(_ *hand, p *proof.Part) { p.Rules.TabHigh = 1.3 }, proof.TabWeak},
		{"bore across a wall", func(_ *hand, p *proof.Part) { p.Drill[0] = geom.Circle(orb.Point{21, 55}, 2.5) }, proof.PartUnfit},
		{"open wall", func(_ *hand, p *proof.Part) { p.Wall[0].Closed = false }, proof.PartUnfit},
		{"walls turned round", func(_ *hand, p *proof.Part) { p.Wall = geom.Region{p.Wall[0].Reverse()} }, proof.PartUnfit},
		{"bore too small", func(_ *hand, p *proof.Part) { p.Drill[0] = geom.Circle(orb.Point{32, 55}, 2.49) }, proof.Gouged},
		{"bore too large", func(_ *hand, p *proof.Part) { p.Drill[0] = geom.Circle(orb.Point{32, 55}, 2.51) }, proof.LeftOver},
		{"bore missing", func(h *hand, p *proof.Part) {
			p.Drill = append(p.Drill, geom.Circle(orb.Point{110, 80}, 2.5))
		}, proof.Uncut},
		{"bore not wanted", func(h *hand, p *proof.Part) { p.Drill = nil }, proof.Gouged},
	} {
		t.Run(tt.name, func(t *testing.T) {
			h, p := good(), plate()
			tt.spoil(h, &p)
			got := codes(proof.Hold(h.ms, mill, p))
			switch tt.want {
			case "":
				require.NotEmpty(t, got)
			case "none":
				assert.Empty(t, got)
			default:
				for _, w := range strings.Fields(tt.want) {
					assert.Contains(t, got, w)
				}
			}
			t.Log(got)
		})
	}
}
