package route

import (
	"math"
	"slices"
	"sort"

	"blockwright/geom"
)

// A contour is one closed way of the finishing pass with the roughing that comes
// before it.
type contour struct {
	job     int
	title   string
	loop    geom.Path // closed, travelled in the finishing direction
	ring    *ring     // the same
	outline bool      // runs round a plate, not inside it
	depth   int       // how many other contours it lies in
	roots   []*root   // in the order in which they are cut
	tabs    []bridge  // along the loop, in order
	hops    []hop     // along the loop, in order
	levels  *levels
	rough   *rough
	seats   *geom.Index
}

// A bridge is a tab as the finishing pass meets it.
type bridge struct {
	gap
	aside float64 // mm from the loop into the roughed kerf
}

// contours makes the contours of one job and gives each every root that it needs:
// those that run beside it somewhere, or have a track or a far lane that does.
// Where two plates stand close, one root serves both.
func contours(i int, title string, climb bool, v *levels, r *rough) []*contour {
	var out []*contour
	for _, l := range v.exact {
		out = append(out, &contour{job: i, title: title, loop: l, ring: newRing(l), outline: !inward(l, climb) && math.Abs(l.Area()) > 1e-3, levels: v, rough: r})
	}
	for _, k := range slices.Concat(r.waste, r.roots) {
		serves := map[int]bool{}
		k.besides(v.exactIndex, serves)
		for _, w := range k.wide {
			(&track{run: opened(w)}).besides(v.exactIndex, serves)
		}
		for n, c := range out {
			if serves[n] {
				c.roots = append(c.roots, k)
			}
		}
	}
	return out
}

// besides notes which of the loops are nearest to the track's vertices and to the
// middles of its edges, and to those of its kids.
func (t *track) besides(loops *geom.Index, found map[int]bool) {
	for i := range t.run.Edges() {
		e := t.run.Edge(i)
		found[loops.Nearest(e.A).Path] = true
		found[loops.Nearest(e.At(0.5)).Path] = true
	}
	for _, k := range t.kids {
		k.t.besides(loops, found)
	}
}

// order sorts the contours of all jobs: what lies deepest in others first, so
// inside walls before outlines, and small before large.
func order(cs []*contour) {
	for _, c := range cs {
		c.depth = 0
		for _, o := range cs {
			if o != c && o.loop.Winding(c.loop.V[0].Point) != 0 {
				c.depth++
			}
		}
	}
	sort.SliceStable(cs, func(a, b int) bool {
		if cs[a].depth != cs[b].depth {
			return cs[a].depth > cs[b].depth
		}
		return math.Abs(cs[a].loop.Area()) < math.Abs(cs[b].loop.Area())
	})
}
