package geom

import (
	"math"

	"github.com/paulmach/orb"
)

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
