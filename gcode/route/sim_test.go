package route

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"blockwright/gcode"
	"blockwright/geom"
)

// A sim follows a program with a mill and remembers what it cut. It shares no
// code with the planner but geom's distances.
type sim struct {
	jobs   []Job
	tool   Tool
	thick  float64
	moves  []gcode.Move
	zShift float64 // added to a program's z to have 0 at the spoilboard
	tol    float64 // mm of gouge that counts as none
	walls  []*geom.Index
	round  float64 // mm by which words were rounded
}

func newSim(p *Program, jobs []Job, t Tool) *sim {
	s := &sim{jobs: jobs, tool: t, thick: jobs[0].Thick, moves: p.Moves, tol: 1e-9}
	for _, j := range jobs {
		s.walls = append(s.walls, geom.NewIndex(j.Wall...))
	}
	if t.ZeroTop {
		s.zShift = s.thick
	}
	return s
}

func (s *sim) z(m *gcode.Move, f float64) float64 {
	return m.From[2] + f*(m.To[2]-m.From[2]) + s.zShift
}

// edges of a move in the plane; a full circle has two.
func planar(m *gcode.Move) []geom.Edge {
	a, b := orb.Point{m.From[0], m.From[1]}, orb.Point{m.To[0], m.To[1]}
	if m.Op != gcode.CW && m.Op != gcode.CCW {
		return []geom.Edge{{A: a, B: b}}
	}
	a0, a1 := math.Atan2(a[1]-m.Centre[1], a[0]-m.Centre[0]), math.Atan2(b[1]-m.Centre[1], b[0]-m.Centre[0])
	turn := a1 - a0
	if m.Op == gcode.CCW {
		for turn <= 1e-9 {
			turn += 2 * math.Pi
		}
	} else {
		for turn >= -1e-9 {
			turn -= 2 * math.Pi
		}
	}
	if math.Abs(turn) <= math.Pi+1e-9 {
		return []geom.Edge{{A: a, B: b, Bulge: math.Tan(turn / 4)}}
	}
	r := math.Hypot(a[0]-m.Centre[0], a[1]-m.Centre[1])
	mid := orb.Point{m.Centre[0] + r*math.Cos(a0+turn/2), m.Centre[1] + r*math.Sin(a0+turn/2)}
	return []geom.Edge{{A: a, B: mid, Bulge: math.Tan(turn / 8)}, {A: mid, B: b, Bulge: math.Tan(turn / 8)}}
}

func way(m *gcode.Move) float64 {
	l := 0.0
	for _, e := range planar(m) {
		l += e.Length()
	}
	return l
}

func cutting(m *gcode.Move) bool {
	return m.Op == gcode.Line || m.Op == gcode.CW || m.Op == gcode.CCW
}

