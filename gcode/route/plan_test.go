package route

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/gcode"
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
					at, wrong := s.wrongWay(0, bottom)
					require.False(t, wrong, "at %v", at)
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

// The same program as its written words say it: rounded, arcs in parts.
func TestPlanSurvivesItsWords(t *testing.T) {
	for _, inch := range []bool{false, true} {
		for _, d := range []*gcode.Dialect{gcode.RS274NGC(), gcode.Grbl()} {
			for _, j := range []Job{window(), cutPlate(t, 3.175/2)} {
				tool := mill(3.175)
				tool.Overtravel = 2
				jobs := []Job{j}
				p, err := Plan(jobs, tool)
				require.NoError(t, err)
				var text bytes.Buffer
				require.NoError(t, gcode.Print(&text, d, gcode.Listing{Head: []string{"test"}, Notes: p.Notes, Moves: p.Moves, Inch: inch, Dwell: 2}))
				prog, found := gcode.Parse("test.ngc", text.Bytes())
				require.Empty(t, found)
				back := &Program{}
				found = prog.Run(d, func(m *gcode.Move) {
					if m.Moves() {
						c := *m
						c.Job = 0
						back.Moves = append(back.Moves, c)
					}
				})
				require.Empty(t, found)
				s := newSim(back, jobs, tool)
				s.round = 1.5e-4
				s.tol = 5e-4
				require.Empty(t, s.run())
				require.Len(t, s.left(0, -0.3, 5e-4, 0.1), 2)
			}
		}
	}
}

// TestSimSees spoils good programs one move at a time; what the tests above look
// for has to be found.
func TestSimSees(t *testing.T) {
	tool := mill(3.175)
	jobs := []Job{cutPlate(t, 3.175/2)}
	p, err := Plan(jobs, tool)
	require.NoError(t, err)
	deep := func(m *gcode.Move) bool { return m.Cuts() && m.To[2] == -0.3 && m.From[2] == -0.3 }
	sees := func(name string, want string, spoil func(ms []gcode.Move) []gcode.Move) {
		t.Run(name, func(t *testing.T) {
			bad := &Program{Moves: spoil(append([]gcode.Move(nil), p.Moves...))}
			s := newSim(bad, jobs, tool)
			s.tol = 1e-7
			got := s.run()
			if at, wrong := s.wrongWay(0, -0.3); wrong {
				got = append(got, fmt.Sprint("wrong way at ", at))
			}
			for _, l := range s.left(0, -0.3, 1e-6, 0.05) {
				if l.s1-l.s0 > tool.TabWidth+tool.Diameter {
					got = append(got, "long rest")
				}
			}
			require.Contains(t, strings.Join(got, "\n"), want)
		})
	}
	last := func(ms []gcode.Move, is func(*gcode.Move) bool) int {
		for i := len(ms) - 1; i >= 0; i-- {
			if is(&ms[i]) {
				return i
			}
		}
		t.Fatal("no such move")
		return -1
	}
	long := func(m *gcode.Move) bool { return deep(m) && m.Op == gcode.Line && m.Length() > 20 }
	sees("gouge", "gouges", func(ms []gcode.Move) []gcode.Move {
		i := last(ms, long)
		ms[i].To[0], ms[i].To[1] = ms[i].To[0]+2e-6, ms[i].To[1]+2e-6
		ms[i+1].From = ms[i].To
		ms[i].From[0], ms[i].From[1] = ms[i].From[0]-2e-6, ms[i].From[1]-2e-6
		ms[i-1].To = ms[i].From
		return ms
	})
	sees("left", "long rest", func(ms []gcode.Move) []gcode.Move {
		i := last(ms, long)
		ms[i].Op = gcode.Rapid
		return ms
	})
	sees("plunge", "falls steeply", func(ms []gcode.Move) []gcode.Move {
		for i := range ms { // the first ramp, all at once
			if ms[i].Cuts() && ms[i].To[2] < ms[i].From[2] && ms[i].Length() > 5 {
				ms[i].To[2] -= 1
				ms[i+1].From = ms[i].To
				return ms
			}
		}
		return ms
	})
	sees("no roughing", "falls steeply", func(ms []gcode.Move) []gcode.Move {
		first := last(ms, func(m *gcode.Move) bool { return m.Op == gcode.Rapid && m.From[2] < 0 && m.Length() > 1 })
		before := last(ms[:first], func(m *gcode.Move) bool { return m.Op == gcode.Rapid && m.To[2] > 10 })
		return append(ms[:1:1], ms[before+1:]...)
	})
	sees("low rapid", "XY rapid below", func(ms []gcode.Move) []gcode.Move {
		i := last(ms, func(m *gcode.Move) bool { return m.Op == gcode.Rapid && m.From[2] == m.To[2] })
		ms[i].From[2], ms[i].To[2] = 9, 9
		return ms
	})
	sees("rapid into the sheet", "Z rapid ends", func(ms []gcode.Move) []gcode.Move {
		i := last(ms, func(m *gcode.Move) bool { return m.Op == gcode.Rapid && m.To[2] < m.From[2] })
		ms[i].To[2] = 6.9
		ms[i+1].From = ms[i].To
		return ms
	})
	sees("too deep", "deeper than", func(ms []gcode.Move) []gcode.Move {
		i := last(ms, deep)
		ms[i].To[2] -= 1e-6
		return ms
	})
	sees("spindle", "feed or spindle", func(ms []gcode.Move) []gcode.Move {
		ms[last(ms, deep)].RPM = 0
		return ms
	})
	sees("jump", "starts elsewhere", func(ms []gcode.Move) []gcode.Move {
		i := last(ms, deep)
		return append(ms[:i], ms[i+1:]...)
	})
	sees("other way", "wrong way", func(ms []gcode.Move) []gcode.Move {
		i := last(ms, long)
		ms[i].From, ms[i].To = ms[i].To, ms[i].From
		return ms
	})
}

