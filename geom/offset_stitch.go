package geom

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A trail is a stretch of offsetter.walked: slices that follow each other from
// node to node.
type trail struct {
	lo, hi int
	closed bool
}

// sliver is the length in mm below which a piece says nothing of its trail: where
// curves touch, rounding may leave such a piece standing.
const sliver = 10 * Tol

// stitch joins the groups that stand, end to beginning, at the nodes they share.
// It tells whether some end found no continuation.
func (o *offsetter) stitch() (out []trail, ends bool) {
	o.head = o.head[:0]
	for range o.node {
		o.head = append(o.head, -1)
	}
	n := 0
	for i := range o.group {
		g := o.group[i]
		if o.twin(&g) {
			continue
		}
		o.group[n] = g
		if g.from >= 0 {
			o.group[n].next = o.head[g.from]
			o.head[g.from] = int32(n)
		}
		n++
	}
	o.group = o.group[:n]
	for i := range o.group {
		if t := o.group[i].to; t >= 0 {
			for k := o.head[t]; k >= 0; k = o.group[k].next {
				o.group[k].into = true
			}
		}
	}
	o.walked, o.trail = o.walked[:0], o.trail[:0]
	for i := range o.group {
		if !o.group[i].into && !o.group[i].used {
			ends = !o.walk(i) || ends
		}
	}
	for i := range o.group {
		if !o.group[i].used {
			ends = !o.walk(i) || ends
		}
	}
	if ends && o.general {
		if o.closed {
			o.sew()
		}
		for i := range o.trail {
			o.trim(&o.trail[i])
		}
		if o.closed { // beside an open path it may be where the tool just fits
			o.trail = slices.DeleteFunc(o.trail, o.crumb)
		}
	}
	return o.trail, ends
}

// trim takes short pieces that stand by the word of grazed from the ends of an open
// trail: they were to join it to others, and have not.
func (o *offsetter) trim(t *trail) {
	loose := func(s *slice) bool { return s.grazed && dist2(s.p, s.q) < short*short }
	for !t.closed && t.hi-t.lo > 1 && loose(&o.walked[t.hi-1]) {
		t.hi--
	}
	for !t.closed && t.hi-t.lo > 1 && loose(&o.walked[t.lo]) {
		t.lo++
	}
}

// crumb tells whether an open trail is too short to be more than rounding.
func (o *offsetter) crumb(t trail) bool {
	l := 0.0
	for _, s := range o.walked[t.lo:t.hi] {
		l += math.Sqrt(dist2(s.p, s.q))
	}
	return !t.closed && l < 2*short
}

// sew joins open trails beside closed paths of which one ends within 2 Tol of where one begins, itself
// perhaps: where curves come so close without meeting, rounding of the input has
// kept them apart.
func (o *offsetter) sew() {
	const most = 2 * Tol
	var opens []int
	for i, t := range o.trail {
		if !t.closed {
			opens = append(opens, i)
		}
	}
	if len(opens) == 0 {
		return
	}
	follows := make(map[int]int, len(opens)) // the trail that goes on
	taken := make(map[int]bool, len(opens))
	type gap struct {
		d2   float64
		i, j int
	}
	var gaps []gap
	starts := make([]span, len(opens))
	for k, i := range opens {
		p := o.walked[o.trail[i].lo].p
		starts[k] = newSpan(p, p, 0)
	}
	var tree boxTree
	plant(&tree, starts)
	for _, i := range opens {
		q := o.walked[o.trail[i].hi-1].q
		tree.search(q[0], q[1], most*most, func(k int) float64 {
			gaps = append(gaps, gap{dist2(q, starts[k].a), i, opens[k]})
			return most * most
		})
	}
	slices.SortFunc(gaps, func(a, b gap) int {
		return cmp.Or(cmp.Compare(a.d2, b.d2), a.i-b.i, a.j-b.j)
	})
	for _, g := range gaps {
		if _, ok := follows[g.i]; !ok && !taken[g.j] && g.d2 <= most*most {
			follows[g.i], taken[g.j] = g.j, true
		}
	}
	if len(follows) == 0 {
		return
	}
	walked := make([]slice, 0, len(o.walked))
	trails := make([]trail, 0, len(o.trail))
	done := make([]bool, len(o.trail))
	take := func(i int) {
		t := trail{lo: len(walked), closed: o.trail[i].closed}
		for first := i; ; {
			done[i] = true
			walked = append(walked, o.walked[o.trail[i].lo:o.trail[i].hi]...)
			j, ok := follows[i]
			if !ok {
				break
			}
			if j == first {
				t.closed = true
				break
			}
			i = j
		}
		t.hi = len(walked)
		trails = append(trails, t)
	}
	for i := range o.trail {
		if !taken[i] {
			take(i)
		}
	}
	for i := range o.trail {
		if !done[i] {
			take(i)
		}
	}
	o.walked, o.trail = walked, trails
}

