package joint

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// Gap is what lies between two boards laid against each other, mm. Normal figures
// are the greatest distance from a point of one board's cut to the other board's
// surface, that is, measured along that surface's normal; the surfaces are taken
// on straight beyond their ends, so that the edge of a board is no gap. Along x
// the same gap jumps at shoulders and misleads on flat flanks; it is given for
// comparison with a feeler along the fence.
type Gap struct {
	Normal float64   // greatest gap, 0 if none
	At     orb.Point // where, first board's frame

	Interference   float64 // greatest depth of wood in wood: so far it will not go together
	InterferenceAt orb.Point

	AlongX             float64 // greatest gap along x
	InterferenceAlongX float64
}

// gap of the boards with the second laid against the first by iso.
func (s *Setting) gap(iso geom.Iso) Gap {
	rise := func(p geom.Path) geom.Path { // the half turn runs it downward
		if len(p.V) > 0 && p.Start()[1] > p.End()[1] {
			return p.Reverse()
		}
		return p
	}
	a, longA := s.Passes[0].mating(s.kind.ends)
	b, longB := s.Passes[1].mating(s.kind.ends)
	if len(a.V) == 0 || len(b.V) == 0 {
		return Gap{}
	}
	return gapOf(a, longA, rise(b.Move(iso)), rise(longB.Move(iso)))
}

// gapOf is the gap between two rising cuts, the first board to the right of a, the
// second to the left of b, each with what takes it on beyond its ends.
func gapOf(a, longA, b, longB geom.Path) Gap {
	var g Gap
	grow := func(d *float64, at *orb.Point, ps []geom.Path, from geom.Path) {
		if v, q := geom.FarthestOf(ps, []geom.Path{from}, seam); v > *d {
			*d, *at = v, q
		}
	}
	// The first board lies to the right of its line, the second to the left.
	left, right := sides(a, longB)
	grow(&g.Normal, &g.At, right, longB)
	grow(&g.Interference, &g.InterferenceAt, left, longB)
	left, right = sides(b, longA)
	grow(&g.Normal, &g.At, left, longA)
	grow(&g.Interference, &g.InterferenceAt, right, longA)
	if d, _, ok := a.Beyond(b); ok {
		g.AlongX = math.Max(0, d)
	}
	if d, _, ok := b.Beyond(a); ok {
		g.InterferenceAlongX = math.Max(0, d)
	}
	return g
}

// mating is the board's surface that meets the other board's, and the same taken
// on beyond its ends. With ends, the lip of a flat board above the cutter and the
// end of an upright one belong to it.
func (p Pass) mating(ends bool) (cut, long geom.Path) {
	cut = p.cut()
	if len(cut.V) == 0 {
		return cut, cut
	}
	lo, hi := heights(p.Profile())
	if !ends {
		return cut, prolong(p.Profile(), hi-lo+p.Stock)
	}
	if p.Lies == Flat {
		cut.V = append(cut.V, geom.V(0, cut.End()[1]))
	} else {
		cut.V = append([]geom.Vertex{geom.V(p.Stock, cut.Start()[1])}, cut.V...)
	}
	return cut, prolong(cut, hi-lo+p.Stock)
}

// cut is the part of the cut line that is wood's edge: above the table, x on the
// board.
func (p Pass) cut() geom.Path {
	line := p.Profile().Between(0, p.Stock)
	if p.Lies == Upright {
		line = p.Profile().Between(0, math.Inf(1))
	}
	if len(line.V) == 0 {
		return line
	}
	from, to := line.Start()[1], line.End()[1]
	if q, ok := highest(line, 0); ok {
		to = q[1]
	}
	if q, ok := lowest(line, p.Stock); ok && p.Lies == Upright {
		from = q[1]
	}
	return line.Between(from, to)
}

// sides cuts a rising path into pieces that lie wholly to the left or wholly to
// the right of another one that is long enough to have both sides. What lies on
// the other path is on neither side.
func sides(p, line geom.Path) (left, right []geom.Path) {
	cuts := make([][]geom.Meet, p.Edges())
	for _, c := range geom.Crossings(p, line) {
		cuts[c.I] = append(cuts[c.I], c.Meet[:c.N]...)
	}
	for i := range cuts {
		e := p.Edge(i)
		slices.SortFunc(cuts[i], func(a, b geom.Meet) int { return cmp.Compare(a.TA, b.TA) })
		from := e.A
		for _, cut := range append(cuts[i], geom.Meet{TA: 1}) {
			to := e.At(cut.TA)
			piece := e.Part(from, to)
			from = to
			m := piece.At(0.5)
			whole := geom.Path{V: []geom.Vertex{{Point: piece.A, Bulge: piece.Bulge}, {Point: piece.B}}}
			switch lo, hi := across(line, m[1]); {
			case m[0] > hi:
				right = append(right, whole)
			case m[0] < lo:
				left = append(left, whole)
			}
		}
	}
	return left, right
}

func level(e geom.Edge) bool { return e.B[1]-e.A[1] <= seam }

// across is the least and the greatest x of a rising path at the height z.
func across(p geom.Path, z float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	n := p.Edges()
	for i := sort.Search(n, func(i int) bool { return p.Edge(i).B[1]+seam >= z }); i < n; i++ {
		e := p.Edge(i)
		if z < e.A[1]-seam {
			break
		}
		if level(e) {
			lo, hi = math.Min(lo, e.LeastX()[0]), math.Max(hi, e.MostX()[0])
			continue
		}
		x := reach(geom.Path{V: []geom.Vertex{{Point: e.A, Bulge: e.Bulge}, {Point: e.B}}}, z)
		lo, hi = math.Min(lo, x), math.Max(hi, x)
	}
	return lo, hi
}
