package geom

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A raw curve is what one edge or one outside corner alone would give: the edge
// moved to its left, or the arc about the corner. Every raw curve runs with its
// source on its right; the room that is wanted lies on its left.
type raw struct {
	span
	src      int32     // source edge, or -1 for a corner
	v        orb.Point // the corner
	from, to int32     // nodes at the ends; -1: the curve ends inside the reach of its neighbour
	out      bool      // may become part of the result; otherwise it only cuts
}

// A node is a point where raw curves meet.
type node struct {
	at     orb.Point // at the working distance
	v, n   orb.Point // a joint of neighbours: v + |d|·n at the distance d
	joint  bool
	refine bool // n is a first guess: curves bend
}

// A chain is a closed round of edges to be offset to the left. The first out
// edges may become part of the result.
type chain struct {
	first, n int // in offsetter.src
	out      int
}

// raws makes the raw curves of a chain, joined where neighbours meet.
func (o *offsetter) raws(c chain) {
	if c.n == 1 && o.src[c.first].l == 0 {
		o.point(o.src[c.first].a)
		return
	}
	src := o.src[c.first : c.first+c.n]
	if cap(o.edge) < c.n {
		o.edge = make([]edgeRaw, c.n+c.n/8)
		o.corner = make([]corner, c.n+c.n/8)
	}
	er, cr := o.edge[:c.n], o.corner[:c.n]
	for i := range src {
		er[i].gone = !o.shifted(&src[i], &er[i].span)
	}
	for i := range src {
		j := i + 1
		if j == c.n {
			j = 0
		}
		k := &cr[i]
		k.kind = o.turn(&src[i], &src[j], &er[i], &er[j], k)
	}
	// A curve whose ends pass each other when cut back to its joints keeps its
	// own ends; the general search finds what crosses what.
	for i := range er {
		h := i - 1
		if i == 0 {
			h = c.n - 1
		}
		if er[i].gone || cr[h].kind != joined && cr[i].kind != joined {
			continue
		}
		e := &er[i]
		a, b, moved := e.a, e.b, 0.0
		if cr[h].kind == joined {
			a = cr[h].at
			moved = dist2(a, e.a)
		}
		if cr[i].kind == joined {
			b = cr[i].at
			moved += dist2(b, e.b)
		}
		// What moves by less than an eighth of the chord in all passes nothing.
		if moved > e.l*e.l/128 && !(e.order(a) < e.order(b)) {
			for _, k := range [2]int{h, i} {
				if cr[k].kind == joined && cross(src[k].t1, src[(k+1)%c.n].t0) > 0 {
					cr[k].kind = inside
				}
			}
		}
	}
	first := int32(-1)
	last := int32(-1) // node at the end of the curve before
	firstRaw := len(o.raw)
	if k := c.n - 1; cr[k].kind == joined {
		first = o.joint(&src[k].b, &cr[k].at, &cr[k].n, cr[k].bend)
		last = first
	}
	for i := range er {
		e, k := &er[i], &cr[i]
		out := i < c.out
		var next int32 = -1
		if k.kind == joined {
			if i == c.n-1 {
				next = first
			} else {
				next = o.joint(&src[i].b, &k.at, &k.n, k.bend)
			}
		}
		if !e.gone {
			a, b := e.a, e.b
			if last >= 0 {
				a = o.node[last].at
			}
			if k.kind == joined {
				b = k.at
			} else if k.kind == outside {
				n := left(src[i].t1)
				next = o.joint(&src[i].b, &e.b, &n, false)
			}
			r := o.newRaw()
			r.span, r.src, r.v, r.from, r.to, r.out = e.span, int32(c.first+i), orb.Point{}, last, next, out
			r.between(a, b)
		}
		last = next
		if k.kind == outside {
			j := i + 1
			if j == c.n {
				j = 0
			}
			v := src[i].b
			n1, n2 := left(src[i].t1), left(src[j].t0)
			out := out && (i+1 < c.out || c.out == c.n)
			if cross(n1, n2) > 1e-12 { // a cusp whose edges cross: more than a half circle
				m := src[i].t1
				next = o.round(&v, &n1, &m, last, out)
				last, n1 = next, m
			}
			next = o.round(&v, &n1, &n2, last, out)
			last = -1
			if er[j].gone {
				o.raw[len(o.raw)-1].to = -1
				o.node = o.node[:next]
			} else {
				last = next
				if i == c.n-1 {
					o.raw[firstRaw].from = last
				}
			}
		}
	}
}

// newRaw appends a raw curve, with whatever was there before.
func (o *offsetter) newRaw() *raw {
	n := len(o.raw)
	if n == cap(o.raw) {
		o.raw = slices.Grow(o.raw, n+8)
	}
	o.raw = o.raw[:n+1]
	return &o.raw[n]
}

// round appends the clockwise arc about v from the direction n1 to n2, which begins
// at the node from, and gives the node at its end.
func (o *offsetter) round(v, n1, n2 *orb.Point, from int32, out bool) int32 {
	r := o.newRaw()
	o.arc(&r.span, v, n1, n2)
	r.src, r.v, r.from, r.out = -1, *v, from, out
	r.to = o.joint(v, &r.b, n2, false)
	return r.to
}

