package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// Merge is the path without the vertices that divide one line or one arc: where
// neighbouring edges are collinear or of one circle, within 1e-9 mm, and go on in
// the same direction. Arcs of more than a half circle stay divided. Path.Merge
// moves no point of the path by more than 1e-9 mm.
//
// A closed path keeps its first vertex unless that one divides an edge too.
func (p Path) Merge() Path {
	n := p.Edges()
	if n < 2 {
		return p
	}
	es := make([]Edge, 0, n)
	for i := range n {
		e := p.Edge(i)
		if k := len(es); k > 0 {
			if j, ok := inLine(es[k-1], e); ok {
				es[k-1] = j
				continue
			}
		}
		es = append(es, e)
	}
	if p.Closed && len(es) > 2 {
		if j, ok := inLine(es[len(es)-1], es[0]); ok {
			es[len(es)-1] = j
			es = es[1:]
		}
	}
	out := Path{V: make([]Vertex, 0, len(es)+1), Closed: p.Closed}
	for _, e := range es {
		out.V = append(out.V, Vertex{e.A, e.Bulge})
	}
	if !p.Closed {
		out.V = append(out.V, Vertex{Point: es[len(es)-1].B})
	}
	return out
}

// inLine joins two edges, the second starting where the first ends, if they are
// one line or one arc of at most a half circle.
func inLine(e, f Edge) (Edge, bool) {
	if e.Straight() != f.Straight() {
		return Edge{}, false
	}
	u, v := e.Direction(1), f.Direction(0)
	if u[0]*v[0]+u[1]*v[1] <= 0 {
		return Edge{}, false
	}
	if e.Straight() {
		j := Edge{e.A, f.B, 0}
		_, d, _ := j.Nearest(e.B)
		return j, d <= join
	}
	if e.Bulge > 0 != (f.Bulge > 0) {
		return Edge{}, false
	}
	// The quarter angles add up: tan(p+q) with |p+q| at most 45°.
	b := (e.Bulge + f.Bulge) / (1 - e.Bulge*f.Bulge)
	if e.Bulge*f.Bulge >= 1 || math.Abs(b) > 1+1e-9 {
		return Edge{}, false
	}
	j := Edge{e.A, f.B, math.Max(-1, math.Min(1, b))}
	for _, q := range [3]orb.Point{e.At(0.5), e.B, f.At(0.5)} {
		if j.Dist(q) > join {
			return Edge{}, false
		}
	}
	return j, true
}
