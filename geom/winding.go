package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// Winding is how often a closed path runs round q, counter-clockwise positive.
// For a point on the path itself the answer is that of one of its two sides.
//
// A ray runs from q to the right; each edge, arcs cut where they turn in y,
// counts where it crosses the ray, its lower end in and its upper end out.
func (p Path) Winding(q orb.Point) int {
	if !p.Closed {
		return 0
	}
	w := 0
	for i := range p.Edges() {
		w += p.Edge(i).crossings(q)
	}
	return w
}

func (e Edge) crossings(q orb.Point) int {
	if e.Straight() {
		return rayLine(e.A, e.B, q)
	}
	s := e.span()
	if s.t0[1] >= 0 == (s.t1[1] >= 0) || s.t0[1] == 0 || s.t1[1] == 0 {
		return s.rayArc(e.A, e.B, q) // does not turn in y
	}
	// The one turning point inside: up or down the radius from the centre.
	sign := math.Copysign(1, s.t0[1])
	m := orb.Point{e.A[0] - s.t0[1]/s.k, e.A[1] + sign*s.rise(1, sign)}
	return s.rayArc(e.A, m, q) + s.rayArc(m, e.B, q)
}

func rayLine(a, b, q orb.Point) int {
	side := (b[0]-a[0])*(q[1]-a[1]) - (q[0]-a[0])*(b[1]-a[1])
	switch {
	case a[1] <= q[1] && q[1] < b[1] && side > 0:
		return 1
	case b[1] <= q[1] && q[1] < a[1] && side < 0:
		return -1
	}
	return 0
}

// rayArc counts the crossing of the piece from a to b of the arc, which never
// turns in y. The piece lies on one side of its chord: beyond the chord on that
// side q is before the arc inside the circle and behind it outside.
func (s *span) rayArc(a, b, q orb.Point) int {
	up := a[1] <= q[1] && q[1] < b[1]
	down := b[1] <= q[1] && q[1] < a[1]
	if !up && !down {
		return 0
	}
	side := (b[0]-a[0])*(q[1]-a[1]) - (q[0]-a[0])*(b[1]-a[1]) // > 0: q left of a→b
	left := side > 0
	if down {
		left = side < 0 // left in x
	}
	// A counter-clockwise piece bulges to the right of its chord.
	bulgesRight := (s.k > 0) == up
	inside := s.side(q) > 0 == (s.k > 0)
	before := left && (bulgesRight || !inside) || !left && bulgesRight && inside
	switch {
	case !before:
		return 0
	case up:
		return 1
	}
	return -1
}

// Winding is the sum over all paths: 1 inside, 0 outside a proper region.
func (r Region) Winding(q orb.Point) int {
	w := 0
	for _, p := range r {
		w += p.Winding(q)
	}
	return w
}

// SignedDist is the distance in mm from q to the region's boundary, positive
// outside, negative inside.
func (r Region) SignedDist(q orb.Point) float64 {
	d := Nearest(r, q).Dist
	if r.Winding(q) > 0 {
		return -d
	}
	return d
}
