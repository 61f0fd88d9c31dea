package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// sources takes the edges of all paths, reversed for an offset to the right,
// about their own middle. The middle is a whole number of millimetres, so that
// moving there and back rounds nothing away.
func (o *offsetter) sources(ps []Path, right bool) {
	lo, hi := ps[0].V[0].Point, ps[0].V[0].Point
	n := 0
	for i := range ps {
		n += len(ps[i].V)
		for k := range ps[i].V {
			q := &ps[i].V[k].Point
			lo[0], hi[0] = min(lo[0], q[0]), max(hi[0], q[0])
			lo[1], hi[1] = min(lo[1], q[1]), max(hi[1], q[1])
		}
	}
	if cap(o.src) < n {
		o.src = make([]span, 0, n+n/8)
	}
	o.mid = orb.Point{math.Round((lo[0] + hi[0]) / 2), math.Round((lo[1] + hi[1]) / 2)}
	o.src, o.chains, o.closed = o.src[:0], o.chains[:0], true
	for i := range ps {
		p := &ps[i]
		first := len(o.src)
		n := p.Edges()
		if !p.Closed && len(p.V) > 1 {
			o.closed = false
		}
		for k := range n {
			e := Edge{}
			if right {
				e = p.Edge(n - 1 - k)
				e.A, e.B, e.Bulge = e.B, e.A, -e.Bulge
			} else {
				e = p.Edge(k)
			}
			e.A[0] -= o.mid[0]
			e.A[1] -= o.mid[1]
			e.B[0] -= o.mid[0]
			e.B[1] -= o.mid[1]
			if len(o.src) > first {
				e.A = o.src[len(o.src)-1].b // the vertex before, if that was dropped
			}
			o.edgeOrHalves(e)
		}
		if n := len(o.src); p.Closed && n > first && o.src[n-1].b != o.src[first].a {
			s := &o.src[n-1] // dropped edges at the seam
			*s = newSpan(s.a, o.src[first].a, s.bulge)
			if s.l < join {
				o.src = o.src[:n-1]
			}
		}
		if len(o.src) == first {
			v := orb.Point{p.V[0].X() - o.mid[0], p.V[0].Y() - o.mid[1]}
			o.src = append(o.src, newSpan(v, v, 0))
		}
		o.chains = append(o.chains, chain{first, len(o.src) - first, len(o.src) - first})
	}
	o.own = len(o.src)
	plant(&o.tree, o.src)
}

// edgeOrHalves drops an edge of no length and halves an arc of more than a half
// circle, as [NewPath] does.
func (o *offsetter) edgeOrHalves(e Edge) {
	if dist2(e.A, e.B) < join*join {
		return
	}
	if math.Abs(e.Bulge) > 1+1e-12 {
		h := splitLarge(Vertex{e.A, e.Bulge}, e.B)
		o.edgeOrHalves(Edge{h[0].Point, h[1].Point, h[0].Bulge})
		o.edgeOrHalves(Edge{h[1].Point, e.B, h[1].Bulge})
		return
	}
	o.src = append(o.src, newSpan(e.A, e.B, e.Bulge))
}

// onward tells whether a and then b, which begins where a ends, advance in one
// direction throughout, so that they have no other common point.
func onward(a, b *span) bool {
	return advance(a, b, orb.Point{a.t1[0] + b.t0[0], a.t1[1] + b.t0[1]}) ||
		advance(a, b, orb.Point{a.t0[0] + b.t1[0], a.t0[1] + b.t1[1]})
}

// advance tells whether both spans advance in the direction u. Between the ends
// of at most a half circle the tangents stay between those at the ends.
func advance(a, b *span, u orb.Point) bool {
	const least = 1e-6
	return dot(a.t0, u) > least && dot(a.t1, u) > least && dot(b.t0, u) > least && dot(b.t1, u) > least
}

// lay makes the raw curves of all chains. In the general case the other sides of
// the paths are laid too, and round the ends of open ones: they only cut.
func (o *offsetter) lay() {
	o.edge, o.raw, o.node, o.rounds = o.edge[:0], o.raw[:0], o.node[:0], o.rounds[:0]
	o.src = o.src[:o.own]
	own := o.chains
	chains := own
	if o.general {
		chains = append([]chain(nil), own...)
		for i, c := range own {
			if c.n == 1 && o.src[c.first].l == 0 {
				continue
			}
			first := len(o.src)
			if !o.closed && o.open(c) {
				o.src = append(o.src, o.src[c.first:c.first+c.n]...)
				chains[i] = chain{first, 2 * c.n, c.n}
			} else {
				chains = append(chains, chain{first, c.n, 0})
			}
			for k := c.n - 1; k >= 0; k-- {
				s := o.src[c.first+k]
				o.src = append(o.src, newSpan(s.b, s.a, -s.bulge))
			}
		}
	}
	for _, c := range chains {
		o.rounds = append(o.rounds, len(o.raw))
		o.raws(c)
	}
	o.rounds = append(o.rounds, len(o.raw))
}

// open tells whether the chain's ends are not the ends of one closed path. Only
// single paths can be open.
func (o *offsetter) open(chain) bool { return !o.closed }
