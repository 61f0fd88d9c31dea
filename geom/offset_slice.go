package geom

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A slice is a piece of a raw curve between two nodes where something meets it.
type slice struct {
	raw      int32
	from, to int32   // root nodes; -1: a dead end
	bad      bool    // cannot stand: a dead end
	cut      bool    // cannot stand unless it is short: only cut
	grazed   bool    // stands by the word of grazed
	sine     float64 // of the angle at which it enters the reach of another one
	p, q     orb.Point
}

// short is the length in mm up to which a slice may stand beyond a crossing with
// what only cuts.
const short = 3 * Tol

// spoil takes note of what an event says of the slice before or after it.
func (s *slice) spoil(e *event, side uint8) {
	switch {
	case e.bad&side == 0:
	case e.bad&cuts != 0:
		s.cut = true
	default:
		s.sine = max(s.sine, e.sine)
	}
}

// spoilt tells whether the slice cannot stand by what the events say. What enters
// another one's reach by less than doubt is left to the distance.
func (s *slice) spoilt() bool {
	l2 := dist2(s.p, s.q)
	return s.bad || s.sine*s.sine*l2 > doubt*doubt || s.cut && l2 > short*short
}

// A group is a run of slices, one after the other in their chain, that stand or
// fall together.
type group struct {
	first, n int32 // in offsetter.slice; the run may wrap round the chain's end
	lo, hi   int32 // the chain's slices
	from, to int32
	next     int32 // next group from the same node
	into     bool  // some group ends where this one begins
	used     bool
}

// together is the distance in mm under which two nodes on one curve are one.
const together = 2e-9

// doubt is what a point may lie nearer than the working distance and still stand:
// twice what makes two curves overlap.
const doubt = 2e-9

func (o *offsetter) find(n int32) int32 {
	for o.root[n] != n {
		o.root[n] = o.root[o.root[n]]
		n = o.root[n]
	}
	return n
}

func (o *offsetter) unite(a, b int32) {
	a, b = o.find(a), o.find(b)
	if a > b {
		a, b = b, a
	}
	o.root[b] = a
}

// split cuts the raw curves at the events and gathers the slices that stand.
func (o *offsetter) split() {
	o.root = o.root[:0]
	for i := range o.node {
		o.root = append(o.root, int32(i))
	}
	// Nodes closer than together on one curve are one.
	for i, k := 0, 0; i < len(o.raw) && k < len(o.event); i++ {
		r := &o.raw[i]
		last, lastAt := r.from, r.a
		first := k
		for ; k < len(o.event) && int(o.event[k].raw) == i; k++ {
			n := o.event[k].node
			at := o.node[n].at
			if last >= 0 && dist2(at, lastAt) < together*together {
				o.unite(last, n)
			}
			last, lastAt = n, at
		}
		if k > first && r.to >= 0 && dist2(r.b, lastAt) < together*together {
			o.unite(last, r.to)
		}
	}
	o.cut = append(o.cut[:0], make([]bool, len(o.node))...)
	for _, e := range o.event {
		o.cut[o.find(e.node)] = true
	}
	o.slice, o.group = o.slice[:0], o.group[:0]
	k := 0
	for c := 0; c+1 < len(o.rounds); c++ {
		lo := len(o.slice)
		for i := o.rounds[c]; i < o.rounds[c+1]; i++ {
			k = o.slices(i, k)
		}
		o.gather(lo, len(o.slice))
	}
}

// slices cuts raw curve i at its events, which begin at event k.
//
// A dead end lies within reach of a neighbour and takes its slice with it, unless
// it is where another curve crosses, so that the reach ends just there, or runs
// along.
func (o *offsetter) slices(i, k int) int {
	r := &o.raw[i]
	if r.from >= 0 && r.to >= 0 && (k == len(o.event) || int(o.event[k].raw) != i) { // whole
		from, to := o.find(r.from), o.find(r.to)
		if from == to && r.l*r.l < 4*together*together {
			return k // all of it is the node
		}
		n := len(o.slice)
		if n == cap(o.slice) {
			o.slice = slices.Grow(o.slice, n+8)
		}
		o.slice = o.slice[:n+1]
		s := &o.slice[n]
		s.raw, s.from, s.to, s.p, s.q = int32(i), from, to, r.a, r.b
		s.bad, s.cut, s.grazed, s.sine = false, false, false, 0
		return k
	}
	s := slice{raw: int32(i), from: -1, p: r.a, bad: r.from < 0}
	if r.from >= 0 {
		s.from = o.find(r.from)
	}
	first := true // still at the start
	for ; k < len(o.event) && int(o.event[k].raw) == i; k++ {
		e := &o.event[k]
		n := o.find(e.node)
		at := o.node[e.node].at
		switch {
		case n == s.from:
			if first && r.from < 0 && e.bad&(before|along) != 0 && e.bad&after == 0 {
				s.bad = false
			}
			s.spoil(e, after)
			if m := len(o.slice); e.bad&before != 0 && !first && o.slice[m-1].raw == s.raw {
				o.slice[m-1].spoil(e, before)
			}
			continue
		case first && s.from < 0 && dist2(s.p, at) < together*together:
			s.from = n
			s.bad = false
			s.spoil(e, after)
			continue
		}
		s.to, s.q = n, at
		s.spoil(e, before)
		o.slice = append(o.slice, s)
		s = slice{raw: int32(i), from: n, p: at}
		s.spoil(e, after)
		first = false
	}
	s.to, s.q = -1, r.b
	if r.to >= 0 {
		s.to = o.find(r.to)
		if s.to == s.from && dist2(s.p, s.q) < 4*together*together {
			return k // all of it is the node
		}
	} else if m := len(o.slice); !first && dist2(s.p, s.q) < together*together {
		// the dead end is the last node
		alive := false
		for j := k - 1; j >= 0 && int(o.event[j].raw) == i && o.find(o.event[j].node) == s.from; j-- {
			alive = alive || o.event[j].bad&(after|along) != 0 || o.event[j].bad == 0
		}
		o.slice[m-1].bad = o.slice[m-1].bad || !alive
		return k
	} else {
		s.bad = true
	}
	o.slice = append(o.slice, s)
	return k
}

