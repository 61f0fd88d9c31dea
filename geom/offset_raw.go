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

// A corner between an edge and the next one.
type corner struct {
	kind uint8
	at   orb.Point // joint or mitre at the working distance
	n    orb.Point
	bend bool // at was found by iteration
}

const (
	inside  = iota // the raw curves pass each other, if at all, somewhere else
	joined         // they meet in one point
	outside        // an arc goes between
)

const (
	smooth = 1e-9 // mm between raw ends that are sewn as they are
	mitre  = 1e-8 // mm by which a corner may reach beyond its arc
)

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

// turn says how the raw curves er and fr of the edges e and f follow each other, and
// fills m where they are joined.
func (o *offsetter) turn(e, f *span, er, fr *edgeRaw, m *corner) uint8 {
	s, co := cross(e.t1, f.t0), dot(e.t1, f.t0)
	convex := s < 0
	if co < -0.99 {
		// A cusp, or all but one: the edge turns back on itself. To the left lies
		// either nothing or the whole plane. Where the edges run back one on the
		// other, it is taken for an outside corner.
		if o.parts(e, f, s) > 0 {
			return inside
		}
		return outside
	}
	if er.gone || fr.gone {
		if convex && math.Abs(s)*o.d > smooth {
			return outside
		}
		return inside
	}
	g := math.Sqrt(dist2(e.t1, f.t0)) * o.d // between the raw ends
	n1 := left(e.t1)
	if g < smooth {
		m.at, m.n, m.bend = er.b, n1, false
		return joined
	}
	n2 := left(f.t0)
	if convex {
		if co < 0.9 || g*g > 8*mitre*o.d || math.Abs(e.bulge) > 0.95 || math.Abs(f.bulge) > 0.95 ||
			g > er.l/4 && e.k != 0 || g > fr.l/4 && f.k != 0 {
			return outside
		}
	}
	m.n, m.bend = orb.Point{(n1[0] + n2[0]) / (1 + co), (n1[1] + n2[1]) / (1 + co)}, false
	m.at = orb.Point{e.b[0] + o.d*m.n[0], e.b[1] + o.d*m.n[1]}
	switch {
	case e.k == 0 && f.k == 0:
	case co > 0.9:
		// The curves bend away from their tangents by kx²/2 over the half gap.
		off := g * g * (math.Abs(er.k) + math.Abs(fr.k)) / 8
		if off < 1e-12 {
			break
		}
		q := m.at
		m.bend = settle(&q, &er.span, &fr.span) && dist2(q, m.at) < g*g
		switch {
		case m.bend:
			m.at = q
		case off < smooth: // all but tangent: they hardly cross, but keep together
		case convex:
			return outside
		default:
			return inside
		}
	default:
		m.bend = true
		var h hits
		h.find(&er.span, &fr.span, join)
		if h.n == 0 || h.overlap {
			return inside
		}
		m.at = h.at[0]
		if h.n == 2 && dist2(h.at[1], er.b)+dist2(h.at[1], fr.a) < dist2(m.at, er.b)+dist2(m.at, fr.a) {
			m.at = h.at[1]
		}
	}
	if convex {
		return joined
	}
	// What is cut off has to lie within reach of the other edge.
	if !er.faces(m.at) || !fr.faces(m.at) {
		return inside
	}
	if e.k != 0 || f.k != 0 {
		if g > 1e-5 && (f.dist(er.middle(m.at, er.b)) >= o.d || e.dist(fr.middle(fr.a, m.at)) >= o.d) {
			return inside
		}
	}
	return joined
}

// parts tells by how far in mm the edge f, which turns back at the end of e with
// the sine s, has left e where they are first Tol apart: positive to the left, so
// that nothing lies to the left of both. It is 0 where they keep within Tol over
// the length of the shorter one. At x from the corner they are s·x - bend·x²/2 apart.
func (o *offsetter) parts(e, f *span, s float64) float64 {
	if !o.closed && math.Abs(s) > 1e-9 {
		return s // which is all that tells left from right there
	}
	bend, l := e.k+f.k, min(e.l, f.l)
	if s*bend > 0 && math.Abs(s) < math.Abs(bend)*l {
		if most := s * s / (2 * bend); math.Abs(most) >= Tol {
			return most
		}
	}
	if last := s*l - bend*l*l/2; math.Abs(last) >= Tol {
		return last
	}
	return 0
}

// settle moves q onto both curves by Newton's method on their equations (see
// span), which takes no root.
func settle(q *orb.Point, a, b *span) bool {
	x, y := q[0], q[1]
	for range 8 {
		fa, ax, ay := a.equation(x, y)
		fb, bx, by := b.equation(x, y)
		det := ax*by - ay*bx
		if math.Abs(det) < 1e-10 {
			return false
		}
		dx, dy := (fb*ay-fa*by)/det, (fa*bx-fb*ax)/det
		x, y = x+dx, y+dy
		if dx*dx+dy*dy < 1e-22 {
			*q = orb.Point{x, y}
			return true
		}
	}
	return false
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
