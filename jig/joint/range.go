package joint

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// feather is the width in mm below which a land on a tip is no land, so that
// flanks whose corners were rounded to a thousandth of an inch (0.0254 mm) still
// count as lying at 45° through the centre. It decides which edges belong to the
// lock, with the misfit of a profile that is not quite symmetric added; it is never
// added to a limit.
const feather = 0.03

// limits gives the geometric and the usable range of stock for a corner joint
// by half turn with equal boards.
//
// Geometric: the edge must cover the board, T ≤ 2·min(hc - lo, hi - hc), and the
// cut line must stay on it, T ≥ 2·max|r - rc| over the lock, the profile points
// with |r - rc| > |h - hc|. Usable: a web of wood stays beside the lock, and
// nothing of edge or body above the board reaches past the fence, where it would
// meet the upright board. Derived here; the web is common practice.
// residual is how far the profile's half turn misses, and its noise.
func limits(profile, body geom.Path, c orb.Point, residual, web float64) (geometric, usable [2]float64) {
	lo, hi := heights(profile)
	geometric[1] = 2 * math.Min(c[1]-lo, hi-c[1])
	thin := feather + residual
	lock := lockWidth(profile.Between(c[1]-geometric[1]/2, c[1]+geometric[1]/2), c, thin)
	geometric[0] = 2 * lock
	usable = freeOf(above(c, thin, profile, body), [2]float64{2*lock + 2*web, geometric[1]})
	return geometric, usable
}

// heights is the lowest and the highest h of an upward path.
func heights(p geom.Path) (lo, hi float64) {
	return p.V[0].Point[1], p.V[len(p.V)-1].Point[1]
}

// lockWidth is the greatest |r - rc| over the points with |r - rc| > |h - hc|.
func lockWidth(p geom.Path, c orb.Point, thin float64) float64 {
	w := 0.0
	for i := range p.Edges() {
		for _, s := range stretches(p.Edge(i), c, thin, func(q orb.Point) float64 {
			return math.Abs(q[0]-c[0]) - math.Abs(q[1]-c[1])
		}) {
			w = math.Max(w, math.Max(math.Abs(s[0][0]-c[0]), math.Abs(s[1][0]-c[0])))
		}
	}
	return w
}

// above gives the intervals of stock for which a point of edge or body lies above
// the board and out of the fence: h > hc + T/2 and r > rc - T/2.
func above(c orb.Point, thin float64, paths ...geom.Path) [][2]float64 {
	var bad [][2]float64
	for _, p := range paths {
		for i := range p.Edges() {
			for _, s := range stretches(p.Edge(i), c, thin, func(q orb.Point) float64 {
				return (q[0] - c[0]) + (q[1] - c[1])
			}) {
				bad = append(bad, [2]float64{
					2 * (c[0] - math.Max(s[0][0], s[1][0])),
					2 * (math.Max(s[0][1], s[1][1]) - c[1]),
				})
			}
		}
	}
	return bad
}

// stretches cuts an edge at its [turns] and gives the ends of the pieces on which
// f is positive. Between the cuts neither |r - rc|, |h - hc| nor their sum or
// difference has an extreme or a change of sign, so the ends tell all. An edge on
// which f nowhere exceeds thin gives none.
func stretches(e geom.Edge, c orb.Point, thin float64, f func(orb.Point) float64) [][2]orb.Point {
	cuts := turns(e, c)
	most := 0.0
	for _, q := range cuts {
		most = math.Max(most, f(q))
	}
	if most <= thin {
		return nil
	}
	var out [][2]orb.Point
	for i := 1; i < len(cuts); i++ {
		if f(cuts[i-1])+f(cuts[i]) > seam {
			out = append(out, [2]orb.Point{cuts[i-1], cuts[i]})
		}
	}
	return out
}

// turns are the points of an edge, in order, where it begins, ends, crosses the
// level, the upright and the two 45° lines through c, and where an arc runs along
// one of these directions.
func turns(e geom.Edge, c orb.Point) []orb.Point {
	var ts []float64
	at := func(q orb.Point) {
		if p, d, t := e.Nearest(q); d < 1e-6 && p != e.A && p != e.B {
			ts = append(ts, t)
		}
	}
	const d = math.Sqrt2 / 2
	normals := [4]orb.Point{{1, 0}, {0, 1}, {d, d}, {d, -d}}
	if e.Straight() {
		for _, n := range normals { // the distance from a line is linear along the edge
			a := n[0]*(e.A[0]-c[0]) + n[1]*(e.A[1]-c[1])
			b := n[0]*(e.B[0]-c[0]) + n[1]*(e.B[1]-c[1])
			if a*b < 0 {
				ts = append(ts, a/(a-b))
			}
		}
	} else {
		m, r := e.Arc()
		for _, n := range normals {
			at(orb.Point{m[0] + r*n[0], m[1] + r*n[1]})
			at(orb.Point{m[0] - r*n[0], m[1] - r*n[1]})
			g := n[0]*(m[0]-c[0]) + n[1]*(m[1]-c[1])
			if w := (r - g) * (r + g); w > 0 {
				l := math.Sqrt(w)
				foot := orb.Point{m[0] - g*n[0], m[1] - g*n[1]}
				at(orb.Point{foot[0] - l*n[1], foot[1] + l*n[0]})
				at(orb.Point{foot[0] + l*n[1], foot[1] - l*n[0]})
			}
		}
	}
	slices.Sort(ts)
	out := []orb.Point{e.A}
	for _, t := range ts {
		out = append(out, e.At(t))
	}
	return append(out, e.B)
}

// freeOf is the longest stretch of the range r that none of the open intervals
// touches; r itself if it is empty.
func freeOf(bad [][2]float64, r [2]float64) [2]float64 {
	if r[0] > r[1] {
		return r
	}
	slices.SortFunc(bad, func(a, b [2]float64) int {
		switch {
		case a[0] < b[0]:
			return -1
		case a[0] > b[0]:
			return 1
		}
		return 0
	})
	best, from := [2]float64{r[0], r[0]}, r[0]
	try := func(to float64) {
		if to = math.Min(to, r[1]); to-from > best[1]-best[0] {
			best = [2]float64{from, to}
		}
	}
	for _, b := range bad {
		try(b[0])
		from = math.Max(from, b[1])
	}
	try(r[1])
	return best
}

// warnOfRange adds a warning where a stock lies outside the usable range.
func (s *Setting) warnOfRange() {
	for _, p := range s.Passes {
		switch t := p.Stock; {
		case t < s.Usable[0]-geom.Tol:
			s.warn("stock %s is thin for this cutter: less than %s of wood stays beside the lock; better %s or more",
				t, s.Request.Web, s.Usable[0])
		case t > s.Usable[1]+geom.Tol:
			s.warn("stock %s is thick for this cutter: above the board it reaches past the fence and meets the upright board; better %s or less",
				t, s.Usable[1])
		default:
			continue
		}
		return
	}
}
