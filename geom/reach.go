package geom

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"github.com/paulmach/orb"
)

// This file answers how far right a rising path reaches at a height. A rising
// path is one whose y never falls from its first vertex to its last, arcs
// included: a cutter's profile, a cut line. Heights within 1e-9 mm of a vertex
// count as the vertex's. Within Tol of the height of an arc that dips by less than
// Tol the answer is that of the arc's ends.

// Falls is the first place at which y falls along the edge. Its end must not lie
// below its start at all; an arc's lowest point may lie below its start, its
// highest above its end, by Tol, because a bulge is stated to few digits.
func (e Edge) Falls() (at orb.Point, falls bool) {
	if e.B[1] < e.A[1] {
		return e.A, true
	}
	if e.Straight() {
		return orb.Point{}, false
	}
	if q, ok := e.extreme(orb.Point{0, -1}); ok && q[1] < e.A[1]-Tol {
		return e.A, true
	}
	if q, ok := e.extreme(orb.Point{0, 1}); ok && q[1] > e.B[1]+Tol {
		return q, true
	}
	return orb.Point{}, false
}

// MostX is the point of the edge with the greatest x, MostX of its reverse the
// same. LeastX is the point with the least.
func (e Edge) MostX() orb.Point { return e.farthest(orb.Point{1, 0}) }

// LeastX is the point of the edge with the least x.
func (e Edge) LeastX() orb.Point { return e.farthest(orb.Point{-1, 0}) }

func (e Edge) farthest(d orb.Point) orb.Point {
	best := e.A
	if (e.B[0]-e.A[0])*d[0]+(e.B[1]-e.A[1])*d[1] > 0 {
		best = e.B
	}
	if e.Straight() {
		return best
	}
	if q, ok := e.extreme(d); ok && (q[0]-best[0])*d[0]+(q[1]-best[1])*d[1] > 0 {
		return q
	}
	return best
}

// extreme is the point inside an arc at which it bulges furthest towards the unit
// vector d. It is reckoned from A, not from the centre, so that a flat arc loses
// no digits.
//
// With the left normal n0 at A and the signed curvature k, the normal at the
// point v from A is n0 - k·v. At an extreme it is -d for a counter-clockwise arc
// and d for a clockwise one.
func (e Edge) extreme(d orb.Point) (orb.Point, bool) {
	if e.Bulge < 0 {
		d = orb.Point{-d[0], -d[1]}
	}
	t0, t1 := e.Direction(0), e.Direction(1)
	// The tangent there: d turned left. It lies within the sweep if it is left of
	// the first and right of the last tangent (mirrored if clockwise).
	t := orb.Point{-d[1], d[0]}
	s := math.Copysign(1, e.Bulge)
	if s*(t0[0]*t[1]-t0[1]*t[0]) <= 0 || s*(t[0]*t1[1]-t[1]*t1[0]) <= 0 {
		return orb.Point{}, false
	}
	k := e.curvature()
	n0 := orb.Point{-t0[1], t0[0]}
	// n0 + d without cancellation: the chord of the turned angle a has length
	// 2 sin(a/2) and is turned by a/2 from t0.
	a := math.Atan2(t0[0]*t[1]-t0[1]*t[0], t0[0]*t[0]+t0[1]*t[1])
	sin, cos := math.Sincos(a / 2)
	l := 2 * sin / k
	return orb.Point{e.A[0] + l*(cos*t0[0]+sin*n0[0]), e.A[1] + l*(cos*t0[1]+sin*n0[1])}, true
}

// curvature is 1/r, positive counter-clockwise: 4b/(c(1+b²)).
func (e Edge) curvature() float64 {
	return 4 * e.Bulge / (dist(e.A, e.B) * (1 + e.Bulge*e.Bulge))
}

