package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// Between is the part of a rising path with y0 ≤ y ≤ y1, arcs exactly. A level
// stretch within 1e-9 mm of either limit is kept whole, as is a vertex. The path
// has no vertices where p does not reach.
func (p Path) Between(y0, y1 float64) Path {
	var out Path
	for i := range p.Edges() {
		e := p.Edge(i)
		if e.B[1] < y0-join || e.A[1] > y1+join {
			continue
		}
		if e = e.between(y0, y1); dist(e.A, e.B) <= join {
			continue
		}
		if len(out.V) == 0 {
			out.V = append(out.V, Vertex{Point: e.A})
		}
		out.V[len(out.V)-1].Bulge = e.Bulge
		out.V = append(out.V, Vertex{Point: e.B})
	}
	return out
}

// between is the part of a rising edge with y0 ≤ y ≤ y1.
func (e Edge) between(y0, y1 float64) Edge {
	a, b := e.A, e.B
	if a[1] < y0-join {
		a = e.atHeight(y0)
	}
	if b[1] > y1+join {
		b = e.atHeight(y1)
	}
	return e.Part(a, b)
}

func (e Edge) atHeight(y float64) orb.Point {
	switch {
	case y <= e.A[1]:
		return e.A
	case y >= e.B[1]:
		return e.B
	}
	return orb.Point{e.xAt(y), y}
}

// Part is the stretch of the edge from a to b, both lying on it in its order.
func (e Edge) Part(a, b orb.Point) Edge {
	if e.Bulge == 0 || a == e.A && b == e.B {
		return Edge{a, b, e.Bulge}
	}
	t0, t1 := 0.0, 1.0
	if a != e.A {
		_, _, t0 = e.Nearest(a)
	}
	if b != e.B {
		_, _, t1 = e.Nearest(b)
	}
	return Edge{a, b, math.Tan((t1 - t0) * math.Atan(e.Bulge))}
}
