package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// A Kind says how two edges meet.
type Kind uint8

// The kinds of meeting.
const (
	None    Kind = iota // no common point
	Crosses             // they pass through each other
	Touches             // they meet without passing: tangent, or at an end of one
	Overlap             // they share a stretch
)

func (k Kind) String() string {
	return [...]string{"none", "crosses", "touches", "overlap"}[k&3]
}

// A Meet is one point common to two edges: its fractions of their lengths, and
// whether they cross or touch there.
type Meet struct {
	At     orb.Point
	TA, TB float64
	Kind   Kind
}

// A Cross is what two edges have in common: Kind None and N = 0, or one or two
// points in the order of the first edge. Kind is Crosses if they cross in any of
// them. An Overlap gives the two ends of the shared stretch.
type Cross struct {
	Kind Kind
	N    int
	Meet [2]Meet
}

// Intersect finds what two edges have in common. Points within [Tol] are one:
//
//	(1) a line or arc within Tol of tangent touches, in one point;
//	(2) an end within Tol of the other edge touches it;
//	(3) lines, and arcs of one circle, that run within Tol of each other over
//	    more than Tol overlap.
//
// Every point given lies within Tol of both edges. A line and a flat arc that
// stay within Tol of each other are not taken for an overlap: they touch.
func Intersect(a, b Edge) Cross {
	sa, sb := a.span(), b.span()
	var h hits
	h.find(&sa, &sb, Tol)
	c := Cross{N: h.n}
	for i := range h.n {
		q := h.at[i]
		m := Meet{At: q, Kind: Touches}
		_, _, m.TA = a.Nearest(q)
		_, _, m.TB = b.Nearest(q)
		if h.overlap {
			m.Kind = Overlap
		} else if h.sine[i] != 0 && !h.end[i] {
			m.Kind = Crosses
		}
		c.Meet[i] = m
		if c.Kind == None || m.Kind == Crosses {
			c.Kind = m.Kind
		}
	}
	if c.N == 2 && c.Meet[1].TA < c.Meet[0].TA {
		c.Meet[0], c.Meet[1] = c.Meet[1], c.Meet[0]
	}
	return c
}

// hits are the common points of two spans.
type hits struct {
	n       int
	at      [2]orb.Point
	sine    [2]float64 // of the angle from the first to the second direction there; 0: touch
	end     [2]bool    // at an end of either
	overlap bool
	close   bool // tangent: between the two points, ends of both, the spans keep within tol
}

func (h *hits) add(q orb.Point, sine float64, end bool, tol float64) {
	for i := range h.n {
		if dist2(h.at[i], q) <= tol*tol {
			if h.end[i] && !end {
				h.at[i], h.sine[i], h.end[i] = q, sine, end
			}
			return
		}
	}
	if h.n < 2 {
		h.at[h.n], h.sine[h.n], h.end[h.n] = q, sine, end
		h.n++
	}
}

// find fills h. The points lie within tol of both spans.
func (h *hits) find(a, b *span, tol float64) {
	h.n, h.overlap, h.close = 0, false, false
	if a.l == 0 || b.l == 0 {
		if a.l == 0 && b.dist(a.a) <= tol {
			h.add(a.a, 0, true, tol)
		} else if b.l == 0 && a.dist(b.a) <= tol {
			h.add(b.a, 0, true, tol)
		}
		return
	}
	if a.k == 0 && b.k == 0 {
		h.lines(a, b, tol)
	} else {
		h.arcs(a, b, tol)
	}
}

// ends adds the ends of either span that lie within tol of the other.
func (h *hits) ends(a, b *span, tol float64) {
	for _, q := range [2]orb.Point{a.a, a.b} {
		if b.dist(q) <= tol {
			h.add(q, cross(a.tangent(q), b.tangent(q)), true, tol)
		}
	}
	for _, q := range [2]orb.Point{b.a, b.b} {
		if a.dist(q) <= tol {
			h.add(q, cross(a.tangent(q), b.tangent(q)), true, tol)
		}
	}
}

// A Contact is a meeting of edge I of one path with edge J of another or of the
// same one.
type Contact struct {
	I, J int
	Cross
}

// Crossings finds every meeting of an edge of p with an edge of q, in no
// particular order.
func Crossings(p, q Path) []Contact {
	var t, u boxTree
	p.boxes(&t)
	q.boxes(&u)
	var out []Contact
	t.across(&u, Tol, func(i, j int) {
		if c := Intersect(p.Edge(i), q.Edge(j)); c.N > 0 {
			out = append(out, Contact{i, j, c})
		}
	})
	return out
}

// SelfCrossings finds every meeting of two edges of p, but for the vertex that
// neighbours share. A simple path has none.
func SelfCrossings(p Path) []Contact {
	var t boxTree
	p.boxes(&t)
	var out []Contact
	n := p.Edges()
	t.pairs(Tol, nil, func(i, j int) {
		c := Intersect(p.Edge(i), p.Edge(j))
		if c.Kind == Overlap {
			out = append(out, Contact{i, j, c})
			return
		}
		drop := func(v orb.Point) {
			for k := 0; k < c.N; k++ {
				if dist(c.Meet[k].At, v) <= Tol {
					copy(c.Meet[k:], c.Meet[k+1:c.N])
					c.N--
					k--
				}
			}
		}
		if j == i+1 {
			drop(p.V[j].Point)
		}
		if p.Closed && i == 0 && j == n-1 {
			drop(p.V[0].Point)
		}
		if c.N == 0 {
			return
		}
		c.Kind = c.Meet[0].Kind
		if c.N == 2 && c.Meet[1].Kind == Crosses {
			c.Kind = Crosses
		}
		out = append(out, Contact{i, j, c})
	})
	return out
}

// boxes builds the tree over the path's edges.
func (p Path) boxes(t *boxTree) {
	b := t.build(p.Edges())
	for i := range b {
		s := p.Edge(i).span()
		b[i] = s.box()
	}
	t.grow()
}

// within tells whether the point q of the span's line or circle lies between its
// ends.
func (s *span) within(q orb.Point) bool {
	wx, wy := q[0]-s.a[0], q[1]-s.a[1]
	if !s.faces(q) {
		return false
	}
	if math.Abs(s.bulge) < 0.5 {
		return true
	}
	// The two half planes of a half circle are one: its chord tells the sides
	// apart.
	dx, dy := s.b[0]-s.a[0], s.b[1]-s.a[1]
	return math.Copysign(1, s.k)*(dx*wy-dy*wx) <= 0
}