// gather makes groups of a chain's slices lo to hi and keeps those that stand.
func (o *offsetter) gather(lo, hi int) {
	n := hi - lo
	if n == 0 {
		return
	}
	open := func(i int) bool { // is the chain cut before slice i?
		if i >= hi {
			i -= n
		}
		prev := &o.slice[hi-1]
		if i > lo {
			prev = &o.slice[i-1]
		}
		s := &o.slice[i]
		return s.from < 0 || prev.to != s.from || o.cut[s.from] || o.raw[s.raw].out != o.raw[prev.raw].out
	}
	start := lo
	for start < hi && !open(start) {
		start++
	}
	if start == hi { // a whole round without a meeting
		o.keep(lo, hi, lo, n, min(looks, 1+n/looks))
		return
	}
	for i := start; i < start+n; {
		j := i + 1
		for j < start+n && !open(j) {
			j++
		}
		k := i
		if k >= hi {
			k -= n
		}
		o.keep(lo, hi, k, j-i, looks)
		i = j
	}
}

// looks is the number of places of a group that are held against the distance, lest
// a meeting has gone unseen.
const looks = 8

// keep makes a group of n slices from the first on, if they stand. Where the
// places that are looked at do not agree, each slice is judged on its own.
func (o *offsetter) keep(lo, hi, first, n, looks int) {
	at := func(i int) *slice {
		if i += first; i >= hi {
			i -= hi - lo
		}
		return &o.slice[i]
	}
	if !o.raw[at(0).raw].out {
		return
	}
	longest, length := 0, -1.0
	for i := range n {
		s := at(i)
		if s.spoilt() {
			return
		}
		if l := dist2(s.p, s.q); l > length {
			longest, length = i, l
		}
	}
	stands := o.stands(at(longest))
	for i := 1; i < looks && n > 1; i++ {
		if k := i * n / looks; k != longest && k != (i-1)*n/looks && o.stands(at(k)) != stands {
			for k := range n {
				if o.stands(at(k)) {
					o.add(lo, hi, lo+(first-lo+k)%(hi-lo), 1)
				}
			}
			return
		}
	}
	if stands {
		o.add(lo, hi, first, n)
	}
}

func (o *offsetter) add(lo, hi, first, n int) {
	last := lo + (first-lo+n-1)%(hi-lo)
	o.group = append(o.group, group{
		first: int32(first), n: int32(n), lo: int32(lo), hi: int32(hi),
		from: o.slice[first].from, to: o.slice[last].to, next: -1,
	})
}

// stands holds the middle of a slice against the distance to all of the path.
func (o *offsetter) stands(s *slice) bool {
	m := o.middle(s)
	if !closer(&o.tree, o.src[:o.own], m, o.d-doubt) {
		return true
	}
	s.grazed = o.general && o.grazed(m)
	return s.grazed
}

// grazed tells whether all that lies nearer to m than the working distance does so
// by less than Tol and has m on its other side. Such an edge crosses the one that
// m belongs to by less than Tol: they count as touching.
func (o *offsetter) grazed(m orb.Point) bool {
	if closer(&o.tree, o.src[:o.own], m, o.d-Tol) {
		return false
	}
	ok := true
	o.tree.search(m[0], m[1], o.d*o.d, func(i int) float64 {
		if o.src[i].dist(m) < o.d-doubt && !o.behind(i, m) {
			ok = false
			return -1
		}
		return o.d * o.d
	})
	return ok
}

// behind tells whether m lies to the right of edge i, seen from its nearest point,
// which at a vertex has the next edge to go by.
func (o *offsetter) behind(i int, m orb.Point) bool {
	s := &o.src[i]
	if s.l == 0 {
		return false
	}
	if s.faces(m) {
		return s.side(m) < 0
	}
	in, out := s, s
	v := s.b
	if dist2(s.a, m) < dist2(s.b, m) {
		v, in = s.a, &o.src[o.prev(i)]
	} else {
		out = &o.src[o.next(i)]
	}
	if dist2(in.b, out.a) > join*join {
		return false // an end of an open path
	}
	if turn := cross(in.t1, out.t0); math.Abs(turn) > 1e-9 {
		return turn > 0
	}
	return dot(in.t1, out.t0) > 0 && cross(in.t1, sub(m, v)) < 0
}

func (o *offsetter) middle(s *slice) orb.Point { return o.raw[s.raw].middle(s.p, s.q) }

// member is slice k of a group.
func (o *offsetter) member(g *group, k int) *slice {
	i := int(g.first) + k
	if i >= int(g.hi) {
		i -= int(g.hi - g.lo)
	}
	return &o.slice[i]
}
