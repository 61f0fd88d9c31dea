package proof

import "math"

// marks is the field of the paths to engrave.
func (h *holder) marks() *field {
	var cs []curve
	for _, p := range h.part.Engrave {
		for e := range p.Edges() {
			cs = curves(cs, p.Edge(e))
		}
		if len(p.V) == 1 {
			cs = append(cs, line(p.V[0].Point, p.V[0].Point))
		}
	}
	return newField(cs)
}

// markings tells which cuts of a milling program engrave: shallow ones that stay
// on a path to engrave.
func (h *holder) markings() []bool {
	is := make([]bool, len(h.cuts))
	if len(h.part.Engrave) == 0 {
		return is
	}
	f := h.marks()
	s := scan{c: f.c, left: budget}
	for n := range h.cuts {
		c := &h.cuts[n]
		if c.low() < h.part.Top-h.part.Rules.Engrave-depthSlack {
			continue
		}
		s.arena = f.reach(s.arena[:0], c.box, h.part.Rules.Limit)
		is[n] = !s.beyond(&c.curve, s.arena, h.part.Rules.Limit)
	}
	return is
}

// engraving holds an engraving program against its paths: how far it strays from
// them is its gouge, how far they are from what is engraved its leftover.
func (h *holder) engraving() {
	f := h.marks()
	s := scan{c: f.c, left: budget}
	w := peak{d: math.Inf(-1), stop: math.Inf(1)}
	all := make([]bool, len(h.cuts))
	for n := range h.cuts {
		c := &h.cuts[n]
		all[n] = true
		i := int(c.move)
		if low := c.low(); low < h.floor-depthSlack {
			h.find(i, EngraveLow, "engraves %.4f deep; want at most %.4g", h.part.Top-low, h.part.Rules.Engrave)
		}
		if len(f.c) == 0 {
			continue
		}
		one := peak{d: min(w.d, h.part.Rules.Limit), stop: math.Inf(1)} // less is not told of
		s.over(f, &c.curve, &one)
		if one.d > w.d {
			w = one
			h.rep.Gouge = Worst{Size: w.d, At: w.at, Block: h.moves[i].Block}
		}
		if one.d > h.part.Rules.Limit {
			h.find(i, StrayMark, "engraves %.4f off the path at %s; want at most %.4g", one.d, place(one.at), h.part.Rules.Limit)
		}
	}
	h.faint(all)
}

// engraveLeast is the depth in mm from which on a mark is one.
const engraveLeast = 0.05

// faint checks that every path is engraved all along by the marked cuts.
func (h *holder) faint(mark []bool) {
	t := &trimmer{}
	var cs []curve
	for n := range h.cuts {
		c := &h.cuts[n]
		if !mark[n] || c.rapid || !c.live {
			continue
		}
		if o, ok := c.below(h.part.Top - engraveLeast - c.fuzz); ok {
			cs = append(cs, o.curve)
			t.moves = append(t.moves, c.move)
		}
	}
	t.through = newField(cs)
	s := scan{c: cs, left: budget}
	w := peak{d: math.Inf(-1), stop: math.Inf(1)}
	for k, c := range h.marks().c {
		one := peak{d: min(w.d, h.part.Rules.Limit), stop: math.Inf(1)}
		s.over(t.through, &c, &one)
		if math.IsInf(one.d, 1) {
			one.d = gap(c.box.Min, c.box.Max)
			h.find(-1, FaintMark, "nothing is engraved; want stroke %d at %s", k+1, place(c.A))
			w.see(one.d, one.at)
			break
		}
		w.see(one.d, one.at) // no other place where it is not greater
		if one.d > h.part.Rules.Limit {
			h.find(h.moveAt(t, one.at), FaintMark, "the path is not engraved at %s: the nearest mark is %.4f away; want at most %.4g",
				place(one.at), one.d, h.part.Rules.Limit)
		}
	}
	if h.part.Kind == Engraving && w.d >= 0 {
		h.rep.Leftover = Worst{Size: w.d, At: w.at}
	}
}
