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
	c, r := e.Arc()
	for _, d := range [2]orb.Point{{0, r}, {0, -r}} {
		if !e.sees(c, d) {
			continue
		}
		m := orb.Point{c[0], c[1] + d[1]}
		if m == e.A || m == e.B {
			continue
		}
		n := rayArc(e.A, m, c, r, e.Bulge > 0, q)
		// A half circle that starts at one extreme ends at the other; a shorter
		// arc meets at most one inside.
		return n + rayArc(m, e.B, c, r, e.Bulge > 0, q)
	}
	return rayArc(e.A, e.B, c, r, e.Bulge > 0, q)
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

// rayArc counts the crossing of an arc from a to b that never turns in y.
func rayArc(a, b, c orb.Point, r float64, ccw bool, q orb.Point) int {
	up := a[1] <= q[1] && q[1] < b[1]
	down := b[1] <= q[1] && q[1] < a[1]
	if !up && !down {
		return 0
	}
	dy := q[1] - c[1]
	x := math.Sqrt(math.Max(0, r*r-dy*dy))
	if up != ccw { // counter-clockwise upwards is the right half of the circle
		x = -x
	}
	if q[0] >= c[0]+x {
		return 0
	}
	if up {
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
