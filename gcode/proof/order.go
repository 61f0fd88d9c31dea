package proof

import "blockwright/gcode"

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
		for o := s.loops[m.loop].parent; o >= 0; o = s.loops[o].parent {
			if closed[o] && told != int(c.move) {
				told = int(c.move)
				h.find(told, Loose, "cuts at %s inside an outline that is already cut through; want it before", place(c.A))
			}
		}
		if l := &s.loops[m.loop]; l.outer && !c.rapid && c.live && c.z0 <= h.under && c.z1 <= h.under {
			if h.part.Rules.Hold == ByScrews && !stopped && h.stopBefore(int(c.move)) < 0 {
				h.find(int(c.move), NoPause, "cuts an outline through and has not stopped before; want a pause to drive the screws")
			}
			stopped, closed[m.loop] = true, true
		}
	}
}

// stopBefore is the last pause with the spindle at rest before a move; -1: none.
func (h *holder) stopBefore(move int) int {
	for i := move - 1; i >= 0; i-- {
		if m := &h.moves[i]; m.Op == gcode.Pause && m.RPM == 0 {
			return i
		}
	}
	return -1
}
