package proof

import (
	"fmt"
	"math"
	"slices"

	"blockwright/geom"
)

// A Pocket is ground to be cleared down to a floor part-way through the sheet. What
// of the floor lies outside the walls, over an opening or beyond the part's edge,
// is where the mill may go; nothing is wanted of it there.
type Pocket struct {
	Floor geom.Region // outers counter-clockwise, islands clockwise
	Depth float64     // mm, of the floor below the sheet's top
}

// A layer is the part as a mill meets it that goes no deeper than floor: its wall
// less every pocket that is at least as deep.
type layer struct {
	floor   float64 // Z; -Inf: all of the part
	above   float64 // Z of the layer above's floor; +Inf: this is the first
	s       *solid
	pockets []int // that end at this floor
}

// newLayers are the part's layers, shallowest first; the last is the whole part. It
// fails on pockets that are none.
func newLayers(p *Part, full *solid) ([]layer, error) {
	last := layer{floor: math.Inf(-1), above: math.Inf(1), s: full}
	depths := []float64{}
	for i, k := range p.Pockets {
		if !(k.Depth > 0) || p.Thick > 0 && !(k.Depth < p.Thick) {
			return nil, fmt.Errorf("pocket %d is %g mm deep; want more than 0 and less than the sheet", i+1, k.Depth)
		}
		if len(k.Floor) == 0 {
			return nil, fmt.Errorf("pocket %d has no floor", i+1)
		}
		for _, f := range k.Floor {
			if !f.Closed || f.Edges() < 2 || !whole(f) {
				return nil, fmt.Errorf("the floor of pocket %d is no closed path; want one", i+1)
			}
		}
		if len(geom.Intersection(p.Wall, k.Floor)) == 0 {
			return nil, fmt.Errorf("pocket %d lies in no part", i+1)
		}
		depths = append(depths, k.Depth)
	}
	slices.Sort(depths)
	var out []layer
	for _, d := range slices.Compact(depths) {
		l := layer{floor: p.Top - d, above: last.above}
		var gone []geom.Region
		for i, k := range p.Pockets {
			if k.Depth >= d {
				gone = append(gone, k.Floor)
			}
			if k.Depth == d {
				l.pockets = append(l.pockets, i)
			}
		}
		upper := *p
		upper.Wall = geom.Difference(p.Wall, gone...)
		var err error
		if l.s, err = newSolid(&upper); err != nil {
			return nil, fmt.Errorf("above the floor at Z %.4f: %w", l.floor, err)
		}
		out = append(out, l)
		last.above = l.floor
	}
	return append(out, last), nil
}

// gougesInLayers finds the deepest cut into a part with pockets: each stretch is
// held against the part as it stands above the floor that it goes down to.
func (h *holder) gougesInLayers(ls []layer, mark []bool) {
	h.met = make([]meeting, len(h.cuts))
	r, limit := h.mill/2, h.part.Rules.Limit
	probers := make([]*prober, len(ls))
	for i := range ls {
		probers[i] = newProber(ls[i].s)
	}
	worst := Worst{Size: math.Inf(-1)}
	var told int32 = -1
	for n := range h.cuts {
		c := &h.cuts[n]
		if h.met[n].loop = -1; mark[n] {
			continue
		}
		probed := false // in the last layer
		clean := true   // in the layers above
		for i := range ls {
			o, ok := *c, true
			if !math.IsInf(ls[i].above, 1) {
				o, ok = c.below(ls[i].above - depthSlack + c.fuzz)
			}
			if !ok {
				break
			}
			if len(ls[i].s.field.c) == 0 {
				continue // all of the part is gone above this floor
			}
			m := probers[i].probe(&o.curve)
			g := r + m.deep + o.wide
			if i == len(ls)-1 {
				m.deep += o.wide
				h.met[n], probed = m, true
			}
			over := ls[i].above - o.low()
			sunk := clean && i > 0 && g > limit // right in plan, but below the floor above
			clean = clean && g <= limit
			if sunk {
				g = min(g, over)
			}
			if g > worst.Size {
				worst = Worst{Size: g, At: probers[i].place(&o.curve, &m), Block: h.moves[c.move].Block}
			}
			if g <= limit && !sunk || told == c.move {
				continue
			}
			told = c.move
			at := place(probers[i].place(&o.curve, &m))
			if sunk {
				h.find(int(c.move), PocketDeep, "cuts %.4f below the floor of the pocket at %s; want Z %.4f or higher", over, at, ls[i].above)
			} else {
				h.find(int(c.move), Gouged, "the mill cuts %.4f into the part at %s; want at most %.4g", g, at, limit)
			}
		}
		if !probed {
			h.met[n] = probers[len(ls)-1].lies(&c.curve)
		}
	}
	if !math.IsInf(worst.Size, -1) {
		h.rep.Gouge = worst
	}
}

