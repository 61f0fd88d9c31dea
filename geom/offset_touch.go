package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// This file answers where a path touches or crosses itself, and makes what does so
// by less than Tol touch exactly: the steps that follow know exact touching only.

// touching tells whether the edges meet anywhere but at the vertices between
// neighbours, or have a cusp. What comes within Tol of meeting is settled first.
func (o *offsetter) touching() bool {
	found := false
	var h hits
	r := o.newRuns()
	for _, c := range o.chains {
		e := &o.src[c.first+c.n-1]
		found = found || c.n == 1
		for i := range c.n {
			f := &o.src[c.first+i]
			if dot(e.t1, f.t0) < -0.9 && math.Abs(cross(e.t1, f.t0)) < 1e-6 {
				found = true
			}
			r.add(f, i > 0)
			e = f
		}
	}
	o.run = r.number
	var near []closeness
	o.tree.pairs(Tol, o.run, func(i, j int) {
		a, b := &o.src[i], &o.src[j]
		ij, ji := false, false
		if j == i+1 || i == 0 || len(o.chains) > 1 {
			ij, ji = o.next(i) == j, o.next(j) == i
		}
		switch {
		case ij && onward(a, b) && !ji, ji && onward(b, a) && !ij:
			return
		}
		near = o.closeTo(o.closeTo(near, i, j), j, i)
		if found {
			return
		}
		h.find(a, b, join)
		found = h.overlap
		for k := range h.n {
			if ij && near2(h.at[k], a.b) || ji && near2(h.at[k], a.a) {
				continue
			}
			found = true
		}
	})
	if len(near) > 0 {
		o.settle(near)
		return true
	}
	return found
}

// next is the edge that follows edge i in its chain.
func (o *offsetter) next(i int) int {
	c := o.chainOf(i)
	if i+1 == c.first+c.n {
		return c.first
	}
	return i + 1
}

// prev is the edge before edge i in its chain.
func (o *offsetter) prev(i int) int {
	c := o.chainOf(i)
	if i == c.first {
		return c.first + c.n - 1
	}
	return i - 1
}

func (o *offsetter) chainOf(i int) *chain {
	c := &o.chains[0]
	for k := 1; i >= c.first+c.n; k++ {
		c = &o.chains[k]
	}
	return c
}

// near2 tells whether a meeting is the joint of two neighbours; where they are
// tangent it is known only to the root of the rounding.
func near2(a, b orb.Point) bool { return dist2(a, b) < 1e-10 }

// A closeness is a vertex, named by the edge that leaves it, within Tol of an edge
// that it does not belong to.
type closeness struct{ vertex, edge int }

