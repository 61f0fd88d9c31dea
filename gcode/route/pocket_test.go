package route

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/geom"
)

// pocketed is a plate with a notch from below, relieved round it to a part of its
// depth, and a closed pocket with an island.
func pocketed() Job {
	wall := geom.Region{{Closed: true, V: []geom.Vertex{
		geom.V(20, 20), geom.V(50, 20), geom.B(50, 37, -math.Tan(math.Pi/8)), geom.V(53, 40),
		geom.B(67, 40, -math.Tan(math.Pi/8)), geom.V(70, 37), geom.V(70, 20), geom.V(160, 20), geom.V(160, 80), geom.V(20, 80),
	}}}
	open := geom.Region{{Closed: true, V: []geom.Vertex{
		geom.V(42, 18), geom.V(78, 18), geom.B(78, 45, math.Tan(math.Pi/8)), geom.V(75, 48),
		geom.B(45, 48, math.Tan(math.Pi/8)), geom.V(42, 45),
	}}}
	shut := geom.Region{roundRect(100, 30, 150, 70, 3), roundRect(120, 45, 132, 55, 1).Reverse()}
	return Job{
		Name: "pocketed", Wall: wall, Thick: 6, Allowance: 0.15, Climb: true,
		Bare:    []geom.Path{wall[0].Cut(28, 80)},
		Pockets: []Pocket{{open, 4}, {shut, 2.5}},
	}
}

// cleared looks at places of the floor within the plate: each must be cut to the
// floor, and those beside the wall too.
func (s *sim) cleared(t require.TestingT, job int, places []orb.Point) {
	j := &s.jobs[job]
	for _, p := range j.Pockets {
		b := p.Floor.Bound()
		for _, f := range places {
			q := orb.Point{b.Min[0] + f[0]*(b.Max[0]-b.Min[0]), b.Min[1] + f[1]*(b.Max[1]-b.Min[1])}
			if p.Floor.SignedDist(q) > -1e-4 {
				n := geom.Nearest(p.Floor, q) // on the wall, then a hair inside
				q = n.At
			}
			if j.Wall.SignedDist(q) > -1e-6 {
				continue
			}
			require.True(t, s.wasCut(len(s.moves), q, s.thick-p.Depth, s.tool.Diameter/2+1e-6), "%v of the floor still stands", q)
		}
	}
}

func grid(n int) []orb.Point {
	var out []orb.Point
	for i := range n + 1 {
		for k := range n + 1 {
			out = append(out, orb.Point{float64(i) / float64(n), float64(k) / float64(n)})
		}
	}
	return out
}

func TestPocketIsClearedToItsFloor(t *testing.T) {
	for _, d := range []float64{2, 3.175, 6} {
		for _, climb := range []bool{true, false} {
			for _, top := range []bool{true, false} {
				tool := mill(d)
				tool.ZeroTop, tool.Spring = top, top
				j := pocketed()
				j.Climb = climb
				if d == 6 { // the island's ring is too narrow for it at the corners
					j.Pockets = j.Pockets[:1]
					j.Wall, j.Pockets[0].Floor = closed(t, j.Wall, 3), geom.Region{roundRect(42, 16, 78, 48, 3)}
				}
				jobs := []Job{j}
				p, err := Plan(jobs, tool)
				require.NoError(t, err)
				s := newSim(p, jobs, tool)
				s.tol = 1e-6
				require.Empty(t, s.run())
				s.cleared(t, 0, grid(24))
				for _, tab := range p.Tabs {
					assert.Greater(t, geom.Nearest(j.Bare, tab.At).Dist, d, "tab on a bare stretch")
				}
			}
		}
	}
}

// Pockets come before whatever cuts through, in the program's order.
func TestPocketBeforeOutline(t *testing.T) {
	p, err := Plan([]Job{pocketed()}, mill(3.175))
	require.NoError(t, err)
	pockets, walls := 0, 0
	for i := range p.Moves {
		n := p.Notes[i]
		switch {
		case strings.Contains(n, "clear pocket"), strings.Contains(n, "finish pocket"):
			pockets++
			require.Zero(t, walls, "a pocket after a wall")
		case strings.Contains(n, "rough"):
			walls++
		}
	}
	assert.Equal(t, 6, pockets)
	assert.Positive(t, walls)
}

