package gcode

import "math"

// A Drive is how a machine speeds up.
type Drive struct {
	Rapid  float64 // mm/min, of G0
	Accel  float64 // mm/s², along the path
	Corner float64 // mm: by how much a corner may be cut at speed, for the model below
}

// SmallDrive is a small gantry where nothing better is stated: common practice,
// no source; 0.01 mm is the preset of grbl's documentation.
var SmallDrive = Drive{Rapid: 3000, Accel: 250, Corner: 0.01}

// Seconds is the time the moves take, see [Clock].
func Seconds(ms []Move, d Drive) float64 {
	c := NewClock(d)
	c.expect(len(ms))
	for i := range ms {
		c.Add(&ms[i])
	}
	return c.Seconds()
}

// A Clock adds up the time of moves as they come.
//
// Each move speeds up and slows down evenly (a trapezoid). Where two moves meet
// the speed is at most that at which a circle rounding the corner by
// [Drive.Corner] would need no more than the acceleration: v² = a·δ·s/(1 - s),
// s the sine of half the angle between them (the junction rule of grbl's
// documentation). Along an arc of radius r the speed is at most √(a·r). A dwell
// or a pause, and a turning back, are full stops. Pauses take no time.
//
// It looks ahead by at least 512 moves; a controller with less memory is slower.
type Clock struct {
	d     Drive
	total float64
	segs  []segment
	dir   [3]float64 // unit vector at the end of the last move
	speed float64    // mm²/s², square of the speed at the start of segs
}

// segment is one move waiting for its time.
type segment struct {
	length float64 // mm
	top    float64 // mm/s, its greatest speed
	limit  float64 // mm²/s², greatest square of the speed where it begins, by the corner
	entry  float64 // mm²/s², the same so that the rest can stop in time
}

const (
	clockHolds = 4096 // moves
	clockKeeps = 512
)

// NewClock starts at rest. Values of d that are not above zero are taken from
// [SmallDrive].
func NewClock(d Drive) *Clock {
	if !(d.Rapid > 0) {
		d.Rapid = SmallDrive.Rapid
	}
	if !(d.Accel > 0) {
		d.Accel = SmallDrive.Accel
	}
	if !(d.Corner > 0) {
		d.Corner = SmallDrive.Corner
	}
	return &Clock{d: d}
}

// expect makes room for a number of moves that may come.
func (c *Clock) expect(moves int) { c.segs = make([]segment, 0, min(moves, clockHolds)) }

// Add takes the next move.
func (c *Clock) Add(m *Move) { c.add(m, m.Length()) }

func (c *Clock) add(m *Move, length float64) {
	if !m.Moves() {
		c.run(len(c.segs))
		c.dir = [3]float64{}
		if m.Op == Dwell {
			c.total += m.Feed
		}
		return
	}
	top := c.d.Rapid / 60
	if m.Cuts() {
		top = m.Feed / 60
	}
	if !(length > 0) || !(top > 0) {
		return // no feed: told elsewhere
	}
	var first, last [3]float64
	if m.Arc() {
		a, b, h := m.Axes()
		turn := 1.0
		if m.Op == CW {
			turn = -1
		}
		r := m.Radius()
		up := (m.To[h] - m.From[h]) / length
		flat := turn * math.Sqrt(max(0, 1-up*up)) / r
		first[a], first[b], first[h] = -(m.From[b]-m.Centre[1])*flat, (m.From[a]-m.Centre[0])*flat, up
		last[a], last[b], last[h] = -(m.To[b]-m.Centre[1])*flat, (m.To[a]-m.Centre[0])*flat, up
		top = min(top, math.Sqrt(c.d.Accel*r))
	} else {
		for k := range 3 {
			first[k] = (m.To[k] - m.From[k]) / length
		}
		last = first
	}
	limit := 0.0
	if n := len(c.segs); n > 0 {
		limit = min(c.corner(first), top*top, c.segs[n-1].top*c.segs[n-1].top)
	}
	c.dir = last
	c.segs = append(c.segs, segment{length: length, top: top, limit: limit})
	if len(c.segs) == clockHolds {
		c.run(clockHolds - clockKeeps)
	}
}

// corner is the greatest square of the speed at which the way may turn from the
// last move's direction to the next one's.
func (c *Clock) corner(next [3]float64) float64 {
	cos := -(c.dir[0]*next[0] + c.dir[1]*next[1] + c.dir[2]*next[2])
	switch {
	case cos > 0.999999:
		return 0
	case cos < -0.999999:
		return math.Inf(1)
	}
	s := math.Sqrt((1 - cos) / 2)
	return c.d.Accel * c.d.Corner * s / (1 - s)
}

// run settles the time of the first n waiting moves, as if the last one waiting
// ended at rest.
func (c *Clock) run(n int) {
	s := c.segs
	next := 0.0
	for i := len(s) - 1; i >= 0; i-- {
		next = min(s[i].limit, next+2*c.d.Accel*s[i].length)
		s[i].entry = next
	}
	v2 := c.speed
	v := math.Sqrt(v2)
	for i := range n {
		out2 := 0.0
		if i+1 < len(s) {
			out2 = min(s[i+1].entry, v2+2*c.d.Accel*s[i].length)
		}
		out := math.Sqrt(out2)
		c.total += c.trapezoid(&s[i], v, out)
		v, v2 = out, out2
	}
	if n == len(s) {
		v2 = 0
	} else {
		s[n].limit = v2 // fixed: what is settled is not changed
	}
	c.speed = v2
	c.segs = s[:copy(s, s[n:])]
}

// trapezoid is the time of a move that starts at v0 and ends at v1.
func (c *Clock) trapezoid(s *segment, v0, v1 float64) float64 {
	a := c.d.Accel
	mean := (v0*v0 + v1*v1) / 2
	if top := s.top * s.top; mean+a*s.length > top {
		// It gets to its greatest speed and keeps it for a while.
		return (2*s.top-v0-v1)/a + (s.length-(top-mean)/a)/s.top
	}
	return (2*math.Sqrt(mean+a*s.length) - v0 - v1) / a
}

// Seconds so far, standing still at the end.
func (c *Clock) Seconds() float64 {
	c.run(len(c.segs))
	return c.total
}
