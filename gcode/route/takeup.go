package route

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/gcode"
	"blockwright/geom"
)

const (
	// still is the way back in mm that does not count as a turn of an axis: less
	// than words can say in inches, more than rounding makes.
	still = 1.5e-4
	// runUp is the way in mm on which an axis takes up its play in the air.
	runUp = 1.0
)

// TakeUp changes the program for axes that lose motion: when the X axis turns, the
// mill stands still for the first play[0] mm, and so in Y. Where an axis turns, the
// program then goes that much farther in a move of its own, and all that follows is
// shifted, so that the mill runs where it was planned.
//
// A mill whose axis last moved in the sense s stands s·play/2 behind the middle of
// its play. So the commanded place is the planned one and s·play/2 more. Arcs are
// parted where an axis turns on them. The first rapid comes from the lower left by
// a run-up of 1 mm in both axes, at safe height, so that both senses are known.
//
// Plays of 0 change nothing. The guarantee is that of a machine without play, but
// for ways back of less than 0.00015 mm. Derived here.
func (p *Program) TakeUp(play [2]float64) {
	if play == [2]float64{} {
		return
	}
	t := &taker{play: play, notes: map[int]string{}}
	for i := range p.Moves {
		if n, ok := p.Notes[i]; ok {
			t.notes[len(t.out)] = n
		}
		t.move(&p.Moves[i])
	}
	p.Moves, p.Notes = t.out, t.notes
}

// A taker copies moves and keeps the sense of both axes.
type taker struct {
	play  [2]float64
	sense [2]float64 // +1, -1; 0: not known yet
	far   [2]float64 // planned place farthest on in that sense
	at    [3]float64 // commanded
	out   []gcode.Move
	notes map[int]string
}

func (t *taker) shift(k int) float64 { return t.sense[k] * t.play[k] / 2 }

// put appends the move, planned as it is, at its commanded places.
func (t *taker) put(m gcode.Move) {
	to := m.To
	for k := range 2 {
		to[k] += t.shift(k)
		m.Centre[k] += t.shift(k)
	}
	m.From, m.To = t.at, to
	t.at = to
	t.out = append(t.out, m)
}

func (t *taker) move(m *gcode.Move) {
	if len(t.out) == 0 {
		t.at = m.From
	}
	switch {
	case !m.Moves():
		c := *m
		c.From, c.To = t.at, t.at
		t.out = append(t.out, c)
	case m.Arc():
		for _, part := range quarters(m) {
			t.turn(&part)
			t.put(part)
		}
	default:
		if t.sense == [2]float64{} && (m.From[0] != m.To[0] || m.From[1] != m.To[1]) {
			up := *m
			up.To[0], up.To[1] = m.To[0]-runUp, m.To[1]-runUp
			up.From, t.at = t.at, up.To
			t.out = append(t.out, up)
			t.sense, t.far = [2]float64{1, 1}, [2]float64{m.To[0], m.To[1]}
		} else {
			t.turn(m)
		}
		t.put(*m)
	}
}

// turn notes the senses of the move and, in a feed move, takes up the play of an
// axis that turns.
func (t *taker) turn(m *gcode.Move) {
	for k := range 2 {
		s := t.sense[k]
		if s*(m.To[k]-t.far[k]) >= -still {
			if s*(m.To[k]-t.far[k]) > 0 {
				t.far[k] = m.To[k]
			}
			continue
		}
		t.sense[k], t.far[k] = -s, m.To[k]
		if m.Cuts() && t.play[k] > 0 {
			to := t.at
			to[k] -= s * t.play[k]
			t.out = append(t.out, gcode.Move{Op: gcode.Line, From: t.at, To: to, Feed: m.Feed, RPM: m.RPM, Job: m.Job, Block: m.Block})
			t.at = to
		}
	}
}

// quarters are the parts of an arc on which neither axis turns.
func quarters(m *gcode.Move) []gcode.Move {
	sweep := m.Sweep()
	start := math.Atan2(m.From[1]-m.Centre[1], m.From[0]-m.Centre[0])
	r := m.Radius()
	var at []float64 // fractions of the sweep, ascending
	first, last := math.Min(start, start+sweep), math.Max(start, start+sweep)
	for q := math.Ceil(first / (math.Pi / 2)); q*math.Pi/2 <= last; q++ {
		f := (q*math.Pi/2 - start) / sweep
		if l := r * math.Abs(sweep); f*l > geom.Tol && (1-f)*l > geom.Tol {
			at = append(at, f)
		}
	}
	if sweep < 0 {
		for i, j := 0, len(at)-1; i < j; i, j = i+1, j-1 {
			at[i], at[j] = at[j], at[i]
		}
	}
	var out []gcode.Move
	from := m.From
	for _, f := range append(at, 1) {
		part := *m
		part.From, part.To, part.Centre = from, m.At(f), orb.Point(m.Centre)
		out = append(out, part)
		from = part.To
	}
	return out
}
