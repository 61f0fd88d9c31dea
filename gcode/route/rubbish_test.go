package route

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/geom"
)

// Walls that cross themselves, seats that lie nowhere, lines of no length: the
// plan may refuse them or make the best of them; it must end and keep its heights.
func TestRubbishEnds(t *testing.T) {
	planned := 0
	rapid.Check(t, func(t *rapid.T) {
		path := func(closed bool) geom.Path {
			n := rapid.IntRange(1, 8).Draw(t, "n")
			p := geom.Path{Closed: closed}
			for range n {
				b := rapid.SampledFrom([]float64{0, 0, 0, 1, -1, 0.5, -0.4142135623730951, 1e-12}).Draw(t, "bulge")
				x, y := rapid.IntRange(0, 12).Draw(t, "x"), rapid.IntRange(0, 12).Draw(t, "y")
				p.V = append(p.V, geom.B(20+5*float64(x), 20+5*float64(y), b))
			}
			if !closed {
				p.V[len(p.V)-1].Bulge = 0
			}
			return p
		}
		paths := func(name string, most int, closed bool) []geom.Path {
			var out []geom.Path
			for range rapid.IntRange(0, most).Draw(t, name) {
				out = append(out, path(closed))
			}
			return out
		}
		var jobs []Job
		for range rapid.IntRange(1, 2).Draw(t, "jobs") {
			j := Job{
				Wall: paths("wall", 3, true), Keep: paths("keep", 3, false), Engrave: paths("engrave", 2, false),
				Thick: 6, Allowance: rapid.SampledFrom([]float64{0, 0.2, 3}).Draw(t, "allowance"), Climb: rapid.Bool().Draw(t, "climb"),
			}
			if rapid.IntRange(0, 9).Draw(t, "bores") == 0 {
				j.Drill = paths("drill", 1, true)
			}
			if rapid.Bool().Draw(t, "real") {
				j.Wall = append(paths("small", 1, true), geom.Rect(10, 10, 90, 90))
			}
			jobs = append(jobs, j)
		}
		tool := mill(rapid.SampledFrom([]float64{0.5, 3.175, 10, 50}).Draw(t, "mill"))
		tool.Hold = rapid.SampledFrom([]string{Tabs, Skin, Screws}).Draw(t, "hold")
		tool.Overtravel = 2
		tool.KerfExtra = rapid.SampledFrom([]float64{0, 0.4, 5}).Draw(t, "kerf")
		if p, err := Engrave(jobs, tool); err == nil {
			require.GreaterOrEqual(t, p.Depth, -0.3)
		}
		p, err := Plan(jobs, tool)
		if err != nil {
			require.Contains(t, err.Error(), "route: ")
			return
		}
		planned++
		for i := range p.Moves {
			m := &p.Moves[i]
			if i > 0 {
				require.Equal(t, p.Moves[i-1].To, m.From)
			}
			require.GreaterOrEqual(t, m.To[2], -tool.Through)
			if m.To[0] != m.From[0] || m.To[1] != m.From[1] {
				require.True(t, m.Cuts() || m.From[2] == 11 && m.To[2] == 11)
			}
			require.False(t, m.Cuts() && m.RPM == 0)
		}
	})
	t.Logf("%d planned", planned)
}