// xAt is the x of a rising edge at the height y between its ends; of a level
// edge, the greatest.
func (e Edge) xAt(y float64) float64 {
	if e.B[1]-e.A[1] <= join {
		return e.MostX()[0]
	}
	dy := y - e.A[1]
	switch {
	case dy <= 0:
		return e.A[0]
	case y >= e.B[1]:
		return e.B[0]
	case e.Straight():
		return e.A[0] + dy/(e.B[1]-e.A[1])*(e.B[0]-e.A[0])
	}
	// Points v of the arc satisfy k·|v|² = 2 v·n0. While the arc rises, its normal
	// n0 - k·v points left, which picks the root.
	t := e.Direction(0)
	nx, ny, k := -t[1], t[0], e.curvature()
	q := dy * (k*dy - 2*ny)
	den := nx - math.Sqrt(max(0, nx*nx-k*q))
	if den > -1e-12 { // level at both heights: a half circle from A to straight above
		return e.A[0]
	}
	return e.A[0] + q/den
}

// XAt is the greatest x of a rising path at the height y, exact on arcs. It is
// false above and below the path.
func (p Path) XAt(y float64) (x float64, ok bool) {
	x = math.Inf(-1)
	n := p.Edges()
	for i := sort.Search(n, func(i int) bool { return y <= p.Edge(i).B[1]+join }); i < n; i++ {
		e := p.Edge(i)
		if y < e.A[1]-join {
			break
		}
		x = max(x, e.xAt(y))
	}
	return x, !math.IsInf(x, -1)
}

// MostX is the point with the greatest x of a rising path between the heights y0
// and y1, both included; of several the lowest. It is false if the path lies
// wholly above or below.
func (p Path) MostX(y0, y1 float64) (at orb.Point, ok bool) {
	take := func(q orb.Point) {
		if !ok || q[0] > at[0]+join {
			at, ok = q, true
		}
	}
	for i := range p.Edges() {
		e := p.Edge(i)
		lo, hi := max(y0, e.A[1]), min(y1, e.B[1])
		if lo > hi+join {
			continue
		}
		if e.B[1]-e.A[1] <= join {
			take(e.MostX())
			continue
		}
		take(orb.Point{e.xAt(lo), lo})
		if m := e.MostX(); m[1] > lo && m[1] < hi {
			take(m)
		}
		take(orb.Point{e.xAt(hi), hi})
	}
	return at, ok
}

// Beyond is how far p stands to the right of q at most, and at which height, over
// the heights that both rising paths have; negative if p lies left of q
// throughout. At a level edge the limits from below and above count, not the edge
// itself. It is false if the paths share no stretch of height.
//
// Between two neighbouring vertices' heights each path is one edge. The distance
// is stationary where the edges are parallel, n0 - k·(y - y0) equal in both.
func (p Path) Beyond(q Path) (d, y float64, ok bool) {
	if p.Edges() == 0 || q.Edges() == 0 {
		return 0, 0, false
	}
	var ys []float64
	lo := max(p.Start()[1], q.Start()[1])
	hi := min(p.End()[1], q.End()[1])
	for _, v := range append(append([]Vertex(nil), p.V...), q.V...) {
		if v.Y() >= lo && v.Y() <= hi {
			ys = append(ys, v.Y())
		}
	}
	slices.Sort(ys)
	d = math.Inf(-1)
	for i := 1; i < len(ys); i++ {
		if ys[i]-ys[i-1] <= join {
			continue
		}
		mid := ys[i-1] + (ys[i]-ys[i-1])/2
		a, b := p.edgeAcross(mid), q.edgeAcross(mid)
		look := func(at float64) {
			if g := a.xAt(at) - b.xAt(at); g > d {
				d, y, ok = g, at, true
			}
		}
		look(ys[i-1])
		look(ys[i])
		ka, kb := a.bend(), b.bend()
		if ka != kb {
			s := (a.Direction(0)[0] - b.Direction(0)[0] + ka*a.A[1] - kb*b.A[1]) / (ka - kb)
			if s > ys[i-1] && s < ys[i] {
				look(s)
			}
		}
	}
	return d, y, ok
}

// edgeAcross is the edge of a rising path that passes the height y, which is no
// vertex's.
func (p Path) edgeAcross(y float64) Edge {
	n := p.Edges()
	i, _ := slices.BinarySearchFunc(p.V[1:n], y, func(v Vertex, y float64) int { return cmp.Compare(v.Y(), y) })
	return p.Edge(i)
}

func (e Edge) bend() float64 {
	if e.Straight() {
		return 0
	}
	return e.curvature()
}
