package geom

import (
	"math"
	"slices"

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
		if !p.Closed && len(p.V) > 1 {
			o.closed = false
		}
		o.edges(p, right)
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

// edges appends the edges of one path, in the order of the offset.
func (o *offsetter) edges(p *Path, right bool) {
	n := p.Edges()
	if n == 0 {
		return
	}
	at := func(i int) orb.Point {
		q := &p.V[i].Point
		return orb.Point{q[0] - o.mid[0], q[1] - o.mid[1]}
	}
	if !right {
		a := at(0)
		for i := range n {
			j := i + 1
			if j == len(p.V) {
				j = 0
			}
			a = o.edgeOrHalves(a, at(j), p.V[i].Bulge)
		}
		return
	}
	a := at(n % len(p.V))
	for i := n - 1; i >= 0; i-- {
		a = o.edgeOrHalves(a, at(i), -p.V[i].Bulge)
	}
}

// edgeOrHalves appends an edge and gives its end. An edge of no length is dropped,
// and the next one begins where it began; an arc of more than a half circle is
// halved, as [NewPath] does. An arc of a few Tol becomes chords that stay within
// Tol/2 of it: it may meet its neighbour twice within what counts as one point.
func (o *offsetter) edgeOrHalves(a, b orb.Point, bulge float64) orb.Point {
	const tiny = 16 * Tol
	l2 := dist2(a, b)
	if l2 < join*join {
		return a
	}
	small := bulge != 0 && l2 < tiny*tiny
	if math.Abs(bulge) > 1+1e-12 || small && math.Abs(bulge)*math.Sqrt(l2) > Tol {
		h := splitLarge(Vertex{a, bulge}, b)
		a = o.edgeOrHalves(h[0].Point, h[1].Point, h[0].Bulge)
		return o.edgeOrHalves(a, b, h[1].Bulge)
	}
	n := len(o.src)
	if n == cap(o.src) {
		o.src = slices.Grow(o.src, n+8)
	}
	o.src = o.src[:n+1]
	if small {
		bulge = 0
	}
	o.src[n].set(a, b, bulge)
	return b
}

// onward tells whether a and then b, which begins where a ends, advance in one
// direction throughout, so that they have no other common point.
func onward(a, b *span) bool {
	const least = 1e-6
	if dot(a.t0, a.t1) > least && dot(b.t0, a.t1) > least && dot(b.t1, a.t1) > least {
		return true
	}
	return advance(a, b, orb.Point{a.t1[0] + b.t0[0], a.t1[1] + b.t0[1]}) ||
		advance(a, b, orb.Point{a.t0[0] + b.t1[0], a.t0[1] + b.t1[1]})
}

// advance tells whether both spans advance in the direction u. Between the ends
// of at most a half circle the tangents stay between those at the ends.
func advance(a, b *span, u orb.Point) bool {
	const least = 1e-6
	return dot(a.t0, u) > least && dot(a.t1, u) > least && dot(b.t0, u) > least && dot(b.t1, u) > least
}

// runs numbers curves that follow each other in one path so that those of one
// number advance in one direction together, within 60° of it. Such curves have no
// points in common but their joints, nor do they come within Tol of each other
// elsewhere: what is short is a run of its own.
type runs struct {
	number []int32
	u      orb.Point // the direction; zero where nothing may follow
}

func (o *offsetter) newRuns() runs { return runs{number: o.run[:0]} }

// add numbers the next curve; follows tells whether it begins where the one before
// ends.
func (r *runs) add(s *span, follows bool) {
	const short, least = 4 * Tol, 0.5 // cos 60°
	n := int32(len(r.number))
	switch {
	case s.l < short:
		r.u = orb.Point{}
	case follows && dot(s.t0, r.u) > least && dot(s.t1, r.u) > least:
		n = r.number[n-1]
	default: // of a curve that turns farther than 60° nothing can be said
		r.u = s.t1
		if dot(s.t0, r.u) <= least {
			r.u = orb.Point{}
		}
	}
	r.number = append(r.number, n)
}

// lay makes the raw curves of all chains. In the general case the other sides of
// the paths are laid too, and round the ends of open ones: they only cut.
func (o *offsetter) lay() {
	o.raw, o.node, o.rounds = o.raw[:0], o.node[:0], o.rounds[:0]
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
