package proof

// order checks that nothing inside an outline is cut once the outline is: the
// first through-cut along an outer wall closes what lies in it, bores, holes and
// plates alike.
func (h *holder) order(s *solid, mark []bool) {
	if !h.part.Rules.Own || h.met == nil {
		return
	}
	closed := make([]bool, len(s.loops))
	told, stopped := -1, false
	for n := range h.cuts {
		c, m := &h.cuts[n], &h.met[n]
		if mark[n] || m.loop < 0 {
			continue
		}
		if -m.deep > 2*h.mill {
			continue // in the waste, of no wall
		}
		first := s.loops[m.loop].parent
		if m.over && m.deep+h.mill/2 > tabSlack && s.loops[m.loop].outer {
			first = m.loop // a pocket of the plate itself
		}
		for o := first; o >= 0; o = s.loops[o].parent {
			if closed[o] && told != int(c.move) {
				told = int(c.move)
				h.find(told, Loose, "cuts at %s inside an outline that is already cut through; want it before", place(c.A))
			}
		}
		if l := &s.loops[m.loop]; l.outer && !c.rapid && c.live && c.z0 <= h.under && c.z1 <= h.under {
			if h.part.Rules.Hold == ByScrews && !stopped && !h.stopped(int(c.move), true) {
				h.find(int(c.move), NoPause, "cuts an outline through after %d pauses with the spindle at rest; want one to drive the screws", h.stops[c.move].paused)
			}
			stopped, closed[m.loop] = true, true
		}
	}
}

// stops counts, for every move, the pauses at a spindle at rest before it, and how
// often the spindle has started.
type stops struct{ paused, started int }

// stopped tells whether the operator has been called as often as needed before a
// move: once for every start of a spindle that is started by hand, and once to
// drive the screws, if it is time for that.
func (h *holder) stopped(move int, screws bool) bool {
	need := 0
	if h.part.Rules.Dial {
		need = h.stops[move].started
	}
	if screws && h.part.Rules.Hold == ByScrews {
		need++
	}
	return h.stops[move].paused >= need
}
