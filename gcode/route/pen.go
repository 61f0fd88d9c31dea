package route

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/gcode"
	"blockwright/geom"
)

// A pen appends moves and knows where the mill's tip is. Its z is 0 at the
// spoilboard, whatever the program's zero.
type pen struct {
	tool  *Tool
	thick float64
	shift float64 // added to z in moves
	slope float64 // drop per mm of way, a little less than the ramp allows
	job   uint8
	at    orb.Point
	z     float64
	moves []gcode.Move
	notes map[int]string
}

// rounding is the most by which two printed Z words, five decimals of an inch or
// four of a millimetre, may change a drop, with a little to spare.
const rounding = 4e-4

func newPen(t *Tool, thick float64) *pen {
	p := &pen{tool: t, thick: thick, notes: map[int]string{}}
	if t.ZeroTop {
		p.shift = -thick
	}
	p.slope = 0.98 * math.Tan(t.RampAngle*math.Pi/180)
	return p
}

func (p *pen) safe() float64 { return p.thick + p.tool.SafeZ }

// start lifts the mill from wherever it is, the spindle still off.
func (p *pen) start() {
	p.moves = append(p.moves, gcode.Move{Op: gcode.Rapid, To: [3]float64{0, 0, p.safe() + p.shift}})
	p.at, p.z = orb.Point{}, p.safe()
}

// note puts a comment before the next move.
func (p *pen) note(s string) {
	if old := p.notes[len(p.moves)]; old != "" {
		s = old + "; " + s
	}
	p.notes[len(p.moves)] = s
}

func (p *pen) add(op uint8, to orb.Point, z, feed float64, centre orb.Point) {
	p.moves = append(p.moves, gcode.Move{
		Op: op, Job: p.job, Centre: centre, Feed: feed, RPM: p.tool.RPM,
		From: [3]float64{p.at[0], p.at[1], p.z + p.shift},
		To:   [3]float64{to[0], to[1], z + p.shift},
	})
	p.at, p.z = to, z
}

// lift goes straight up to safe height.
func (p *pen) lift() {
	if p.z < p.safe() {
		p.add(gcode.Rapid, p.at, p.safe(), 0, orb.Point{})
	}
}

// goTo brings the mill to q at depth z over safe height. Between the sheet's top
// and z there must be nothing left to cut at q. A mill that stands over q
// already is only lowered.
func (p *pen) goTo(q orb.Point, z float64) {
	if distance(p.at, q) > tiny || p.z < z {
		p.lift()
		if distance(p.at, q) > tiny {
			p.add(gcode.Rapid, q, p.z, 0, orb.Point{})
		}
	}
	if high := math.Max(z, p.thick+above); p.z > high {
		p.add(gcode.Rapid, p.at, high, 0, orb.Point{})
	}
	p.sink(z)
}

// sink feeds straight down (or up) to z.
func (p *pen) sink(z float64) {
	if p.z != z {
		p.add(gcode.Line, p.at, z, p.tool.Plunge, orb.Point{})
	}
}

// lineTo feeds straight to q at the present depth.
func (p *pen) lineTo(q orb.Point) {
	if distance(p.at, q) > tiny {
		p.add(gcode.Line, q, p.z, p.tool.Feed, orb.Point{})
	}
}

// edge feeds along e, from its start, ending at depth z.
func (p *pen) edge(e geom.Edge, z float64) {
	feed := p.tool.Feed
	if fall := p.z - z; fall > 0 {
		feed = math.Min(feed, p.tool.Plunge*math.Hypot(e.Length(), fall)/fall)
	}
	if e.Straight() {
		p.add(gcode.Line, e.B, z, feed, orb.Point{})
		return
	}
	c, _ := e.Arc()
	op := gcode.CCW
	if e.Bulge < 0 {
		op = gcode.CW
	}
	p.add(op, e.B, z, feed, c)
}

// follow feeds along the open path at the present depth.
func (p *pen) follow(q geom.Path) {
	for i := range q.Edges() {
		p.edge(q.Edge(i), p.z)
	}
}

func distance(a, b orb.Point) float64 { return math.Hypot(b[0]-a[0], b[1]-a[1]) }

// along feeds from s0 to s1 mm along a loop given as an open run, at the present
// depth; round it as often as that takes.
func (p *pen) along(run geom.Path, s0, s1 float64) {
	l := run.Length()
	for s1-s0 > tiny {
		n := math.Floor(s0 / l)
		if s0 = s0 - n*l; l-s0 < tiny {
			s0 = 0
			n++
		}
		s1 -= n * l
		end := math.Min(s1, l)
		p.follow(run.Cut(s0, end))
		s0 = end
	}
}
