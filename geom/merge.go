package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// Merge is the path without the vertices that divide one line or one arc: where
// neighbouring edges are collinear or of one circle and go on in the same
// direction. No point of the path moves by more than 1e-9 mm, however many edges
// become one. Arcs of more than a half circle stay divided.
//
// A closed path keeps its first vertex unless that one divides an edge too.
func (p Path) Merge() Path {
	n := p.Edges()
	if n < 2 {
		return p
	}
	type merged struct {
		e     Edge
		moved float64
	}
	es := make([]merged, 0, n)
	for i := range n {
		e := p.Edge(i)
		if k := len(es); k > 0 {
			l := &es[k-1]
			if j, d, ok := inLine(l.e, e); ok && l.moved+d <= join {
				l.e, l.moved = j, l.moved+d
				continue
			}
		}
		es = append(es, merged{e, 0})
	}
	if p.Closed && len(es) > 2 {
		l, f := &es[len(es)-1], &es[0]
		if j, d, ok := inLine(l.e, f.e); ok && l.moved+f.moved+d <= join {
			l.e = j
			es = es[1:]
		}
	}
	out := Path{V: make([]Vertex, 0, len(es)+1), Closed: p.Closed}
	for _, m := range es {
		out.V = append(out.V, Vertex{m.e.A, m.e.Bulge})
	}
	if !p.Closed {
		out.V = append(out.V, Vertex{Point: es[len(es)-1].e.B})
	}
	return out
}

// inLine joins two edges, the second starting where the first ends, if they are
// one line or one arc of at most a half circle; moved is how far that takes a point
// of either, in mm.
func inLine(e, f Edge) (j Edge, moved float64, ok bool) {
	u, v := e.Direction(1), f.Direction(0)
	if dot(u, v) <= 0 {
		return j, 0, false
	}
	if e.Bulge == 0 && f.Bulge == 0 {
		j = Edge{e.A, f.B, 0}
		moved = j.Dist(e.B)
		return j, moved, moved <= join
	}
	// The quarter angles add up: tan(p+q) with |p+q| at most 45°.
	b := (e.Bulge + f.Bulge) / (1 - e.Bulge*f.Bulge)
	if e.Bulge*f.Bulge >= 1 || math.Abs(b) > 1+1e-9 {
		return j, 0, false
	}
	j = Edge{e.A, f.B, math.Max(-1, math.Min(1, b))}
	for _, q := range [3]orb.Point{e.At(0.5), e.B, f.At(0.5)} {
		moved = math.Max(moved, j.Dist(q))
	}
	return j, moved, moved <= join
}
