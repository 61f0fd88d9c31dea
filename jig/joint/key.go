package joint

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// A key is what of a profile interlocks: the stretch where the radius goes in and
// comes out again, which leaves a tongue on the board, or goes out and comes in
// again, which leaves a groove. Of several the one that stands out most.
type key struct {
	tongue bool
	tip    float64    // its least radius, a tongue's; its greatest, a groove's
	depth  float64    // from the tip to the nearer of the two shoulders
	mid    float64    // height halfway between its cheeks, at half the depth
	base   [2]float64 // its lowest and highest height, at the whole depth
}

// keyOf finds the key of an upward path. It is false for a profile that only
// widens or only narrows.
func keyOf(p geom.Path) (key, bool) {
	qs := extremes(p)
	var best key
	at := -1
	for i := 1; i+1 < len(qs); i++ {
		for _, sign := range [2]float64{1, -1} { // a least radius, a greatest one
			// As far as no point lies beyond the tip on either side, how far
			// the profile stands back from it.
			back := [2]float64{}
			for k, step := range [2]int{-1, 1} {
				for j := i + step; j >= 0 && j < len(qs) && sign*(qs[j].Point[0]-qs[i].Point[0]) >= 0; j += step {
					back[k] = math.Max(back[k], sign*(qs[j].Point[0]-qs[i].Point[0]))
				}
			}
			if d := math.Min(back[0], back[1]); d > best.depth+seam {
				best, at = key{tongue: sign > 0, tip: qs[i].Point[0], depth: d}, i
			}
		}
	}
	if best.depth < geom.Tol {
		return key{}, false
	}
	sign := 1.0
	if !best.tongue {
		sign = -1
	}
	lo, hi := cheeks(p, qs[at], best.tip+sign*best.depth/2)
	best.mid = (lo + hi) / 2
	// Just short of the base, where the cheeks still rise.
	best.base[0], best.base[1] = cheeks(p, qs[at], best.tip+sign*(best.depth-2*seam))
	return best, true
}

// A turning is a place where a path's radius may be least or greatest: the point,
// and how far along it lies, in edges.
type turning struct {
	orb.Point
	at float64
}

// extremes are the vertices of a path and the points of its arcs where the radius
// is least or greatest, in order.
func extremes(p geom.Path) []turning {
	var out []turning
	for i := range p.Edges() {
		e := p.Edge(i)
		out = append(out, turning{e.A, float64(i)})
		if e.Straight() {
			continue
		}
		c, r := e.Arc()
		for _, x := range [2]float64{c[0] - r, c[0] + r} {
			if q, d, t := e.Nearest(orb.Point{x, c[1]}); d < seam && q != e.A && q != e.B {
				out = append(out, turning{q, float64(i) + t})
			}
		}
	}
	if n := p.Edges(); n > 0 {
		out = append(out, turning{p.End(), float64(n)})
	}
	return out
}

// cheeks gives the heights of the last place before q and of the first after it at
// which the path comes to the radius x.
func cheeks(p geom.Path, q turning, x float64) (below, above float64) {
	below, above = p.Start()[1], p.End()[1]
	found := false
	for i := range p.Edges() {
		e := p.Edge(i)
		ts := crossUpright(e, x)
		for t, v := range [2]orb.Point{e.A, e.B} {
			if math.Abs(v[0]-x) < seam {
				ts = append(ts, float64(t))
			}
		}
		slices.Sort(ts)
		for _, t := range ts {
			switch at := float64(i) + t; {
			case at < q.at:
				below = e.At(t)[1]
			case at > q.at && !found:
				above, found = e.At(t)[1], true
			}
		}
	}
	return below, above
}