// No move over the plate goes below the floor, whatever the step-down.
func TestPocketNeverDeeper(t *testing.T) {
	for _, step := range []float64{0.3, 0.77, 1.5, 9} {
		tool := mill(3.175)
		tool.StepDown, tool.ZeroTop = step, true
		j := pocketed()
		p, err := Plan([]Job{j}, tool)
		require.NoError(t, err)
		for _, m := range p.Moves {
			q := orb.Point{m.To[0], m.To[1]}
			if d := j.Wall.SignedDist(q); d < tool.Diameter/2-1e-6 && m.To[2] < 0 {
				require.GreaterOrEqual(t, m.To[2], -4.0)
				if q[0] > 90 {
					require.GreaterOrEqual(t, m.To[2], -2.5)
				}
			}
		}
	}
}

func TestPocketRefusals(t *testing.T) {
	for _, c := range []struct {
		name, want string
		change     func(*Job)
	}{
		{"no depth", "0 mm deep", func(j *Job) { j.Pockets[0].Depth = 0 }},
		{"no number", "NaN mm deep", func(j *Job) { j.Pockets[0].Depth = math.NaN() }},
		{"through", "6 mm deep", func(j *Job) { j.Pockets[0].Depth = 6 }},
		{"no floor", "without a floor", func(j *Job) { j.Pockets[0].Floor = nil }},
		{"an open floor", "no region", func(j *Job) { j.Pockets[0].Floor[0].Closed = false }},
		{"no place", "no place on a sheet", func(j *Job) { j.Pockets[0].Floor[0].V[0].Point[0] = math.Inf(1) }},
		{"too narrow", "does not go into the pocket", func(j *Job) { j.Pockets[0].Floor = geom.Region{geom.Rect(30, 30, 33, 60)} }},
		{"too short", "a ramp needs", func(j *Job) { j.Pockets[0].Floor = geom.Region{geom.Circle(orb.Point{30, 60}, 1.8)} }},
		{"sharp corners", "cannot reach the pocket's wall", func(j *Job) { j.Pockets[0].Floor = geom.Region{geom.Rect(25, 30, 38, 60)} }},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := pocketed()
			c.change(&j)
			_, err := Plan([]Job{j}, mill(3.175))
			require.ErrorContains(t, err, c.want)
		})
	}
	other := window()
	other.Wall, other.Drill = other.Wall.Move(geom.Shift(145, 0)), nil
	j := pocketed()
	j.Pockets[1].Floor = geom.Region{roundRect(100, 30, 168, 70, 3)}
	_, err := Plan([]Job{j, other}, mill(3.175))
	require.ErrorContains(t, err, "too near to window")
}

// TestRandomPockets clears pockets of random shapes, open and shut, in random
// plates: what the mill leaves of random grooves and holes, turned inside out.
func TestRandomPockets(t *testing.T) {
	planned := 0
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom([]float64{2, 3.175, 6}).Draw(t, "mill")
		plain := Job{Wall: geom.Region{roundRect(20, 20, 150, 130, 6)}, Thick: 6, Allowance: rapid.SampledFrom([]float64{0, 0.1, 0.3}).Draw(t, "left"), Climb: rapid.Bool().Draw(t, "way")}
		// A random plate's shape, opened by the mill, moved over the plate's edge.
		shape := randomPlate(t, d).Wall
		waste := geom.Region{roundRect(-50, -50, 250, 250, 20)}
		b := shape.Bound()
		x, y := rapid.Float64Range(b.Min[0], b.Max[0]-30).Draw(t, "x"), rapid.Float64Range(b.Min[1], b.Max[1]-30).Draw(t, "y")
		shape = geom.Intersection(shape, geom.Region{geom.Rect(x, y, x+rapid.Float64Range(10, 30).Draw(t, "wide"), y+22)})
		solid := closed(t, geom.Difference(waste, shape), d/2)
		floor := geom.Difference(waste, solid).Move(geom.Shift(rapid.Float64Range(0, 120).Draw(t, "dx")-x, rapid.Float64Range(5, 100).Draw(t, "dy")-y))
		if len(floor) == 0 {
			return
		}
		plain.Pockets = []Pocket{{floor, rapid.Float64Range(0.5, 5).Draw(t, "depth")}}
		tool := randomTool(t, d)
		p, err := Plan([]Job{plain}, tool)
		if err != nil {
			return
		}
		planned++
		s := newSim(p, []Job{plain}, tool)
		s.tol = 2e-6
		require.Empty(t, s.run())
		var places []orb.Point
		for range 40 {
			places = append(places, orb.Point{rapid.Float64Range(0, 1).Draw(t, "px"), rapid.Float64Range(0, 1).Draw(t, "py")})
		}
		s.cleared(t, 0, places)
	})
	t.Logf("%d planned", planned)
	require.Greater(t, planned, 30)
}