// A fault is what the sim found, "" if nothing.
func (s *sim) run() []string {
	var out []string
	bad := func(i int, f string, a ...any) {
		if len(out) < 20 {
			out = append(out, fmt.Sprintf("move %d %+v: ", i, s.moves[i])+fmt.Sprintf(f, a...))
		}
	}
	rho := s.tool.Diameter / 2
	slope := math.Tan(s.tool.RampAngle*math.Pi/180) + 1e-12
	low := 1e-9 + s.round
	for i := range s.moves {
		m := &s.moves[i]
		if i > 0 && m.From != s.moves[i-1].To {
			bad(i, "starts elsewhere than move %d ended", i-1)
		}
		z0, z1 := s.z(m, 0), s.z(m, 1)
		l := way(m)
		if math.IsNaN(l + z0 + z1) {
			bad(i, "is no place")
		}
		switch {
		case i == 0:
			if m.Op != gcode.Rapid || l != 0 || m.RPM != 0 {
				bad(i, "first motion is not Z up")
			}
			continue
		case m.Op == gcode.Rapid:
			if l > 0 && (z0 < s.thick+s.tool.SafeZ-low || z1 < s.thick+s.tool.SafeZ-low) {
				bad(i, "XY rapid below safe height")
			}
			if z1 < z0 && z1 < s.thick+1-1e-9 {
				bad(i, "Z rapid ends %.3f above the sheet", z1-s.thick)
			}
			if z1 > z0 && z1 < s.thick+1 {
				bad(i, "Z rapid ends in the sheet")
			}
		case m.Op == gcode.Pause:
			if m.RPM != 0 || z0 < s.thick+s.tool.SafeZ-low {
				bad(i, "pause with the spindle on or low")
			}
		default:
			if m.RPM != s.tool.RPM || m.Feed <= 0 || m.Feed > s.tool.Feed+0.1 {
				bad(i, "feed or spindle")
			}
			if fall := z0 - z1; fall > 0 {
				t := math.Hypot(l, fall)
				if m.Feed*fall/t > s.tool.Plunge*1.002 {
					bad(i, "sinks faster than the plunge feed")
				}
			}
		}
		if m.Op != gcode.Rapid && m.RPM == 0 && m.Op != gcode.Pause {
			bad(i, "spindle off")
		}
		if min := math.Min(z0, z1); min < -s.tool.Through-low {
			bad(i, "deeper than the through-cut")
		}
		if math.Min(z0, z1) < s.thick-low && m.Op != gcode.Pause {
			if at, g := s.gouge(m); g > s.tol {
				bad(i, "gouges %.3g at %v", g, at)
			}
		}
		if z1 < z0 && z1 < s.thick-low && cutting(m) && (z0-z1) > slope*l {
			if at, ok := s.open(i, z1, rho); !ok {
				bad(i, "falls steeply into uncut sheet at %v", at)
			}
		}
	}
	return out
}

// gouge is the most the mill enters what must stay during the move.
func (s *sim) gouge(m *gcode.Move) (at orb.Point, worst float64) {
	rho := s.tool.Diameter / 2
	j := &s.jobs[m.Job]
	worst = math.Inf(-1)
	for _, e := range planar(m) {
		n := 2 + int(e.Length()/0.3)
		for k := 0; k <= n; k++ {
			q := e.At(float64(k) / float64(n))
			var g float64
			if len(j.Drill) > 0 && s.walls[m.Job].Winding(q) > 0 { // in the plate: must be in a bore
				g = math.Inf(1)
				for _, d := range j.Drill {
					c, r, _ := asCircle(d)
					g = math.Min(g, math.Hypot(q[0]-c[0], q[1]-c[1])+rho-r)
				}
			} else {
				g = rho - s.dist(int(m.Job), q)
			}
			for _, p := range j.Pockets {
				if floor := s.thick - p.Depth; s.z(m, 0) >= floor-1e-9-s.round && s.z(m, 1) >= floor-1e-9-s.round {
					g = math.Min(g, rho+p.Floor.SignedDist(q))
				}
			}
			for i := range s.jobs {
				if i != int(m.Job) {
					g = math.Max(g, rho-s.dist(i, q))
				}
			}
			if g > worst {
				at, worst = q, g
			}
		}
	}
	return at, worst
}

// dist is the distance to a job's wall, negative inside.
func (s *sim) dist(job int, q orb.Point) float64 {
	d := s.walls[job].Nearest(q).Dist
	if s.walls[job].Winding(q) > 0 {
		return -d
	}
	return d
}

// open tells whether the mill's whole disc at the end of move i was cut to depth
// z by the moves before.
func (s *sim) open(i int, z, rho float64) (orb.Point, bool) {
	c := orb.Point{s.moves[i].To[0], s.moves[i].To[1]}
	for _, f := range []float64{1, 0.7, 0.3, 0} {
		for k := range 180 {
			sn, cs := math.Sincos(float64(k) * math.Pi / 90)
			q := orb.Point{c[0] + f*(rho-1e-3)*cs, c[1] + f*(rho-1e-3)*sn}
			if !s.wasCut(i, q, z, rho) {
				return q, false
			}
		}
	}
	return c, true
}

