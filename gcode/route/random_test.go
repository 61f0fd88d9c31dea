package route

import (
	"fmt"
	"math"
	"os"
	"sort"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/gcode"
	"blockwright/geom"
)

// closed is what a mill leaves of the region: every place it cannot enter is
// filled.
func closed(t require.TestingT, r geom.Region, rho float64) geom.Region {
	grown, err := r.Offset(rho)
	require.NoError(t, err)
	wall, err := grown.Offset(-rho)
	require.NoError(t, err)
	return wall
}

// randomPlate is a rounded or sharp rectangle with grooves, holes and reliefs,
// closed for the mill; reliefs are barely wider than the mill.
func randomPlate(t *rapid.T, d float64) Job {
	rho := d / 2
	f := func(name string, lo, hi float64) float64 {
		return math.Round(rapid.Float64Range(lo, hi).Draw(t, name)*10) / 10
	}
	w, h := f("width", 60, 140), f("height", 60, 120)
	x, y := 20.0, 20.0
	outline := geom.Region{geom.Rect(x, y, x+w, y+h)}
	if rapid.Bool().Draw(t, "round") {
		outline = geom.Region{roundRect(x, y, x+w, y+h, f("radius", 1, 12))}
	}
	var waste []geom.Region
	side := func() (orb.Point, orb.Point) { // a point of an edge and the way into the plate
		s := f("along", 0.15, 0.85)
		switch rapid.IntRange(0, 3).Draw(t, "side") {
		case 0:
			return orb.Point{x + s*w, y}, orb.Point{0, 1}
		case 1:
			return orb.Point{x + w, y + s*h}, orb.Point{-1, 0}
		case 2:
			return orb.Point{x + s*w, y + h}, orb.Point{0, -1}
		}
		return orb.Point{x, y + s*h}, orb.Point{1, 0}
	}
	for range rapid.IntRange(0, 3).Draw(t, "grooves") {
		q, u := side()
		depth := f("depth", 2, 25)
		wide := rapid.SampledFrom([]float64{d, d + 0.1, d + 0.2, d + 0.3, d + 0.4, d + 1, d + 1.1, 2 * d, 3 * d, 12}).Draw(t, "groove")
		a, b := q, plus(q, u, depth)
		n := orb.Point{-u[1] * wide / 2, u[0] * wide / 2}
		a = plus(a, u, -5)
		groove := geom.Path{Closed: true, V: []geom.Vertex{
			{Point: orb.Point{a[0] - n[0], a[1] - n[1]}}, {Point: orb.Point{b[0] - n[0], b[1] - n[1]}},
			{Point: orb.Point{b[0] + n[0], b[1] + n[1]}}, {Point: orb.Point{a[0] + n[0], a[1] + n[1]}},
		}}
		if groove.Area() < 0 {
			groove = groove.Reverse()
		}
		waste = append(waste, geom.Region{groove})
		if rapid.Bool().Draw(t, "relieved") {
			for _, k := range []float64{-1, 1} {
				f := 1 - rho/math.Sqrt2/(wide/2) // on the bisector, rho from the corner
				c := plus(orb.Point{b[0] + k*f*n[0], b[1] + k*f*n[1]}, u, -rho/math.Sqrt2)
				waste = append(waste, geom.Region{geom.Circle(c, rho+0.05)})
			}
		}
	}
	for range rapid.IntRange(0, 2).Draw(t, "holes") {
		c := orb.Point{x + w*f("hx", 0.3, 0.7), y + h*f("hy", 0.3, 0.7)}
		switch rapid.IntRange(0, 2).Draw(t, "hole") {
		case 0:
			waste = append(waste, geom.Region{geom.Circle(c, rho+f("hr", 0.5, 12))})
		case 1:
			waste = append(waste, geom.Region{geom.Slot(c, orb.Point{c[0] + f("hl", 2, 15), c[1]}, d+f("hw", 0, 3))})
		default:
			a := f("ha", 4, 14)
			waste = append(waste, geom.Region{geom.Rect(c[0]-a, c[1]-5, c[0]+a, c[1]+5)})
		}
	}
	if rapid.IntRange(0, 3).Draw(t, "wavy") == 0 {
		// Hardly a straight stretch to put a tab on.
		p := geom.Path{Closed: true}
		n := rapid.IntRange(30, 200).Draw(t, "vertices")
		swing := f("swing", 0, 3)
		for k := range n {
			s, c := math.Sincos(2 * math.Pi * float64(k) / float64(n))
			r := 50 + swing*math.Sin(16*math.Pi*float64(k)/float64(n))
			p.V = append(p.V, geom.B(75+r*c, 75+r*s, 0.01))
		}
		outline = geom.Region{p}
	}
	wall := closed(t, geom.Difference(outline, waste...), rho)
	return Job{
		Name: "random", Wall: wall, Thick: f("thick", 3, 9),
		Allowance: rapid.SampledFrom([]float64{0, 0.1, 0.15, 0.2, 0.5}).Draw(t, "allowance"),
		Climb:     rapid.Bool().Draw(t, "climb"),
	}
}

func randomTool(t *rapid.T, d float64) Tool {
	tool := mill(d)
	tool.KerfExtra = rapid.SampledFrom([]float64{0, 0.4, 0.8}).Draw(t, "kerf extra")
	tool.Hold = rapid.SampledFrom([]string{Tabs, Tabs, Tabs, Skin}).Draw(t, "hold")
	tool.Tabs = rapid.IntRange(2, 4).Draw(t, "tabs")
	tool.StepDown = rapid.SampledFrom([]float64{0.8, 1.5, 3}).Draw(t, "step")
	tool.Spring = rapid.Bool().Draw(t, "spring")
	tool.ZeroTop = rapid.Bool().Draw(t, "top")
	tool.Overtravel = rapid.SampledFrom([]float64{0, 2}).Draw(t, "overtravel")
	return tool
}

