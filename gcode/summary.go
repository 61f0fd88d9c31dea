package gcode

import "math"

// A Summary is what a program does, in figures.
type Summary struct {
	Lo, Hi     [3]float64 // mm, the box around the feed moves (G1, G2, G3); see Cuts
	Cuts       int        // feed moves
	Rapids     int
	Pauses     int
	Cut, Rapid float64    // mm, length of feed moves and of rapids
	Seconds    float64    // see Clock
	Units      string     // that the program states: "mm", "in", "mm and in", "" for neither; set by Check
	Feed       [2]float64 // mm/min, least and greatest
	RPM        [2]float64 // least and greatest while feeding with the spindle on
}

// Deepest is the lowest Z of the feed moves in mm, in the program's coordinates.
func (s *Summary) Deepest() float64 { return s.Lo[2] }

// tally makes a summary as moves come.
type tally struct {
	s     Summary
	clock *Clock
}

func newTally(d Drive) *tally {
	t := &tally{clock: NewClock(d)}
	for k := range 3 {
		t.s.Lo[k], t.s.Hi[k] = math.Inf(1), math.Inf(-1)
	}
	t.s.Feed[0], t.s.RPM[0] = math.Inf(1), math.Inf(1)
	return t
}

func (t *tally) add(m *Move) {
	s := &t.s
	length := m.Length()
	t.clock.add(m, length)
	switch m.Op {
	case Rapid:
		s.Rapids++
		s.Rapid += length
		return
	case Pause:
		s.Pauses++
		return
	case Dwell:
		return
	}
	s.Cuts++
	s.Cut += length
	s.Feed[0], s.Feed[1] = min(s.Feed[0], m.Feed), max(s.Feed[1], m.Feed)
	if m.RPM != 0 {
		rpm := math.Abs(m.RPM)
		s.RPM[0], s.RPM[1] = min(s.RPM[0], rpm), max(s.RPM[1], rpm)
	}
	for k := range 3 {
		s.Lo[k] = min(s.Lo[k], m.From[k], m.To[k])
		s.Hi[k] = max(s.Hi[k], m.From[k], m.To[k])
	}
	if m.Arc() {
		a, b, _ := m.Axes()
		r := m.Radius()
		c := m.Centre
		if c[0]-r < s.Lo[a] || c[0]+r > s.Hi[a] || c[1]-r < s.Lo[b] || c[1]+r > s.Hi[b] {
			lo, hi := m.Bound()
			for k := range 3 {
				s.Lo[k], s.Hi[k] = min(s.Lo[k], lo[k]), max(s.Hi[k], hi[k])
			}
		}
	}
}

func (t *tally) done() Summary {
	s := t.s
	s.Seconds = t.clock.Seconds()
	if s.Cuts == 0 {
		s.Lo, s.Hi, s.Feed[0] = [3]float64{}, [3]float64{}, 0
	}
	if math.IsInf(s.RPM[0], 1) {
		s.RPM[0] = 0
	}
	return s
}
