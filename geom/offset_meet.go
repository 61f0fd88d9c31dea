package geom

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// An event is a place on a raw curve where it meets another one.
type event struct {
	raw, node int32
	key       float64 // order along the raw curve
	bad       uint8
	sine      float64 // of the angle between them
}

// What is known of an event: that before or after it the raw curve lies within
// reach of the other one's source, or that both run along each other.
const (
	before = 1 << iota
	after
	along
	cuts // the other one only cuts: a short piece may stand all the same
)

// meetings finds where raw curves meet and makes a node there. Of two curves that
// cross, each has the other's source on one side of the crossing: that side
// cannot stand, whatever else there is.
func (o *offsetter) meetings() {
	t := &o.rawTree
	b := t.build(len(o.raw))
	runs := o.newRuns()
	for i := range b {
		r := &o.raw[i]
		b[i] = r.box()
		runs.add(&r.span, i > 0 && r.from >= 0 && r.from == o.raw[i-1].to)
	}
	o.run = runs.number
	t.grow()
	o.event = o.event[:0]
	var h hits
	t.pairs(join, o.run, func(i, j int) {
		a, b := &o.raw[i], &o.raw[j]
		if !a.out && !b.out {
			return
		}
		ab := a.to >= 0 && a.to == b.from
		ba := b.to >= 0 && b.to == a.from
		if ab && !ba && onward(&a.span, &b.span) || ba && !ab && onward(&b.span, &a.span) {
			return
		}
		if j == i+2 && o.passing(a, &o.raw[i+1], b) || j+1 < len(o.raw) && o.passing(b, &o.raw[j+1], a) {
			return
		}
		h.find(&a.span, &b.span, join)
		for k := range h.n {
			q := h.at[k]
			if ab && near2(q, o.node[a.to].at) || ba && near2(q, o.node[b.to].at) {
				continue
			}
			n := int32(len(o.node))
			o.node = append(o.node, node{at: q})
			ea := event{raw: int32(i), node: n, key: a.order(q)}
			eb := event{raw: int32(j), node: n, key: b.order(q)}
			s := 0.0
			if h.overlap || h.close {
				ea.bad, eb.bad = along, along
			} else {
				s = cross(a.tangent(q), b.tangent(q))
			}
			ea.sine, eb.sine = math.Abs(s), math.Abs(s)
			clear, soft := clearSine(&a.span, &b.span), uint8(0)
			if !a.out || !b.out {
				clear, soft = graze, cuts
			}
			switch {
			case s > clear: // b goes to the left of a: away from a's source
				eb.bad, ea.bad = before|soft, after|soft
			case s < -clear:
				eb.bad, ea.bad = after|soft, before|soft
			}
			o.event = append(o.event, ea, eb)
		}
	})
	slices.SortFunc(o.event, func(a, b event) int {
		switch {
		case a.raw != b.raw:
			return int(a.raw - b.raw)
		case a.key < b.key:
			return -1
		case a.key > b.key:
			return 1
		}
		return int(a.node - b.node)
	})
}

// passing tells whether m joins a to b, and all three advance in one direction, so
// that a and b have no point in common.
func (o *offsetter) passing(a, m, b *raw) bool {
	if a.to < 0 || a.to != m.from || m.to < 0 || m.to != b.from {
		return false
	}
	u := orb.Point{a.t1[0] + b.t0[0], a.t1[1] + b.t0[1]}
	return advance(&a.span, &m.span, u) && advance(&m.span, &b.span, u)
}

// graze is the sine of the angle under which a curve may cross what only cuts by
// less than Tol: see grazed.
const graze = 0.02

// clearSine is the sine of the angle above which the sides of a crossing are
// beyond doubt; tangents of small curves are less certain.
func clearSine(a, b *span) float64 {
	return 1e-7 + 1e-12*max(max(math.Abs(a.k), math.Abs(b.k)), 1/min(a.l, b.l))
}