// settle moves vertices that lie within Tol of each other to their middle, and
// those within Tol of an edge onto it. Edges that then run between the same
// points, or on the same line or arc, become one. No point moves by more than Tol.
func (o *offsetter) settle(near []closeness) {
	// vertices by the edge they begin; an open chain's end is the number after
	at := make([]orb.Point, len(o.src)+len(o.chains))
	same := make([]int, len(at))
	for i := range same {
		same[i] = i
		if i < len(o.src) {
			at[i] = o.src[i].a
		}
	}
	for k, c := range o.chains {
		at[len(o.src)+k] = o.src[c.first+c.n-1].b
	}
	root := func(i int) int {
		for same[i] != i {
			i = same[i]
		}
		return i
	}
	for _, n := range near {
		e, v := n.edge, at[n.vertex]
		for _, w := range [2]int{e, o.endOf(e)} {
			if x, y := root(n.vertex), root(w); x != y && dist2(v, at[w]) <= Tol*Tol && dist2(at[x], at[y]) <= Tol*Tol {
				same[max(x, y)] = min(x, y)
			}
		}
	}
	sum := make([]orb.Point, len(at))
	count := make([]float64, len(at))
	for i := range at {
		r := root(i)
		sum[r][0] += at[i][0]
		sum[r][1] += at[i][1]
		count[r]++
	}
	for i := range at {
		if r := root(i); count[r] > 1 {
			at[i] = orb.Point{sum[r][0] / count[r], sum[r][1] / count[r]}
		}
	}
	o.rebuild(at)
	laid := make(map[int]bool, len(near))
	for _, n := range near {
		r := root(n.vertex)
		s := &o.src[n.edge]
		q := at[n.vertex]
		if laid[r] || r == root(n.edge) || r == root(o.endOf(n.edge)) || s.l == 0 || !s.faces(q) || math.Abs(s.side(q)) > Tol {
			continue
		}
		laid[r] = true
		h, u := s.side(q), s.tangent(q)
		for i := range at {
			if root(i) == r {
				at[i] = orb.Point{q[0] + h*u[1], q[1] - h*u[0]}
			}
		}
	}
	o.rebuild(at)
	o.compact()
	// edges that lie on others take their curvature
	plant(&o.tree, o.src)
	o.tree.pairs(Tol, nil, func(i, j int) {
		a, b := &o.src[i], &o.src[j]
		if a.l < b.l {
			a, b = b, a
		}
		if a.l < 4*Tol || b.l < 4*Tol || a.dist(b.a) > join || a.dist(b.b) > join || a.k == 0 && b.k == 0 {
			return
		}
		if m := b.middle(b.a, b.b); a.dist(m) > Tol || a.dist(m) == 0 {
			return
		}
		k := a.k
		if dot(a.tangent(b.a), b.t0) < 0 {
			k = -k
		}
		bulge := a.bulge
		if (b.a == a.b) && (b.b == a.a) {
			bulge = -bulge
		} else if b.a != a.a || b.b != a.b {
			x := min(1, b.l*math.Abs(k)/2)
			bulge = math.Copysign(x/(1+math.Sqrt(1-x*x)), k)
		}
		*b = newSpan(b.a, b.b, bulge)
	})
	plant(&o.tree, o.src)
}

// compact drops edges that have lost their length; a chain keeps one as a point.
func (o *offsetter) compact() {
	n := 0
	for k := range o.chains {
		c := &o.chains[k]
		first := n
		for i := c.first; i < c.first+c.n; i++ {
			if s := o.src[i]; s.l >= join || n == first && i == c.first+c.n-1 {
				if s.l < join {
					s = newSpan(s.a, s.a, 0)
				}
				o.src[n] = s
				n++
			}
		}
		c.first, c.n, c.out = first, n-first, n-first
	}
	o.src = o.src[:n]
	o.own = n
}

// closeTo adds the ends of edge i that lie near edge j, but not on it already.
func (o *offsetter) closeTo(near []closeness, i, j int) []closeness {
	s := &o.src[j]
	for _, v := range [2]int{i, o.endOf(i)} {
		q := o.src[i].a
		if v != i {
			q = o.src[i].b
		}
		if q == s.a || q == s.b {
			continue
		}
		d := s.dist(q)
		if d <= join || d > Tol {
			continue
		}
		// what is short lies near its neighbours in any case
		if dist2(q, s.a) < 16*Tol*Tol || dist2(q, s.b) < 16*Tol*Tol {
			if h := o.src[i].l; h < 8*Tol || s.l < 8*Tol {
				continue
			}
		}
		near = append(near, closeness{v, j})
	}
	return near
}

// endOf names the vertex at the end of edge i.
func (o *offsetter) endOf(i int) int {
	j := o.next(i)
	if o.src[j].a == o.src[i].b {
		return j
	}
	for k := range o.chains { // the end of an open chain
		if c := &o.chains[k]; i < c.first+c.n {
			return len(o.src) + k
		}
	}
	return j
}

// rebuild gives the edges new ends. An edge that has lost its length stays as it
// was, but for its ends.
func (o *offsetter) rebuild(at []orb.Point) {
	ends := make([]int, len(o.src))
	for i := range o.src {
		ends[i] = o.endOf(i)
	}
	for i := range o.src {
		s := &o.src[i]
		if a, b := at[i], at[ends[i]]; a != s.a || b != s.b {
			*s = newSpan(a, b, s.bulge)
		}
	}
}
