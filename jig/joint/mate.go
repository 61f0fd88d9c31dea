package joint

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// Two cutters of a set mate where their radii, one board's cut being the mirror
// image of the other's, add up to a constant: r_A(h) + r_B(h + rise) = sum on the
// edges that bear, and nowhere less, or wood would run into wood.

// A mate is how the second profile stands to the first.
type mate struct {
	rise float64 // height in the second profile that meets the height 0 of the first
	sum  float64 // of the two radii where the boards bear
}

const (
	riseStep = 0.05 // mm, between the rises tried where edges do not say
	// mostPairs is how many of the longest edges of each profile are looked at for
	// bearings: pairs of their pairs are.
	mostPairs = 24

	slack = 1e-8 // mm by which a sum may be less and is still the greatest
)

// mateOf finds how two profiles go together: so close as wood allows, and where
// the tongue has play in the groove, in its middle, so that their centre lines are
// level. It looks at the first profile's heights w; the second one must reach over
// all of them. It is false if it nowhere does.
//
// For a rise the sum is the least of r_A + r_B; the mate is the greatest of these
// sums. Where straight edges bear, or arcs of one radius, the rise follows from
// them exactly; those are tried first, then a grid, refined about its best.
func mateOf(a, b geom.Path, w [2]float64) (mate, bool) {
	a = a.Between(w[0], w[1])
	lo, hi := heights(b)
	from, to := lo-w[0], hi-w[1]
	if len(a.V) == 0 || from > to+geom.Tol {
		return mate{}, false
	}
	if from > to {
		from, to = (from+to)/2, (from+to)/2
	}
	mirrored := b.Move(geom.MirrorX(0))
	sum := func(rise float64) float64 {
		d, _, ok := mirrored.Move(geom.Shift(0, -rise)).Beyond(a)
		if !ok {
			return math.Inf(-1)
		}
		return -d
	}
	best := mate{sum: math.Inf(-1)}
	try := func(rise float64) {
		if rise < from-geom.Tol || rise > to+geom.Tol {
			return
		}
		if s := sum(rise); s > best.sum+slack {
			best = mate{rise, s}
		}
	}
	for _, rise := range rises(a, b) {
		try(rise)
	}
	n := int(math.Ceil((to - from) / riseStep))
	grid := mate{sum: math.Inf(-1)}
	for i := 0; i <= n; i++ {
		rise := from + (to-from)*float64(i)/math.Max(1, float64(n))
		if s := sum(rise); s > grid.sum {
			grid = mate{rise, s}
		}
	}
	l, r := math.Max(from, grid.rise-riseStep), math.Min(to, grid.rise+riseStep)
	for range 100 {
		m1, m2 := l+(r-l)/3, r-(r-l)/3
		if sum(m1) < sum(m2) {
			l = m1
		} else {
			r = m2
		}
	}
	try(grid.rise)
	try((l + r) / 2)
	if math.IsInf(best.sum, 0) {
		return mate{}, false
	}
	// The middle of the play.
	holds := func(rise float64) bool { return sum(rise) >= best.sum-slack }
	edge := func(step, end float64) float64 {
		in := best.rise
		for {
			out := in + step
			if (out-end)*step > 0 {
				out = end
			}
			if !holds(out) {
				for range 60 {
					if mid := (in + out) / 2; holds(mid) {
						in = mid
					} else {
						out = mid
					}
				}
				return in
			}
			if in = out; in == end {
				return end
			}
		}
	}
	low, high := edge(-riseStep, math.Min(from, best.rise)), edge(riseStep, math.Max(to, best.rise))
	if high-low > geom.Tol { // else it is but what slack lets through
		best.rise = (low + high) / 2
	}
	return best, true
}

// rises are the differences in height at which an edge of the first profile and
// one of the mirrored second may bear together with another pair: level edges of
// equal height, two pairs of parallel edges, a pair of arcs of one radius.
func rises(a, b geom.Path) []float64 {
	type line struct {
		n orb.Point // unit normal
		d float64   // n·shift, of the shift that lays the second edge on the first
	}
	var lines []line
	var out []float64
	for _, e := range longestEdges(a, mostPairs) {
		for _, f := range longestEdges(b, mostPairs) {
			p, q := e.At(0.5), f.At(0.5)
			switch {
			case e.Straight() && f.Straight():
				u, v := e.Direction(0), f.Direction(0)
				v[0] = -v[0]
				if math.Abs(u[0]*v[1]-u[1]*v[0])*math.Min(e.Length(), f.Length()) > 2*geom.Tol {
					continue
				}
				n := orb.Point{u[1], -u[0]}
				lines = append(lines, line{n, n[0]*(p[0]+q[0]) + n[1]*(p[1]-q[1])})
			case !e.Straight() && !f.Straight():
				c, r := e.Arc()
				d, s := f.Arc()
				if math.Abs(r-s) <= geom.Tol {
					out = append(out, d[1]-c[1])
				}
			}
		}
	}
	seen := map[int64]bool{}
	add := func(rise float64) {
		if key := int64(math.Round(rise * 1e9)); !seen[key] {
			seen[key] = true
			out = append(out, rise)
		}
	}
	for i, l := range lines {
		if math.Abs(l.n[0]) < 1e-9 { // level
			add(-l.d / l.n[1])
			continue
		}
		for _, m := range lines[i+1:] {
			if det := l.n[0]*m.n[1] - l.n[1]*m.n[0]; math.Abs(det) > 0.05 {
				add(-(l.n[0]*m.d - m.n[0]*l.d) / det)
			}
		}
	}
	return out
}
