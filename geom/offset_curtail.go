package geom

import "github.com/paulmach/orb"

// This file answers how far a slice stands that its middle says stands. Where paths
// cross and run along each other by parts of Tol, a meeting may go unseen; no point
// of the result may come too near for that.

// curtail cuts slices off where they come nearer to the path than they may. They
// end there.
func (o *offsetter) curtail() {
	for i, n := 0, len(o.group); i < n; i++ {
		g := o.group[i]
		short := false
		for k := range int(g.n) {
			s := o.member(&g, k)
			short = o.shorten(s) || short
		}
		if !short {
			continue
		}
		// each slice on its own
		for k := range int(g.n) {
			s := o.member(&g, k)
			h := g
			h.first, h.n, h.from, h.to = g.first+int32(k), 1, s.from, s.to
			if h.first >= g.hi {
				h.first -= g.hi - g.lo
			}
			if k == 0 {
				o.group[i] = h
			} else {
				o.group = append(o.group, h)
			}
		}
	}
}

// shorten cuts a slice back at either end to what lies far enough from the path.
func (o *offsetter) shorten(s *slice) bool {
	r := &o.raw[s.raw]
	m := r.middle(s.p, s.q)
	any := false
	for _, end := range [2]*orb.Point{&s.p, &s.q} {
		good, bad := m, m
		for at := m; ; {
			// half way to the end each time, the end itself last but for its joint
			at = o.toward(r, at, *end)
			if dist2(at, *end) < 1e-12 {
				break
			}
			if o.clear(at) {
				good = at
				continue
			}
			bad = at
			break
		}
		if bad == m {
			continue
		}
		for dist2(good, bad) > 1e-20 {
			at := o.toward(r, good, bad)
			if at == good || at == bad {
				break
			}
			if o.clear(at) {
				good = at
			} else {
				bad = at
			}
		}
		*end = good
		any = true
		if end == &s.p {
			s.from = -1
		} else {
			s.to = -1
		}
	}
	return any
}

// toward is half way from one point of a raw curve to another, in either order.
func (o *offsetter) toward(r *raw, a, b orb.Point) orb.Point {
	if r.k != 0 && r.order(b) < r.order(a) {
		a, b = b, a
	}
	return r.middle(a, b)
}

// clear tells whether q may be a point of the result.
func (o *offsetter) clear(q orb.Point) bool {
	return !closer(&o.tree, o.src[:o.own], q, o.d-1.2*Tol)
}
