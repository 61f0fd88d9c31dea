package proof

// order checks that nothing inside an outline is cut once the outline is: the
// first through-cut along an outer wall closes what lies in it, bores, holes and
// plates alike.
func (h *holder) order(s *solid, mark []bool) {
	if !h.part.Rules.Own || h.met == nil {
		return
	}
	closed := make([]bool, len(s.loops))
	told := -1
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
			closed[m.loop] = true
		}
	}
}
