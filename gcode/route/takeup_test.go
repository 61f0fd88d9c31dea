package route

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/gcode"
	"blockwright/geom"
)

// A program whose play is taken up leaves on a machine with that play the places
// that were planned, dense along every move.
func TestTakeUpRunsAsPlanned(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		play := [2]float64{rapid.Float64Range(0, 0.3).Draw(t, "x"), rapid.Float64Range(0, 0.3).Draw(t, "y")}
		p := newPen(&Tool{Diameter: 3, RPM: 1, Feed: 600, Plunge: 200, SafeZ: 5}, 6)
		p.start()
		p.goTo(orb.Point{30, 40}, 0)
		n := rapid.IntRange(1, 20).Draw(t, "moves")
		for range n {
			to := orb.Point{rapid.Float64Range(10, 60).Draw(t, "to x"), rapid.Float64Range(10, 60).Draw(t, "to y")}
			bulge := rapid.SampledFrom([]float64{0, 0, 1, -1, 0.3, -0.7}).Draw(t, "bulge")
			if rapid.IntRange(0, 4).Draw(t, "lift") == 0 {
				p.lift()
				p.goTo(to, 0)
				continue
			}
			p.edge(geom.Edge{A: p.at, B: to, Bulge: bulge}, 0)
		}
		planned := &Program{Moves: append([]gcode.Move(nil), p.moves...), Notes: map[int]string{2: "here"}}
		told := &Program{Moves: append([]gcode.Move(nil), p.moves...), Notes: map[int]string{2: "here"}}
		told.TakeUp(play)

		var way []orb.Point // of the mill, in the sheet
		var at orb.Point
		for i := range told.Moves {
			m := &told.Moves[i]
			if i > 0 {
				require.InDelta(t, 0, distance(orb.Point{m.From[0], m.From[1]}, orb.Point{told.Moves[i-1].To[0], told.Moves[i-1].To[1]}), 1e-9)
			}
			const steps = 120
			for k := 1; k <= steps; k++ {
				q := m.At(float64(k) / steps)
				for a := range 2 {
					at[a] = math.Max(q[a]-play[a]/2, math.Min(q[a]+play[a]/2, at[a]))
				}
				if m.Cuts() && q[2] < 6 {
					way = append(way, at)
				}
			}
		}
		var paths []geom.Path
		for i := range planned.Moves {
			m := &planned.Moves[i]
			if !m.Cuts() || m.To[2] >= 6 {
				continue
			}
			e := geom.Path{V: []geom.Vertex{geom.V(m.From[0], m.From[1]), geom.V(m.To[0], m.To[1])}}
			if m.Arc() {
				half := m.At(0.5)
				b := math.Tan(m.Sweep() / 8)
				e.V = []geom.Vertex{geom.B(m.From[0], m.From[1], b), geom.B(half[0], half[1], b), geom.V(m.To[0], m.To[1])}
			}
			paths = append(paths, e)
		}
		for _, q := range way {
			if d := geom.Nearest(paths, q).Dist; d > 2e-4 {
				t.Fatalf("the mill runs %.5f off at %v", d, q)
			}
		}
		// And it goes everywhere: every planned end is met.
		for _, e := range paths {
			near := math.Inf(1)
			for _, q := range way {
				near = math.Min(near, distance(q, e.End()))
			}
			if near > 2e-4 {
				t.Fatalf("the mill misses %v by %.5f", e.End(), near)
			}
		}
	})
}

func TestTakeUpOfNothing(t *testing.T) {
	p := &Program{Moves: []gcode.Move{{Op: gcode.Rapid, To: [3]float64{1, 2, 3}}}}
	p.TakeUp([2]float64{})
	assert.Len(t, p.Moves, 1)
}
