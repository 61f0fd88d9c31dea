package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// seat makes a path of a trail, reversed where back is set, brought from the working distance to the one
// that is wanted. A vertex moves to where its two curves meet at that distance,
// if that is near; where curves lie at an exact fit they may not meet there, and
// the vertex stays Tol/2 short.
func (o *offsetter) seat(t trail, back bool) Path {
	w := o.walked[t.lo:t.hi]
	// Slices of one curve that follow each other are one edge.
	n := 0
	for i := range w {
		if n > 0 && w[n-1].raw == w[i].raw {
			w[n-1].to, w[n-1].q = w[i].to, w[i].q
			continue
		}
		if n < i {
			w[n] = w[i]
		}
		n++
	}
	if t.closed && n > 1 && w[n-1].raw == w[0].raw && w[n-1].to == w[0].from {
		w[0].from, w[0].p = w[n-1].from, w[n-1].p
		n--
	}
	w = w[:n]
	v := o.verts
	if m := n + 1; cap(v) < m {
		v = make([]Vertex, m, m+m/8)
	}
	v = v[:n]
	for i := range w {
		switch {
		case i > 0:
			o.place(&v[i].Point, &w[i-1], &w[i])
		case t.closed:
			o.place(&v[0].Point, &w[n-1], &w[0])
		default:
			v[0].Point = o.endPlace(&w[0], o.raw[w[0].raw].from, w[0].from, w[0].p)
		}
	}
	if !t.closed {
		v = append(v, Vertex{Point: o.endPlace(&w[n-1], o.raw[w[n-1].raw].to, w[n-1].to, w[n-1].q)})
	}
	for i := range w {
		j := i + 1
		if j == len(v) {
			j = 0
		}
		v[i].Bulge = o.bulge(&w[i], v[i].Point, v[j].Point)
	}
	v = tidy(v, t.closed)
	o.verts = v
	p := Path{V: make([]Vertex, len(v)), Closed: t.closed || len(v) == 1}
	for i := range v {
		q := orb.Point{v[i].Point[0] + o.mid[0], v[i].Point[1] + o.mid[1]}
		switch {
		case !back:
			p.V[i] = Vertex{q, v[i].Bulge}
		case p.Closed: // as Path.Reverse has it
			j := (len(v) - i) % len(v)
			p.V[j].Point = q
			p.V[(j+len(v)-1)%len(v)].Bulge = 0 - v[i].Bulge
		default:
			p.V[len(v)-1-i].Point = q
			if i+1 < len(v) {
				p.V[len(v)-2-i].Bulge = 0 - v[i].Bulge
			}
		}
	}
	return p
}

// gap is how far q is from lying at the wanted distance from the curve's source,
// and the direction away from it.
func (o *offsetter) gap(r *raw, q orb.Point) (g float64, n orb.Point) {
	if r.src >= 0 {
		s := &o.src[r.src]
		return s.side(q) - o.want, left(s.tangent(q))
	}
	n = sub(q, r.v)
	l := math.Sqrt(dot(n, n))
	if l == 0 {
		return -o.want, orb.Point{}
	}
	return l - o.want, orb.Point{n[0] / l, n[1] / l}
}

// place makes v the vertex between two slices.
func (o *offsetter) place(v *orb.Point, a, b *slice) {
	ra, rb := &o.raw[a.raw], &o.raw[b.raw]
	if ra.to >= 0 && ra.to == rb.from && a.q == ra.b && b.p == rb.a {
		if m := &o.node[ra.to]; !m.refine {
			v[0], v[1] = m.v[0]+o.want*m.n[0], m.v[1]+o.want*m.n[1]
			return
		}
	}
	*v = o.both(ra, rb, a.q)
}

// both is the point near q that lies at the wanted distance from both sources,
// by Newton's method. Where the curves are all but tangent the steps along them
// mean nothing: the best point met counts.
func (o *offsetter) both(a, b *raw, q orb.Point) orb.Point {
	const exact = 1e-12
	x := q
	best, off := q, math.Inf(1)
	for k := range 6 {
		fa, ax, ay := o.equation(a, x)
		fb, bx, by := o.equation(b, x)
		if f := max(math.Abs(fa), math.Abs(fb)); f < off {
			best, off = x, f
			if f < exact {
				break
			}
		}
		det := ax*by - ay*bx
		if k == 0 && math.Abs(det) < 0.1 && ax*bx+ay*by > 0 {
			// almost one curve: straight out, then see
			x[0] -= fa * ax
			x[1] -= fa * ay
			continue
		}
		if math.Abs(det) < 1e-9 {
			break
		}
		x[0] += (fb*ay - fa*by) / det
		x[1] += (fa*bx - fb*ax) / det
		if dist2(x, q) > 64*Tol*Tol {
			break
		}
	}
	if off < exact {
		return best
	}
	if o.off(a, b, best) < join {
		return best
	}
	return q
}