func TestTabsKeepTheirHeight(t *testing.T) {
	for _, top := range []bool{true, false} {
		tool := mill(3.175)
		tool.ZeroTop, tool.Tabs = top, 4
		jobs := []Job{window()}
		p, err := Plan(jobs, tool)
		require.NoError(t, err)
		require.Len(t, p.Tabs, 4)
		s := newSim(p, jobs, tool)
		for _, x := range p.Tabs {
			// Along the middle of the tab, from the wall to the kerf's far side.
			at := x.Wall.AtLength(x.Wall.Length() / 2)
			q, u := x.Wall.Point(at), x.Wall.Edge(at.Edge).Direction(at.T)
			n := outward(u, true)
			for _, along := range []float64{-1.99, 0, 1.99} {
				for d := 1e-3; d < 3.175+0.15+0.4; d += 0.05 {
					y := plus(plus(q, n, d), u, along)
					lowest := math.Inf(1)
					for i := range s.moves {
						m := &s.moves[i]
						if !m.Cuts() {
							continue
						}
						for _, e := range planar(m) {
							if _, r, f := e.Nearest(y); r < 3.175/2-1e-9 {
								lowest = math.Min(lowest, math.Min(s.z(m, f), s.z(m, 1)))
							}
						}
					}
					require.InDelta(t, 1.2, lowest, 1e-9, "at %v", y)
				}
			}
		}
	}
}

// A tab never hangs on a fin thinner than stem: it would tear the fin off.
func TestTabsHangOnThickWood(t *testing.T) {
	// A plate with a long wedge at its lower left, no thicker than 2 mm over its first
	// 40 mm. Without seats every other place of the outline would do as well.
	wall := geom.Path{Closed: true, V: []geom.Vertex{
		geom.V(20, 20), geom.V(140, 20), geom.V(140, 60), geom.V(80, 60), geom.B(80, 26, -0.4), geom.V(77, 22.85), geom.V(20, 20),
	}}
	for _, tabs := range []int{2, 4, 6} {
		tool := mill(3.175)
		tool.Tabs = tabs
		p, err := Plan([]Job{{Name: "fin", Wall: geom.Region{wall}, Thick: 6}}, tool)
		require.NoError(t, err)
		require.Len(t, p.Tabs, tabs)
		for _, x := range p.Tabs {
			q := x.Wall.Point(x.Wall.AtLength(x.Wall.Length() / 2))
			assert.Falsef(t, q[0] < 61 && q[1] < 30, "a tab at %v hangs on the fin", q)
		}
	}
}
