package route

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
)

func roundRect(x0, y0, x1, y1, r float64) geom.Path {
	b := 0.41421356237309503
	return geom.Path{Closed: true, V: []geom.Vertex{
		geom.V(x0+r, y0), geom.B(x1-r, y0, b), geom.V(x1, y0+r), geom.B(x1, y1-r, b),
		geom.V(x1-r, y1), geom.B(x0+r, y1, b), geom.V(x0, y1-r), geom.B(x0, y0+r, b),
	}}
}

func mill(d float64) Tool {
	t := Usual()
	t.Diameter, t.RPM, t.Feed, t.Plunge = d, 18000, 1200, 300
	return t
}

func window() Job {
	return Job{
		Name:  "window",
		Wall:  geom.Region{roundRect(20, 20, 100, 80, 5), roundRect(40, 40, 70, 60, 4).Reverse()},
		Drill: []geom.Path{geom.Circle([2]float64{30, 30}, 3)},
		Thick: 6, Allowance: 0.15, Climb: true,
	}
}

func TestPlanHoldsItsPromises(t *testing.T) {
	for _, climb := range []bool{true, false} {
		for _, top := range []bool{true, false} {
			for _, spring := range []bool{true, false} {
				for _, hold := range []string{Tabs, Screws, Skin} {
					tool := mill(3.175)
					tool.ZeroTop, tool.Spring, tool.Hold = top, spring, hold
					j := window()
					j.Climb = climb
					jobs := []Job{j}
					p, err := Plan(jobs, tool)
					require.NoError(t, err)
					s := newSim(p, jobs, tool)
					require.Empty(t, s.run())
					bottom := -tool.Through
					if hold == Skin {
						bottom = tool.Skin
					}
					left := s.left(0, bottom, 1e-7, 0.1)
					if hold == Tabs {
						require.Len(t, left, 2)
						for _, b := range left {
							assert.LessOrEqual(t, b.s1-b.s0, tool.TabWidth+tool.Diameter)
							assert.Greater(t, b.s1-b.s0, tool.TabWidth+tool.Diameter-0.01)
						}
					} else {
						require.Empty(t, left)
					}
				}
			}
		}
	}
}

// seated is a plate with chamfered corners whose lower and left edges are seats.
func seated() Job {
	p := geom.Path{Closed: true, V: []geom.Vertex{
		geom.V(20.5, 20), geom.V(79.5, 20), geom.V(80, 20.5), geom.V(80, 69.5),
		geom.V(79.5, 70), geom.V(20.5, 70), geom.V(20, 69.5), geom.V(20, 20.5),
	}}
	return Job{
		Name: "seated", Wall: geom.Region{p}, Thick: 6, Allowance: 0.15,
		Keep: []geom.Path{p.Cut(0, 59), {V: []geom.Vertex{geom.V(20, 69.5), geom.V(20, 20.5)}}},
	}
}

func TestSeatsAreApproachedFromTheWaste(t *testing.T) {
	for _, climb := range []bool{true, false} {
		tool := mill(3.175)
		tool.Overtravel = 2
		j := seated()
		j.Climb = climb
		jobs := []Job{j}
		p, err := Plan(jobs, tool)
		require.NoError(t, err)
		require.Empty(t, p.Hints)
		s := newSim(p, jobs, tool)
		require.Empty(t, s.run())
		require.Len(t, s.left(0, -0.3, 1e-7, 0.1), 2)
		// At the beginning of each seat the mill comes from beyond its line.
		for _, x := range []struct {
			axis     int
			line     float64
			from, to orb.Point // of the mill's way along the seat
		}{
			{1, 20 - 3.175/2, orb.Point{20.5, 20 - 3.175/2}, orb.Point{79.5, 20 - 3.175/2}},
			{0, 20 - 3.175/2, orb.Point{20 - 3.175/2, 69.5}, orb.Point{20 - 3.175/2, 20.5}},
		} {
			found := false
			for i, m := range p.Moves {
				a, b := orb.Point{m.From[0], m.From[1]}, orb.Point{m.To[0], m.To[1]}
				if m.From[2] != -0.3 || !(distance(a, x.from) < 1e-9 && distance(b, x.to) < 1e-9 || distance(b, x.from) < 1e-9 && distance(a, x.to) < 1e-9) {
					continue
				}
				found = true
				k := i - 1
				for math.Abs(p.Moves[k].From[x.axis]-x.line) < 0.01 {
					k--
				}
				assert.Less(t, p.Moves[k].From[x.axis], x.line-0.2, "climb %v", climb)
			}
			assert.True(t, found)
		}
	}
}
