package proof

import (
	"math"

	"github.com/paulmach/orb"
)

// leftovers finds wall that is not cut through, and the tabs.
func (h *holder) leftovers(s *solid) {
	t := &trimmer{s: s, radius: h.mill / 2}
	var cs []curve
	cs, t.moves = h.throughCuts(h.cuts)
	t.through = newField(cs)
	t.scan = scan{c: cs, left: budget}
	w := peak{d: math.Inf(-1), stop: math.Inf(1)}
	for i := range s.loops {
		spans, length := t.spans(i, t.radius+tabAt)
		tabs := runs(spans, length)
		if len(tabs) == 1 && tabs[0].whole {
			h.uncut(t, i, &w)
			continue
		}
		for k := range tabs {
			t.widen(i, &tabs[k], length)
		}
		h.tabs(t, i, tabs, length)
		one := peak{d: math.Inf(-1), stop: math.Inf(1)}
		t.rest(spans, tabs, length, &one)
		w.see(one.d, one.at)
		if left := one.d - t.radius; left > h.part.Rules.Limit {
			h.find(h.moveAt(t, one.at), LeftOver, "%.4f is left on the wall at %s; want at most %.4g", left, place(one.at), h.part.Rules.Limit)
		}
	}
	h.waste(t)
	if math.IsInf(w.d, -1) {
		return // all of it is tabs
	}
	h.rep.Leftover = Worst{Size: w.d - h.mill/2, At: w.at}
	if i := h.moveAt(t, w.at); i >= 0 {
		h.rep.Leftover.Block = h.moves[i].Block
	}
}

// throughCuts are the ways of the cuts that are wholly through the sheet, and the
// move of each.
func (h *holder) throughCuts(cuts []stretch) (cs []curve, moves []int32) {
	for n := range cuts {
		c := &cuts[n]
		if c.rapid || !c.live {
			continue
		}
		if o, ok := c.below(h.under - c.fuzz); ok {
			cs = append(cs, o.curve)
			moves = append(moves, c.move)
		}
	}
	return cs, moves
}

// uncut reports a loop that no through-cut comes near.
func (h *holder) uncut(t *trimmer, i int, w *peak) {
	l := &t.s.loops[i]
	one := peak{d: math.Inf(-1), stop: math.Inf(1), at: l.path.Start()}
	for k := l.from; k < l.to; k++ {
		t.scan.over(t.through, &t.s.all[k], &one)
	}
	if math.IsInf(one.d, 1) { // nothing at all is cut through
		b := l.path.Bound()
		one.d = t.radius + gap(b.Min, b.Max)
	}
	w.see(one.d, one.at)
	h.find(h.moveAt(t, one.at), Uncut, "the whole wall through %s is not cut through: %.4f is left", place(one.at), one.d-t.radius)
}

// moveAt is the move whose through-cut is nearest to q; -1 without one.
func (h *holder) moveAt(t *trimmer, q orb.Point) int {
	_, k := t.through.distance(q)
	if k < 0 {
		return -1
	}
	return int(t.moves[k])
}
