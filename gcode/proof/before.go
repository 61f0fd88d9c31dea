package proof

// before is what an earlier program has cut of the sheet. Where the axes had play
// the mill may have run half of it beside its way, to either side; [holder.layers]
// takes its kerf as so much narrower.
func (h *holder) before() []stretch {
	var cuts, buf []stretch
	for i := range h.part.Before {
		m := &h.part.Before[i]
		if sound(m) && m.Moves() {
			cuts, buf = h.part.inSheet(cuts, buf, m, i)
		}
	}
	return cuts
}