type edgeRaw struct {
	span
	gone bool
}

func left(t orb.Point) orb.Point { return orb.Point{-t[1], t[0]} }

// shifted makes r the edge moved to its left by the working distance. An arc that
// bends to the left with a smaller radius gives none: what it would give lies on
// the far side of its centre, nearer to its ends than the distance.
func (o *offsetter) shifted(s, r *span) bool {
	f := 1 - s.k*o.d
	if s.l == 0 || f < 1e-9*s.k || f <= 0 {
		return false
	}
	r.a = orb.Point{s.a[0] - o.d*s.t0[1], s.a[1] + o.d*s.t0[0]}
	r.b = orb.Point{s.b[0] - o.d*s.t1[1], s.b[1] + o.d*s.t1[0]}
	r.t0, r.t1, r.k, r.l, r.bulge = s.t0, s.t1, s.k/f, s.l*f, s.bulge
	return true
}

// arc makes s the clockwise arc about v from the direction n1 to n2.
func (o *offsetter) arc(s *span, v, n1, n2 *orb.Point) {
	sin, cos := n2[0]*n1[1]-n2[1]*n1[0], n1[0]*n2[0]+n1[1]*n2[1]
	b := quarter(max(0, sin), cos)
	s.a = orb.Point{v[0] + o.d*n1[0], v[1] + o.d*n1[1]}
	s.b = orb.Point{v[0] + o.d*n2[0], v[1] + o.d*n2[1]}
	s.t0, s.t1 = orb.Point{n1[1], -n1[0]}, orb.Point{n2[1], -n2[0]}
	s.k, s.bulge, s.l = -1/o.d, -b, 4*o.d*b/(1+b*b)
}

// quarter is tan(θ/4) for an angle from 0 to π given by its sine and cosine.
func quarter(sin, cos float64) float64 {
	t := 0.0 // tan(θ/2)
	if cos >= 0 {
		t = sin / (1 + cos)
	} else if sin > 0 {
		t = (1 - cos) / sin
	} else {
		return 1
	}
	return t / (1 + math.Sqrt(1+t*t))
}

// point makes the circle about a path of one vertex.
func (o *offsetter) point(v orb.Point) {
	e, w := orb.Point{1, 0}, orb.Point{-1, 0}
	first := o.joint(&v, &orb.Point{v[0] + o.d, v[1]}, &e, false)
	o.round(&v, &w, &e, o.round(&v, &e, &w, first, true), true)
	o.raw[len(o.raw)-1].to = first
	o.node = o.node[:len(o.node)-1]
}

// joint appends the node of the vertex v: at at the working distance, v + |d|·n at
// the wanted one, which refine calls a first guess.
func (o *offsetter) joint(v, at, n *orb.Point, refine bool) int32 {
	k := len(o.node)
	if k == cap(o.node) {
		o.node = slices.Grow(o.node, k+8)
	}
	o.node = o.node[:k+1]
	m := &o.node[k]
	m.at, m.v, m.n, m.joint, m.refine = *at, *v, *n, true, refine
	return int32(k)
}

// equation is the value of w·n - k|w|²/2 at (x, y), near the curve its distance
// to the left of it, and its gradient, there a unit vector.
func (s *span) equation(x, y float64) (f, gx, gy float64) {
	wx, wy := x-s.a[0], y-s.a[1]
	nx, ny := -s.t0[1], s.t0[0]
	return wx*nx + wy*ny - s.k*(wx*wx+wy*wy)/2, nx - s.k*wx, ny - s.k*wy
}

// between cuts the span back, or lets it run on, to two points of its curve.
func (s *span) between(a, b orb.Point) {
	if a == s.a && b == s.b {
		return
	}
	l := math.Sqrt(dist2(a, b))
	if s.k != 0 {
		t0, t1 := s.t0, s.t1
		if a != s.a {
			t0 = s.heading(a)
		}
		if b != s.b {
			t1 = s.heading(b)
		}
		s.t0, s.t1 = t0, t1
		s.bulge = s.bend(l)
	}
	s.l = l
	s.a, s.b = a, b
}

// heading is the tangent at a point of the curve itself, where the gradient of
// its equation is a unit vector.
func (s *span) heading(q orb.Point) orb.Point {
	_, nx, ny := s.equation(q[0], q[1])
	return orb.Point{ny, -nx}
}

// bend is the bulge of an arc of the span's curvature and end tangents over a
// chord of l mm: sin(θ/2) = l|k|/2 but near a half circle, where the tangents
// know better.
func (s *span) bend(l float64) float64 {
	if x := l * math.Abs(s.k) / 2; x < 0.9 && dot(s.t0, s.t1) > -0.9 {
		return math.Copysign(x/(1+math.Sqrt(1-x*x)), s.k)
	}
	return math.Copysign(quarter(max(0, math.Copysign(1, s.k)*cross(s.t0, s.t1)), dot(s.t0, s.t1)), s.k)
}