// lies tells how a stretch that ends above a floor lies to the whole part: the wall
// that is nearest, and on which side of it.
func (b *prober) lies(c *curve) meeting {
	d, k := b.s.field.near(c, b.hint)
	if k < 0 {
		return meeting{loop: -1, curve: -1}
	}
	b.hint = k
	in := b.inside(c, d)
	b.end, b.in, b.known = c.B, in, d >= touching
	if in {
		d = -d
	}
	return meeting{deep: -d, at: c.A, curve: -1, loop: int(b.s.owner[k]), over: true}
}

// floors finds what of the pockets' floors and of their walls is not cleared.
func (h *holder) floors(ls []layer, full *solid) {
	for _, l := range ls {
		if len(l.pockets) == 0 {
			continue
		}
		t := &trimmer{radius: h.mill / 2}
		var cs []curve
		for n := range h.cuts {
			c := &h.cuts[n]
			if c.rapid || !c.live {
				continue
			}
			if o, ok := c.below(l.floor + depthSlack - c.fuzz); ok {
				cs = append(cs, o.curve)
				t.moves = append(t.moves, c.move)
			}
		}
		t.through = newField(cs)
		t.scan = scan{c: cs, left: budget}
		for _, i := range l.pockets {
			// Bores are cut too, and may be cut before or after.
			ground := geom.Intersection(full.region, h.part.Pockets[i].Floor)
			h.floor1(t, ground, l.floor)
		}
	}
}

// floor1 checks one pocket: every place of its rim, as a wall is, and its ground.
func (h *holder) floor1(t *trimmer, ground geom.Region, floor float64) {
	var rim []curve
	for _, p := range ground {
		for k := range p.Edges() {
			rim = curves(rim, p.Edge(k))
		}
	}
	w := peak{d: math.Inf(-1), stop: math.Inf(1)}
	for i := range rim {
		t.scan.over(t.through, &rim[i], &w)
	}
	if math.IsInf(w.d, 1) {
		b := ground.Bound()
		h.find(-1, PocketLeft, "nothing is cut to the floor at Z %.4f of the pocket at %s", floor, place(ground[0].Start()))
		w.d, w.at = t.radius+gap(b.Min, b.Max), ground[0].Start()
	} else {
		g := newGround(ground, rim, t, t.radius+h.part.Rules.Limit)
		if d, at, ok := g.uncovered(); ok {
			w.see(d, at)
		}
		if left := w.d - t.radius; left > h.part.Rules.Limit {
			h.find(h.moveAt(t, w.at), PocketLeft, "%.4f is left on the floor at Z %.4f of a pocket, or on its wall, at %s; want at most %.4g",
				left, floor, place(w.at), h.part.Rules.Limit)
		}
	}
	if left := w.d - t.radius; left > h.rep.Leftover.Size {
		h.rep.Leftover = Worst{Size: left, At: w.at}
		if i := h.moveAt(t, w.at); i >= 0 {
			h.rep.Leftover.Block = h.moves[i].Block
		}
	}
}

// bareTabs checks that no tab stands where a pocket is open: its stump would be in
// the way of what the pocket is for.
func (h *holder) bareTabs(t *trimmer, i int, u *run, length float64, move int) {
	for _, k := range h.part.Pockets {
		for _, c := range t.pieces(i, u, length) {
			q := c.At(0.5)
			if k.Floor.Winding(q) > 0 || geom.Nearest(k.Floor, q).Dist < h.mill-tabSlack {
				h.find(move, TabPocket, "tab at a pocket at %s; want it the mill's diameter, %.4g, away", place(t.s.point(i, (u.s0+u.s1)/2, length)), h.mill)
				return
			}
		}
	}
}
