package joint

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// Board is the section of the board after the pass, in the pass's table frame: a
// closed counter-clockwise path, cut off at the length mm from the cutter's end.
// Slivers that the cutter leaves loose count as wood.
func (p Pass) Board(length float64) geom.Path {
	end := p.end()
	last := end.V[len(end.V)-1].Point
	var back []geom.Vertex
	if p.Lies == Flat {
		back = []geom.Vertex{geom.V(length, p.Stock), geom.V(length, 0)}
	} else {
		back = []geom.Vertex{geom.V(0, length), geom.V(p.Stock, length)}
		if last[0] > seam && length-last[1] > seam { // above the cutter's top the board is whole
			back = append([]geom.Vertex{geom.V(0, last[1])}, back...)
		}
		if first := end.V[0].Point; math.Abs(first[0]-p.Stock) > seam {
			back = append(back, geom.V(p.Stock, first[1]))
		}
		if length-last[1] <= seam {
			back = back[1:]
		}
	}
	out := geom.Path{V: append(append([]geom.Vertex(nil), end.V...), back...), Closed: true}
	return out.Reverse()
}

// end is the upward boundary that fence and cutter give a board: x = max(0, X(z)),
// and x = 0 where the cutter has no edge. A flat board's runs over 0 ≤ z ≤ T. An
// upright board's is also held to x ≤ T and begins where wood is left; it ends
// above the cutter.
func (p Pass) end() geom.Path {
	top := p.Stock
	limit := math.Inf(1)
	if p.Lies == Upright {
		_, hi := heights(p.Profile())
		top, limit = math.Max(hi, 0), p.Stock
	}
	line := p.Profile().Between(0, top)
	var v []geom.Vertex
	add := func(a geom.Vertex) {
		if n := len(v); n > 0 && math.Hypot(v[n-1].X()-a.X(), v[n-1].Y()-a.Y()) < seam {
			v[n-1].Bulge = a.Bulge
			return
		}
		v = append(v, a)
	}
	if len(line.V) == 0 {
		return geom.Path{V: []geom.Vertex{geom.V(0, 0), geom.V(0, top)}}
	}
	if z := line.Start()[1]; z > seam {
		add(geom.V(0, 0))
		add(geom.V(0, z))
	}
	for i := range line.Edges() {
		for _, e := range hold(line.Edge(i), 0, limit) {
			add(geom.Vertex{Point: e.A, Bulge: e.Bulge})
			add(geom.Vertex{Point: e.B})
		}
	}
	if z := line.End()[1]; top-z > seam {
		add(geom.V(0, z))
		add(geom.V(0, top))
	}
	for p.Lies == Upright && len(v) > 2 && v[0].X() >= limit-seam && v[1].X() >= limit-seam {
		v = v[1:] // nothing of the board is left below
	}
	return geom.Path{V: v}
}

// hold keeps an upward edge within lo ≤ x ≤ hi: what lies beyond is replaced by
// the line along the limit.
func hold(e geom.Edge, lo, hi float64) []geom.Edge {
	ts := append([]float64{0}, crossUpright(e, lo)...)
	if !math.IsInf(hi, 0) {
		ts = append(ts, crossUpright(e, hi)...)
	}
	slices.Sort(ts)
	ts = append(ts, 1)
	var out []geom.Edge
	for i := 1; i < len(ts); i++ {
		a, b := e.At(ts[i-1]), e.At(ts[i])
		if a == b {
			continue
		}
		switch m := e.At((ts[i-1] + ts[i]) / 2); {
		case m[0] < lo:
			out = append(out, geom.Edge{A: orb.Point{lo, a[1]}, B: orb.Point{lo, b[1]}})
		case m[0] > hi:
			out = append(out, geom.Edge{A: orb.Point{hi, a[1]}, B: orb.Point{hi, b[1]}})
		default:
			out = append(out, e.Part(a, b))
		}
	}
	return out
}

// crossUpright gives the fractions of the edge's length, in order and within the
// edge, at which it crosses the upright line at x.
func crossUpright(e geom.Edge, x float64) []float64 {
	if e.Straight() {
		if a, b := e.A[0]-x, e.B[0]-x; a*b < 0 {
			return []float64{a / (a - b)}
		}
		return nil
	}
	c, r := e.Arc()
	d := x - c[0]
	if math.Abs(d) >= r {
		return nil
	}
	w := math.Sqrt((r - d) * (r + d))
	var ts []float64
	for _, q := range [2]orb.Point{{x, c[1] - w}, {x, c[1] + w}} {
		if at, gap, t := e.Nearest(q); gap < seam && at != e.A && at != e.B {
			ts = append(ts, t)
		}
	}
	return ts
}

// highest is the highest point of an upward path with x ≥ x0.
func highest(p geom.Path, x0 float64) (orb.Point, bool) {
	for i := p.Edges() - 1; i >= 0; i-- {
		e := p.Edge(i)
		ts := append(append([]float64{0}, crossUpright(e, x0)...), 1)
		slices.Sort(ts)
		for k := len(ts) - 1; k > 0; k-- {
			if e.At(ts[k])[0] >= x0 {
				return e.At(ts[k]), true
			}
			if e.At((ts[k-1] + ts[k]) / 2)[0] >= x0 {
				return e.At(ts[k]), true
			}
		}
		if e.A[0] >= x0 {
			return e.A, true
		}
	}
	return orb.Point{}, false
}

// lowest is the lowest point of an upward path with x ≤ x1.
func lowest(p geom.Path, x1 float64) (orb.Point, bool) {
	turn := geom.HalfTurn(orb.Point{})
	q, ok := highest(p.Move(turn).Reverse(), -x1)
	return turn.Point(q), ok
}
