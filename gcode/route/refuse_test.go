package route

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
)

func TestPlanRefuses(t *testing.T) {
	nan := math.NaN()
	square := func() []Job {
		return []Job{{Name: "square", Wall: geom.Region{geom.Rect(20, 20, 80, 80)}, Thick: 6, Allowance: 0.15}}
	}
	for _, tt := range []struct {
		name string
		do   func(j []Job, m *Tool) []Job
		want string
	}{
		{"no plates", func(j []Job, m *Tool) []Job { return nil }, "0 plates"},
		{"no wall", func(j []Job, m *Tool) []Job { j[0].Wall = nil; return j }, "square has no wall"},
		{"wall of holes", func(j []Job, m *Tool) []Job { j[0].Wall[0] = j[0].Wall[0].Reverse(); return j }, "counter-clockwise"},
		{"open wall", func(j []Job, m *Tool) []Job { j[0].Wall[0].Closed = false; return j }, "not closed"},
		{"empty path", func(j []Job, m *Tool) []Job { j[0].Keep = []geom.Path{{}}; return j }, "without points"},
		{"vertex no number", func(j []Job, m *Tool) []Job { j[0].Wall[0].V[1].Bulge = nan; return j }, "no place on a sheet"},
		{"vertex far", func(j []Job, m *Tool) []Job { j[0].Wall[0].V[1].Point[0] = 1e9; return j }, "no place on a sheet"},
		{"two thicknesses", func(j []Job, m *Tool) []Job { k := square()[0]; k.Thick = 9; return append(j, k) }, "one thickness"},
		{"thickness 0", func(j []Job, m *Tool) []Job { j[0].Thick = 0; return j }, "sheet thickness 0 mm; want more than 0"},
		{"thickness no number", func(j []Job, m *Tool) []Job { j[0].Thick = nan; return j }, "sheet thickness"},
		{"allowance", func(j []Job, m *Tool) []Job { j[0].Allowance = -1; return j }, "allowance -1 mm"},
		{"mill 0", func(j []Job, m *Tool) []Job { m.Diameter = 0; return j }, "mill diameter 0"},
		{"mill no number", func(j []Job, m *Tool) []Job { m.Diameter = nan; return j }, "mill diameter"},
		{"no speed", func(j []Job, m *Tool) []Job { m.RPM = 0; return j }, "spindle speed"},
		{"no feed", func(j []Job, m *Tool) []Job { m.Feed = math.Inf(1); return j }, "feed"},
		{"no plunge", func(j []Job, m *Tool) []Job { m.Plunge = 0; return j }, "plunge feed"},
		{"no step", func(j []Job, m *Tool) []Job { m.StepDown = 0; return j }, "step-down"},
		{"low safe height", func(j []Job, m *Tool) []Job { m.SafeZ = 0.5; return j }, "safe height"},
		{"too deep", func(j []Job, m *Tool) []Job { m.Through = 0.51; return j }, "cut into the spoilboard 0.51 mm; want 0 to 0.5"},
		{"steep ramp", func(j []Job, m *Tool) []Job { m.RampAngle = 5.1; return j }, "ramp angle 5.1 degrees"},
		{"kerf", func(j []Job, m *Tool) []Job { m.KerfExtra = 6; return j }, "kerf extra"},
		{"short flutes", func(j []Job, m *Tool) []Job { m.FluteLength = 6.2; return j }, "flutes of the 3.175 mm mill are 6.2 mm long; sheet and through-cut need 6.3 mm"},
		{"hold", func(j []Job, m *Tool) []Job { m.Hold = "tape"; return j }, `hold "tape"`},
		{"one tab", func(j []Job, m *Tool) []Job { m.Tabs = 1; return j }, "1 tabs per plate"},
		{"thin tab", func(j []Job, m *Tool) []Job { m.TabHeight = 6; return j }, "tab height 6 mm"},
		{"narrow tab", func(j []Job, m *Tool) []Job { m.TabWidth = nan; return j }, "tab width"},
		{"skin", func(j []Job, m *Tool) []Job { m.Hold, m.Skin = Skin, 6; return j }, "skin 6 mm"},
		{"no screw", func(j []Job, m *Tool) []Job { m.Hold = Screws; return j }, "square has no bore to screw it down"},
		{"off the sheet", func(j []Job, m *Tool) []Job {
			m.Sheet = orb.Bound{Max: orb.Point{83, 600}}
			m.Hold = Skin
			return j
		}, "the sheet reaches from X 0 mm Y 0 mm to X 83 mm Y 600 mm"},
		{"waste too wide to mill away", func(j []Job, m *Tool) []Job {
			j[0].Wall = geom.Region{geom.Rect(20, 20, 280, 280), roundRect(40, 40, 260, 260, 3).Reverse()}
			return j
		}, "too wide for a 3.175 mm mill to mill away, 203.2 mm at most"},
		{"bore too wide to mill out", func(j []Job, m *Tool) []Job {
			j[0].Wall = geom.Region{geom.Rect(20, 20, 280, 280)}
			j[0].Drill = []geom.Path{geom.Circle(orb.Point{150, 150}, 102)}
			return j
		}, "mills out at most 203.2 mm"},
		{"sharp inside corner", func(j []Job, m *Tool) []Job {
			j[0].Wall = append(j[0].Wall, geom.Rect(40, 40, 60, 60).Reverse())
			return j
		}, "cannot reach the wall at X 40 mm Y 40 mm; it stays 0.658 mm away"},
		{"hole of the mill's size", func(j []Job, m *Tool) []Job {
			j[0].Wall = append(j[0].Wall, geom.Circle(orb.Point{50, 50}, 3.175/2).Reverse())
			return j
		}, "leaves a 3.175 mm mill only 0 mm of way"},
		{"hole below the mill's size", func(j []Job, m *Tool) []Job {
			j[0].Wall = append(j[0].Wall, geom.Circle(orb.Point{50, 50}, 1.4).Reverse())
			return j
		}, "cannot reach the wall at X 51.4 mm Y 50 mm"},
		{"seats all round", func(j []Job, m *Tool) []Job {
			j[0].Keep = []geom.Path{opened(j[0].Wall[0])}
			return j
		}, "square: 0 of 2 tabs can be placed: each needs 7.175 mm of smooth free wall, 3.175 mm away from every seat; most places are too near to a seat"},
		{"no straight to put a tab on", func(j []Job, m *Tool) []Job {
			j[0].Wall = geom.Region{geom.Rect(20, 20, 26, 26)}
			return j
		}, "the longest smooth stretch is 6 mm"},
		{"sheet ends at the wall", func(j []Job, m *Tool) []Job {
			m.Sheet = orb.Bound{Min: orb.Point{16, 16}, Max: orb.Point{84, 84}}
			return j
		}, "most places are without sheet beyond the kerf"},
		{"seats all round, held by a skin", func(j []Job, m *Tool) []Job {
			m.Hold = Skin
			j[0].Keep = []geom.Path{opened(j[0].Wall[0])}
			return j
		}, "no free place for the finishing pass to begin"},
		{"plate of many short edges", func(j []Job, m *Tool) []Job {
			p := geom.Path{Closed: true}
			for k := range 40000 {
				s, c := math.Sincos(float64(k) / 20000 * math.Pi)
				p.V = append(p.V, geom.V(50+20*c, 50+20*s))
			}
			j[0].Wall = geom.Region{p}
			m.Hold = Skin
			return j
		}, "too short to ramp on"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := mill(3.175)
			p, err := Plan(tt.do(square(), &m), m)
			require.ErrorContains(t, err, tt.want)
			require.Nil(t, p)
		})
	}
}