// randomSeats are the middles of some straight stretches of wall.
func randomSeats(t *rapid.T, wall geom.Region) []geom.Path {
	var out []geom.Path
	for _, p := range wall {
		for i := range p.Edges() {
			e := p.Edge(i)
			if e.Straight() && e.Length() > 8 && rapid.IntRange(0, 2).Draw(t, "seat") == 0 {
				k := geom.Path{V: []geom.Vertex{{Point: e.At(0.2)}, {Point: e.At(0.8)}}}
				if rapid.Bool().Draw(t, "turned") {
					k = k.Reverse()
				}
				out = append(out, k)
			}
		}
	}
	return out
}

// leadOnSeat is a place inside a seat at which the finishing pass comes to the wall,
// leaves it or turns.
func (s *sim) leadOnSeat(p *Program, job int, bottom float64) (orb.Point, bool) {
	rho := s.tool.Diameter / 2
	at := func(m *gcode.Move, f float64) (orb.Point, orb.Point) {
		e := planar(m)[0]
		return e.At(f), e.Direction(f)
	}
	finish := false
	for i := 1; i < len(s.moves); i++ {
		if n := p.Notes[i]; n != "" {
			finish = strings.Contains(n, "finish")
		}
		a, b := &s.moves[i-1], &s.moves[i]
		if !finish || !b.Cuts() || int(b.Job) != job || s.z(b, 0) > bottom+1e-9 && s.z(b, 1) > bottom+1e-9 {
			continue
		}
		q, u := at(b, 0)
		_, v := at(a, 1)
		w := s.walls[job].Nearest(q)
		if w.Dist > rho+1e-7 || u[0]*v[0]+u[1]*v[1] > 0.999 {
			continue
		}
		for _, k := range s.jobs[job].Keep {
			if n := k.Nearest(w.At); n.Dist < 1e-6 && distance(n.At, k.Start()) > before && distance(n.At, k.End()) > before {
				return q, true
			}
		}
	}
	return orb.Point{}, false
}

// requireCleared looks at the waste within each inside wall: all of it must be gone,
// but where a skin holds it only what lies within one mill of the wall.
func (s *sim) requireCleared(t *rapid.T, bottom float64) {
	for i, j := range s.jobs {
		for _, w := range j.Wall {
			if w.Area() > 0 {
				continue
			}
			b := w.Bound()
			for range 60 {
				q := orb.Point{
					b.Min[0] + (b.Max[0]-b.Min[0])*rapid.Float64Range(0, 1).Draw(t, "px"),
					b.Min[1] + (b.Max[1]-b.Min[1])*rapid.Float64Range(0, 1).Draw(t, "py"),
				}
				if w.Winding(q) == 0 {
					continue
				}
				d := s.dist(i, q)
				if d > 1e-3 && (d < s.tool.Diameter || s.tool.Hold != Skin) {
					require.True(t, s.wasCut(len(s.moves), q, bottom, s.tool.Diameter/2), "%v still stands, %.3f from the wall", q, d)
				}
			}
		}
	}
}

// TestRandomPlates plans random plates and follows every program: nothing gouged,
// nothing left but tabs, no plunge, no low rapid.
func TestRandomPlates(t *testing.T) {
	planned, refused := 0, map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom([]float64{2, 3.175, 6}).Draw(t, "mill")
		j := randomPlate(t, d)
		tool := randomTool(t, d)
		if rapid.Bool().Draw(t, "seats") {
			j.Keep = randomSeats(t, j.Wall)
		}
		jobs := []Job{j}
		if rapid.IntRange(0, 3).Draw(t, "second") == 0 {
			k := window()
			k.Wall, k.Drill = k.Wall.Move(geom.Shift(150, 0)), geom.MoveAll(k.Drill, geom.Shift(150, 0))
			k.Thick, k.Drill = j.Thick, []geom.Path{geom.Circle(orb.Point{180, 30}, d)}
			jobs = append(jobs, k)
		}
		p, err := Plan(jobs, tool)
		if err != nil {
			refused[err.Error()]++
			return
		}
		planned++
		s := newSim(p, jobs, tool)
		s.tol = 1e-6 // a groove of exactly the mill's width counts as passed: geom.Tol
		require.Empty(t, s.run())
		bottom := -tool.Through
		if tool.Hold == Skin {
			bottom = tool.Skin
		}
		tabs := 0
		for i := range jobs {
			for _, b := range s.left(i, bottom, 1e-5, 0.4) {
				tabs++
				require.LessOrEqual(t, b.s1-b.s0, tool.TabWidth+tool.Diameter)
			}
		}
		require.Equal(t, len(p.Tabs), tabs)
		for _, x := range p.Tabs {
			for f := 0.0; f <= 1; f += 0.02 {
				require.Greater(t, geom.Nearest(jobs[x.Job].Keep, x.Wall.Point(x.Wall.AtLength(f*x.Wall.Length()))).Dist, d)
			}
		}
		if q, bad := s.leadOnSeat(p, 0, bottom); bad {
			t.Fatalf("a lead on a seat at %v", q)
		}
		s.requireCleared(t, bottom)
	})
	if os.Getenv("ROUTE_WHY") != "" {
		var why []string
		for k, n := range refused {
			why = append(why, fmt.Sprintf("%d × %s", n, k))
		}
		sort.Strings(why)
		for _, l := range why {
			t.Log(l)
		}
	}
	t.Logf("%d planned", planned)
}