// off is how far q is at most from lying at the wanted distance from either
// source.
func (o *offsetter) off(a, b *raw, q orb.Point) float64 {
	ga, _ := o.gap(a, q)
	gb, _ := o.gap(b, q)
	return max(math.Abs(ga), math.Abs(gb))
}

// equation is 0 where q lies at the wanted distance from the curve's source,
// near there it is the difference; with its gradient.
func (o *offsetter) equation(r *raw, q orb.Point) (f, gx, gy float64) {
	if r.src < 0 {
		wx, wy := q[0]-r.v[0], q[1]-r.v[1]
		k := 1 / o.want
		return (wx*wx+wy*wy)*k/2 - o.want/2, wx * k, wy * k
	}
	s := &o.src[r.src]
	c := 1 - s.k*o.want // the source moved by the distance has the curvature k/c
	if c < 1e-3 {
		g, n := o.gap(r, q)
		return g, n[0], n[1]
	}
	k := s.k / c
	nx, ny := -s.t0[1], s.t0[0]
	wx, wy := q[0]-s.a[0]-o.want*nx, q[1]-s.a[1]-o.want*ny
	return wx*nx + wy*ny - k*(wx*wx+wy*wy)/2, nx - k*wx, ny - k*wy
}

// endPlace is the end of an open path: the joint at the input's own end, or the
// point where the curve was cut.
func (o *offsetter) endPlace(s *slice, joint, root int32, q orb.Point) orb.Point {
	if joint >= 0 && dist2(o.node[joint].at, q) < together*together && o.node[joint].joint {
		m := &o.node[joint]
		return orb.Point{m.v[0] + o.want*m.n[0], m.v[1] + o.want*m.n[1]}
	}
	g, n := o.gap(&o.raw[s.raw], q)
	return orb.Point{q[0] - g*n[0], q[1] - g*n[1]}
}

// bulge of the edge from p to q on the curve of slice s.
func (o *offsetter) bulge(s *slice, p, q orb.Point) float64 {
	r := &o.raw[s.raw]
	if r.k == 0 {
		return 0
	}
	if r.src < 0 {
		if s.p == r.a && s.q == r.b {
			return r.bulge
		}
		u, w := sub(p, r.v), sub(q, r.v)
		m := math.Sqrt(dot(u, u) * dot(w, w))
		return -quarter(max(0, -cross(u, w)/m), dot(u, w)/m)
	}
	e := &o.src[r.src]
	if s.p == r.a && s.q == r.b && r.bulge == e.bulge {
		return e.bulge
	}
	rad := math.Abs(1/e.k - o.want)
	if x := math.Sqrt(dist2(p, q)) / (2 * rad); x < 0.9 && rad > 4*Tol { // sin(θ/2)
		return math.Copysign(x/(1+math.Sqrt(1-x*x)), e.k)
	}
	t0, t1 := e.tangent(p), e.tangent(q)
	if rad <= 4*Tol { // next to the centre: directions from where they are sure
		t0, t1 = e.tangent(s.p), e.tangent(s.q)
	}
	return math.Copysign(quarter(max(0, math.Copysign(1, e.k)*cross(t0, t1)), dot(t0, t1)), e.k)
}

// tidy makes one vertex, half way, of the two of an edge shorter than 2 Tol, and
// makes a point of what is hardly larger than one. The ends of an open path stay.
func tidy(v []Vertex, closed bool) []Vertex {
	const least = 2 * Tol
	n := 1
	moved := false // v[n-1] stands for more than one vertex
	for i := 1; i < len(v); i++ {
		a, b := &v[n-1], &v[i]
		if dist2(a.Point, b.Point) >= least*least {
			if n < i {
				v[n] = *b
			}
			moved = false
			n++
			continue
		}
		a.Bulge = b.Bulge
		switch {
		case i == len(v)-1 && !closed:
			*a = Vertex{Point: b.Point}
		case !moved && (n > 1 || closed):
			a.Point = between(a.Point, b.Point)
		}
		moved = true
	}
	if a, b := &v[n-1], &v[0]; closed && n > 1 && dist2(a.Point, b.Point) < least*least {
		b.Point = between(a.Point, b.Point)
		n--
	}
	v = v[:n]
	if n == 1 {
		v[0].Bulge = 0
		return v
	}
	if small(v) {
		var m orb.Point
		for _, q := range v {
			m[0] += q.X() / float64(n)
			m[1] += q.Y() / float64(n)
		}
		v[0] = Vertex{Point: m}
		return v[:1]
	}
	return v
}

func between(a, b orb.Point) orb.Point { return orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2} }

// small tells whether no two vertices are 1.5 Tol apart.
func small(v []Vertex) bool {
	const most = 1.5 * Tol
	for i := range v {
		for j := range i {
			if dist2(v[i].Point, v[j].Point) > most*most {
				return false
			}
		}
	}
	return true
}
