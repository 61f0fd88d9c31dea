package proof

import "math"

// tabs lists the tabs of a loop and checks them.
func (h *holder) tabs(t *trimmer, i int, tabs []run, length float64) {
	r := &h.part.Rules
	l := &t.s.loops[i]
	for k := range tabs {
		u := &tabs[k]
		at := t.s.point(i, (u.s0+u.s1)/2, length)
		move := h.moveAt(t, at)
		w := Worst{Size: u.s1 - u.s0, At: at}
		if move >= 0 {
			w.Block = h.moves[move].Block
		}
		h.rep.Tabs = append(h.rep.Tabs, w)
		if l.bore {
			h.find(move, BoreShut, "the bore is not cut through over %.4g mm at %s; want it cut all round", w.Size, place(at))
			continue
		}
		longest := r.Tab + h.mill
		if r.Hold == ByScrews || r.Hold == BySkin || r.Hold == Held {
			longest = 0
		}
		if w.Size > longest+tabSlack {
			h.find(move, TabLong, "%.4f of wall is not cut through at %s; want at most %.4g", w.Size, place(at), longest)
		}
		h.seatNear(t, i, u, length, move)
		h.bareTabs(t, i, u, length, move)
		h.tabHeight(t, i, u, length, move)
	}
	if l.outer && r.Hold == ByTabs && len(tabs) < 2 {
		h.find(h.moveAt(t, l.path.Start()), TabFew, "%d tabs on the outer wall through %s; want at least 2", len(tabs), place(l.path.Start()))
	}
}

// tabSlack is how much longer than stated a tab may be: rounded words, and walls
// that bend beside it.
const tabSlack = 0.01

// seatNear checks that the tab keeps a mill's diameter from every seat.
func (h *holder) seatNear(t *trimmer, i int, u *run, length float64, move int) {
	if len(h.part.Keep) == 0 {
		return
	}
	least := math.Inf(1)
	for _, c := range t.pieces(i, u, length) {
		for _, p := range h.part.Keep {
			for e := range p.Edges() {
				for _, f := range curves(nil, p.Edge(e)) {
					least = min(least, nearest(&c, &f))
				}
			}
		}
	}
	if least < h.mill-tabSlack {
		h.find(move, TabSeat, "tab %.4f from a seat at %s; want the mill's diameter, %.4g",
			least, place(t.s.point(i, (u.s0+u.s1)/2, length)), h.mill)
	}
}

// pieces are the curves of the wall under a run.
func (t *trimmer) pieces(i int, u *run, length float64) []curve {
	var out []curve
	l := &t.s.loops[i]
	for _, shift := range [3]float64{-length, 0, length} {
		at := shift
		for k := l.from; k < l.to; k++ {
			c := &t.s.all[k]
			n := c.l
			a, b := max(u.s0, at), min(u.s1, at+n)
			if a < b {
				out = append(out, c.between((a-at)/n, (b-at)/n))
			}
			at += n
		}
	}
	return out
}

// tabHeight checks that what stands of the tab is high enough: the deepest cut
// that reaches the middle of the uncut wall tells.
func (h *holder) tabHeight(t *trimmer, i int, u *run, length float64, move int) {
	r := &h.part.Rules
	if r.TabHigh == 0 || h.part.Thick == 0 {
		return
	}
	q := t.s.point(i, (u.s0+u.s1)/2, length)
	low := h.part.Top
	for n := range h.cuts {
		s := &h.cuts[n]
		if s.low() >= low || s.dist(q) > t.radius+tabSlack {
			continue
		}
		low = s.low()
	}
	if high := low - (h.part.Top - h.part.Thick); high < r.TabHigh-tabSlack {
		h.find(move, TabWeak, "tab %.4f high at %s; want %.4g", high, place(q), r.TabHigh)
	}
}
