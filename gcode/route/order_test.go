package route

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
)

// A stint is the moves in the sheet that run beside one wall loop, first and last.
type stint struct {
	loop        geom.Path
	first, last int
}

// stints follows the program: each move in the sheet belongs to the wall loop or
// bore nearest to its middle.
func (s *sim) stints() []stint {
	var out []stint
	var loops []geom.Path
	for _, j := range s.jobs {
		for _, p := range append(append([]geom.Path(nil), j.Wall...), j.Drill...) {
			out = append(out, stint{p, -1, -1})
			loops = append(loops, p)
		}
	}
	for i := range s.moves {
		m := &s.moves[i]
		if !m.Cuts() || s.z(m, 1) >= s.thick {
			continue
		}
		mid := planar(m)[0].At(0.5)
		x := &out[geom.Nearest(loops, mid).Path]
		if x.first < 0 {
			x.first = i
		}
		x.last = i
	}
	return out
}

func TestNothingInsideIsCutAfterItsOutline(t *testing.T) {
	frame := Job{
		Name: "frame", Thick: 6, Allowance: 0.15, Climb: true,
		Wall:  geom.Region{geom.Rect(20, 20, 180, 160), geom.Rect(40, 40, 140, 140).Reverse()},
		Drill: []geom.Path{geom.Circle(orb.Point{160, 60}, 4), geom.Circle(orb.Point{160, 100}, 3)},
	}
	frame.Wall[1] = roundRect(40, 40, 140, 140, 3).Reverse()
	inner := Job{
		Name: "inner", Thick: 6, Allowance: 0.15, Climb: true,
		Wall:  geom.Region{geom.Rect(60, 60, 120, 120), roundRect(80, 80, 100, 100, 3).Reverse()},
		Drill: []geom.Path{geom.Circle(orb.Point{70, 70}, 3)},
	}
	small := Job{Name: "small", Thick: 6, Allowance: 0.15, Climb: true, Wall: geom.Region{geom.Rect(200, 20, 240, 60)}}
	for _, jobs := range [][]Job{{frame, inner, small}, {small, inner, frame}} {
		tool := mill(3.175)
		_, err := Plan(jobs, tool)
		require.ErrorContains(t, err, "inner: the part near X 58.413 mm Y 60 mm lies in a window of frame")
		tool.Hold = Skin
		p, err := Plan(jobs, tool)
		require.NoError(t, err)
		s := newSim(p, jobs, tool)
		require.Empty(t, s.run())
		st := s.stints()
		pairs := 0
		for _, a := range st {
			require.GreaterOrEqual(t, a.first, 0)
			for _, b := range st {
				if b.loop.Winding(a.loop.V[0].Point) != 0 && a.loop.Winding(b.loop.V[0].Point) == 0 {
					pairs++
					assert.Less(t, a.last, b.first, "%v in %v", a.loop.V[0], b.loop.V[0])
				}
			}
		}
		// bores 2 + 1, walls: window, inner's outline and window, each in the
		// frame's outline; what is in the window; what is in inner's outline
		assert.Equal(t, 6+3+2, pairs)
		order := map[float64]int{}
		for _, a := range st {
			order[a.loop.Bound().Min[0]] = a.first
		}
		assert.Less(t, order[157], order[156], "the smaller bore first")
		assert.Less(t, order[200], order[20], "the smaller outline first")
	}
}

func TestPlatesKeepTheirDistance(t *testing.T) {
	two := func(gap float64) []Job {
		j := Job{Thick: 6, Allowance: 0.15, Wall: geom.Region{geom.Rect(20, 20, 80, 80)}}
		k := j
		k.Wall = geom.Region{geom.Rect(80+gap, 20, 140+gap, 80)}
		k.Name = "second"
		return []Job{j, k}
	}
	tool := mill(3.175)
	kerf := 3.175 + 0.15 + 0.4
	_, err := Plan(two(kerf-1e-4), tool)
	require.ErrorContains(t, err, "plate 1 and second are too near: at X ")
	jobs := two(kerf)
	p, err := Plan(jobs, tool)
	require.NoError(t, err)
	s := newSim(p, jobs, tool)
	require.Empty(t, s.run())
	// No tab where the other plate's kerf leaves no sheet to hold on to.
	for _, x := range p.Tabs {
		assert.False(t, x.At[0] > 79 && x.At[0] < 85, "%v", x.At)
	}
	// A plate upon another, and one in the other's solid.
	jobs = two(5)
	jobs[1].Wall = geom.Region{geom.Rect(40, 40, 60, 60)}
	_, err = Plan(jobs, tool)
	require.ErrorContains(t, err, "too near")
}

func TestPlanIsTheSameEachTime(t *testing.T) {
	jobs := []Job{cutPlate(t, 3.175/2), window()}
	jobs[1].Wall = jobs[1].Wall.Move(geom.Shift(0, 60))
	jobs[1].Drill = geom.MoveAll(jobs[1].Drill, geom.Shift(0, 60))
	a, err := Plan(jobs, mill(3.175))
	require.NoError(t, err)
	for range 5 {
		b, err := Plan(jobs, mill(3.175))
		require.NoError(t, err)
		require.Equal(t, a, b)
	}
}