// twin tells whether a group runs on one that is there already: paths that run
// twice over the same edge give both.
func (o *offsetter) twin(g *group) bool {
	if g.from < 0 {
		return false
	}
	m := o.middle(o.member(g, 0))
	for k := o.head[g.from]; k >= 0; k = o.group[k].next {
		h := &o.group[k]
		if h.to == g.to && h.n == g.n && o.raw[o.member(h, 0).raw].dist(m) < 2*doubt {
			return true
		}
	}
	return false
}

// walk follows the groups from group i on and tells whether it came back there.
func (o *offsetter) walk(i int) bool {
	t := trail{lo: len(o.walked)}
	start := i
	for {
		g := &o.group[i]
		g.used = true
		end := g.first + g.n
		o.walked = append(o.walked, o.slice[g.first:min(end, g.hi)]...)
		if end > g.hi {
			o.walked = append(o.walked, o.slice[g.lo:g.lo+end-g.hi]...)
		}
		if g.to < 0 {
			break
		}
		j := o.onward(i, start)
		if j == start {
			t.closed = true
			break
		}
		if j < 0 {
			break
		}
		i = j
	}
	t.hi = len(o.walked)
	if !t.closed {
		grazed := true
		for _, s := range o.walked[t.lo:] {
			grazed = grazed && s.grazed
		}
		if grazed {
			o.walked = o.walked[:t.lo]
			return true
		}
	}
	o.trail = append(o.trail, t)
	return t.closed
}

// onward is the group that continues group i: of several the one that turns most
// to the left, towards the room inside, but for one that turns straight back.
// start counts as unused. -1: none.
func (o *offsetter) onward(i, start int) int {
	g := &o.group[i]
	best, turn := -1, math.Inf(-1)
	for k := o.head[g.to]; k >= 0; k = o.group[k].next {
		if h := &o.group[k]; h.used && int(k) != start {
			continue
		} else if best < 0 && h.next < 0 {
			return int(k) // the usual case
		} else {
			a, b := o.member(g, int(g.n)-1), o.member(h, 0)
			ta, tb := o.raw[a.raw].tangent(a.q), o.raw[b.raw].tangent(b.p)
			x := math.Atan2(cross(ta, tb), dot(ta, tb))
			if x > math.Pi-1e-5 {
				x -= 2 * math.Pi
			}
			if x > turn {
				best, turn = int(k), x
			}
		}
	}
	return best
}

// onSide drops the trails that a spike without width has on its wrong
// side. Where edges of closed paths run back on each other, left of them is also
// right of them; the winding number there tells inside from outside.
func (o *offsetter) onSide(ts []trail, right, region bool) []trail {
	inner := 0
	if region {
		if !right {
			inner = 1
		}
	} else {
		area, length := 0.0, 0.0
		for i := range o.own {
			s := &o.src[i]
			area += cross(s.a, s.b)/2 + Edge{s.a, s.b, s.bulge}.segmentArea()
			length += s.l
		}
		switch {
		case math.Abs(area) <= Tol*length:
			return ts
		case area > 0:
			inner = 1
		}
	}
	n := 0
	for _, t := range ts {
		best, l := t.lo, -1.0
		for k := t.lo; k < t.hi; k++ {
			if m := dist2(o.walked[k].p, o.walked[k].q); m > l {
				best, l = k, m
			}
		}
		w := winding(&o.tree, o.src[:o.own], o.middle(&o.walked[best]))
		if w < inner && (region || o.widthless(t)) {
			continue
		}
		ts[n] = t
		n++
	}
	return ts[:n]
}

// widthless tells whether every edge that the trail follows, and every edge at
// the corners it goes round, has another one running back on it.
func (o *offsetter) widthless(t trail) bool {
	wide := 0.0 // length of what is not
	for k := t.lo; k < t.hi; k++ {
		s := &o.walked[k]
		r := &o.raw[s.raw]
		paired := false
		if r.src < 0 {
			paired = o.paired(r.v, nil)
		} else {
			m := o.middle(s)
			dir := r.tangent(m)
			paired = o.paired(orb.Point{m[0] + o.d*dir[1], m[1] - o.d*dir[0]}, &dir)
		}
		if !paired {
			wide += math.Sqrt(dist2(s.p, s.q))
		}
	}
	return wide < sliver
}

// paired tells whether the ways that leave the point q of the edges go by twos,
// there and back; with only given, whether one runs against it.
func (o *offsetter) paired(q orb.Point, only *orb.Point) bool {
	const near = Tol / 10
	var ways []orb.Point
	o.tree.search(q[0], q[1], near*near, func(i int) float64 {
		s := &o.src[i]
		if s.l > 0 && s.dist(q) < near {
			d := s.tangent(q)
			if dist2(q, s.b) > near*near {
				ways = append(ways, d)
			}
			if dist2(q, s.a) > near*near {
				ways = append(ways, orb.Point{-d[0], -d[1]})
			}
		}
		return near * near
	})
	if only != nil {
		n := 0
		for _, w := range ways {
			if dot(w, *only) > 1-1e-9 {
				n++
			}
		}
		return n > 1
	}
	for i := range ways {
		n := 0
		for j := range ways {
			if dot(ways[i], ways[j]) > 1-1e-9 {
				n++
			}
		}
		if n%2 == 1 {
			return false
		}
	}
	return true
}