// wasCut tells whether a point was cut to depth z before move n: by a level
// move, or a stretch of a ramp below z.
func (s *sim) wasCut(n int, q orb.Point, z, rho float64) bool {
	for i := n - 1; i >= 0; i-- {
		m := &s.moves[i]
		if !cutting(m) || s.z(m, 1) > z+1e-9+s.round || s.z(m, 0) > z+1e-9+s.round {
			continue
		}
		for _, e := range planar(m) {
			if math.Abs(e.A[0]-q[0]) > rho+e.Length() || math.Abs(e.A[1]-q[1]) > rho+e.Length() {
				continue
			}
			if _, d, _ := e.Nearest(q); d <= rho+1e-9+s.round {
				return true
			}
		}
	}
	return false
}

// wrongWay is a place of a job's wall that was last touched at full depth by a
// move in the other direction than stated; false if there is none.
func (s *sim) wrongWay(job int, bottom float64) (orb.Point, bool) {
	rho := s.tool.Diameter / 2
	for _, p := range s.jobs[job].Wall {
		n := int(p.Length() / 0.5)
		for k := range n {
			at := p.AtLength(p.Length() * (float64(k) + 0.37) / float64(n))
			q, u := p.Point(at), p.Edge(at.Edge).Direction(at.T) // the plate is on the left
			for i := len(s.moves) - 1; i >= 0; i-- {
				m := &s.moves[i]
				if !cutting(m) || m.From == m.To || s.z(m, 0) > bottom+1e-9 || s.z(m, 1) > bottom+1e-9 {
					continue
				}
				e := planar(m)[0]
				_, d, f := e.Nearest(q)
				if d > rho+1e-7 || f < 1e-6 || f > 1-1e-6 {
					continue
				}
				v := e.Direction(f)
				along := u[0]*v[0] + u[1]*v[1]
				if math.Abs(along) < 0.9 { // a step to or from the wall
					continue
				}
				if (along < 0) != s.jobs[job].Climb {
					return q, true
				}
				break
			}
		}
	}
	return orb.Point{}, false
}

// A rest is a stretch of wall that the mill did not cut through.
type rest struct {
	path   int
	s0, s1 float64
	worst  float64
}

// left are the stretches of a job's wall that moves at full depth miss by more
// than tol.
func (s *sim) left(job int, bottom, tol, step float64) []rest {
	var edges []geom.Edge
	for i := range s.moves {
		m := &s.moves[i]
		if cutting(m) && s.z(m, 0) <= bottom+1e-9+s.round && s.z(m, 1) <= bottom+1e-9+s.round {
			edges = append(edges, planar(m)...)
		}
	}
	boxes := make([]orb.Bound, len(edges))
	rho := s.tool.Diameter / 2
	for i, e := range edges {
		boxes[i] = e.Bound().Pad(rho + 0.5)
	}
	over := func(q orb.Point) float64 {
		d := math.Inf(1)
		for i, e := range edges {
			if boxes[i].Contains(q) {
				if _, x, _ := e.Nearest(q); x < d {
					d = x
				}
			}
		}
		return d - rho
	}
	var out []rest
	for w, p := range s.jobs[job].Wall {
		l := p.Length()
		miss := func(at float64) bool { return over(p.Point(p.AtLength(math.Mod(at, l)))) > tol }
		edge := func(a, b float64) float64 { // where miss changes between a and b
			was := miss(a)
			for range 40 {
				if m := (a + b) / 2; miss(m) == was {
					a = m
				} else {
					b = m
				}
			}
			return b
		}
		n := int(math.Ceil(l / step))
		at := func(k int) float64 { return l * float64(k) / float64(n) }
		first := 0
		for first < n && miss(at(first)) {
			first++
		}
		if first == n {
			out = append(out, rest{w, 0, l, math.Inf(1)})
			continue
		}
		open := false
		for k := first + 1; k <= first+n; k++ {
			m := miss(at(k))
			switch {
			case m && !open:
				out = append(out, rest{w, edge(at(k-1), at(k)), 0, 0})
			case !m && open:
				out[len(out)-1].s1 = edge(at(k-1), at(k))
			}
			if m {
				b := &out[len(out)-1]
				b.worst = math.Max(b.worst, over(p.Point(p.AtLength(math.Mod(at(k), l)))))
			}
			open = m
		}
	}
	return out
}
