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

func board(drill ...geom.Path) []Job {
	return []Job{{Name: "board", Wall: geom.Region{geom.Rect(20, 20, 120, 100)}, Drill: drill, Thick: 6, Climb: true}}
}

// boreMoves are the program's moves inside the plate.
func boreMoves(p *Program, r geom.Region) []gcode.Move {
	var out []gcode.Move
	for _, m := range p.Moves {
		if m.Cuts() && r.Winding(orb.Point{m.To[0], m.To[1]}) > 0 {
			out = append(out, m)
		}
	}
	return out
}

func TestBoreEndsWithAFullCircleAtDepth(t *testing.T) {
	for _, climb := range []bool{true, false} {
		jobs := board(geom.Circle(orb.Point{50, 60}, 3))
		jobs[0].Climb = climb
		tool := mill(3.175)
		p, err := Plan(jobs, tool)
		require.NoError(t, err)
		ms := boreMoves(p, jobs[0].Wall)
		require.Greater(t, len(ms), 5)
		turn := 0.0
		for _, m := range ms {
			if m.Arc() && m.From[2] == -0.3 && m.To[2] == -0.3 {
				turn += m.Sweep()
				assert.InDelta(t, 3-3.175/2, m.Radius(), 1e-12)
			}
		}
		want := 2 * math.Pi // the wall is on the right of a counter-clockwise way
		if !climb {
			want = -want
		}
		assert.InDelta(t, want, turn, 1e-9)
	}
}

func TestBoreIsWideEnough(t *testing.T) {
	_, err := Plan(board(geom.Circle(orb.Point{50, 60}, (3.175+1)/2)), mill(3.175))
	require.NoError(t, err)
	_, err = Plan(board(geom.Circle(orb.Point{50, 60}, 2)), mill(3.175))
	require.EqualError(t, err, "route: board: the bore at X 50 mm Y 60 mm is 4 mm wide; a 3.175 mm mill needs at least 4.175 mm")
	_, err = Plan(board(geom.Circle(orb.Point{22, 60}, 3)), mill(3.175))
	require.ErrorContains(t, err, "breaks through the wall; 2 mm from its centre")
	_, err = Plan(board(geom.Rect(50, 50, 60, 60)), mill(3.175))
	require.ErrorContains(t, err, "no circle")
}

// Nothing stands in a bore.
func TestBoreLeavesNothingStanding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom([]float64{2, 3.175, 6}).Draw(t, "mill")
		r := (d+1)/2 + rapid.Float64Range(0, 20).Draw(t, "more")
		jobs := board(geom.Circle(orb.Point{60, 60}, r))
		tool := mill(d)
		tool.ZeroTop = rapid.Bool().Draw(t, "top")
		all, err := bores(jobs, &tool)
		require.NoError(t, err)
		pen := newPen(&tool, 6)
		pen.start()
		pen.cut(all[0], rapid.Bool().Draw(t, "climb"), -tool.Through)
		p := pen.program()
		s := newSim(p, jobs, tool)
		require.Empty(t, s.run())
		for k := 0; k <= 200; k++ {
			f := float64(k) / 200
			q := orb.Point{60 + f*(r-1e-6)*math.Cos(40*f), 60 + f*(r-1e-6)*math.Sin(40*f)}
			require.True(t, s.wasCut(len(p.Moves), q, -tool.Through, d/2), "at %v of radius %v", f, r)
		}
	})
}
