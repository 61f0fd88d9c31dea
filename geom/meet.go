package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// meet gives the points, at most two, where two edges cross or touch inside, a
// tangent within near counting as a touch. It does not look for ends that lie on
// the other edge, nor for overlaps, whose limits are such ends.
func meet(e, f Edge) (at [2]orb.Point, n int) {
	switch {
	case e.Straight() && f.Straight():
		return meetLines(e, f)
	case f.Straight():
		return meetLineArc(f, e)
	case e.Straight():
		return meetLineArc(e, f)
	}
	return meetArcs(e, f)
}

func meetLines(e, f Edge) (at [2]orb.Point, n int) {
	ux, uy := e.B[0]-e.A[0], e.B[1]-e.A[1]
	vx, vy := f.B[0]-f.A[0], f.B[1]-f.A[1]
	wx, wy := f.A[0]-e.A[0], f.A[1]-e.A[1]
	det := ux*vy - uy*vx
	if det == 0 {
		return at, 0
	}
	t, s := (wx*vy-wy*vx)/det, (wx*uy-wy*ux)/det
	if !(t > 0 && t < 1 && s > 0 && s < 1) {
		return at, 0
	}
	at[0] = orb.Point{e.A[0] + t*ux, e.A[1] + t*uy}
	if f.Dist(at[0]) > near { // all but parallel: the solution is rounding
		return at, 0
	}
	return at, 1
}

func meetLineArc(l, a Edge) (at [2]orb.Point, n int) {
	c, r := a.Arc()
	ux, uy := l.B[0]-l.A[0], l.B[1]-l.A[1]
	len := math.Hypot(ux, uy)
	if len == 0 {
		return at, 0
	}
	ux, uy = ux/len, uy/len
	wx, wy := c[0]-l.A[0], c[1]-l.A[1]
	mid := wx*ux + wy*uy
	off := ux*wy - uy*wx // centre to the left of the line
	h := (r - math.Abs(off)) * (r + math.Abs(off))
	ts := [2]float64{mid, mid}
	k := 1
	switch {
	case math.Abs(math.Abs(off)-r) <= near:
	case h < 0:
		return at, 0
	default:
		h = math.Sqrt(h)
		ts, k = [2]float64{mid - h, mid + h}, 2
	}
	for _, t := range ts[:k] {
		q := orb.Point{l.A[0] + t*ux, l.A[1] + t*uy}
		if t > 0 && t < len && a.Dist(q) <= near {
			at[n] = q
			n++
		}
	}
	return at, n
}

func meetArcs(e, f Edge) (at [2]orb.Point, n int) {
	c1, r1 := e.Arc()
	c2, r2 := f.Arc()
	dx, dy := c2[0]-c1[0], c2[1]-c1[1]
	d := math.Hypot(dx, dy)
	if d <= near {
		return at, 0 // concentric: the same circle or no common point
	}
	ux, uy := dx/d, dy/d
	var qs [2]orb.Point
	k := 1
	gap := math.Max(d-r1-r2, math.Max(r1-r2-d, r2-r1-d)) // > 0: apart
	switch {
	case gap > near:
		return at, 0
	case gap > -near:
		s := r1 // towards the other centre, away from it if the other is larger
		if r2 > r1 && r2 > d {
			s = -r1
		}
		qs[0] = orb.Point{c1[0] + s*ux, c1[1] + s*uy}
	default:
		x := (d*d + (r1-r2)*(r1+r2)) / (2 * d)
		h := math.Sqrt(math.Max(0, (r1-x)*(r1+x)))
		qs[0] = orb.Point{c1[0] + x*ux - h*uy, c1[1] + x*uy + h*ux}
		qs[1] = orb.Point{c1[0] + x*ux + h*uy, c1[1] + x*uy - h*ux}
		k = 2
	}
	for _, q := range qs[:k] {
		if e.Dist(q) <= near && f.Dist(q) <= near {
			at[n] = q
			n++
		}
	}
	return at, n
}
