package geom

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// A Vertex is a point and the bulge of the edge that leaves it.
//
// Bulge is tan(θ/4), θ the included angle of the arc to the next vertex:
// positive counter-clockwise, 0 a straight line, ±1 a half circle. This is the
// definition of the DXF Reference (LWPOLYLINE, group 42). |Bulge| is at most 1;
// [NewPath] splits larger arcs. The bulge of an open path's last vertex has no
// meaning and is 0.
type Vertex struct {
	orb.Point
	Bulge float64
}

// A Path is a chain of lines and arcs. A closed path has an edge from its last
// vertex back to its first; it does not repeat the first vertex. A path of one
// vertex is a point: what is left where a tool fits exactly.
type Path struct {
	V      []Vertex
	Closed bool
}

// A Region is a set of closed paths: outer boundaries counter-clockwise, holes
// clockwise, none crossing another or itself.
type Region []Path

// V makes a vertex whose outgoing edge is straight.
func V(x, y float64) Vertex { return Vertex{Point: orb.Point{x, y}} }

// B makes a vertex whose outgoing edge has the given bulge.
func B(x, y, bulge float64) Vertex { return Vertex{Point: orb.Point{x, y}, Bulge: bulge} }

// NewPath makes a path from vertices whose bulges may have any finite size: arcs
// of more than a half circle are split into equal parts. Vertices that repeat
// the one before within 1e-9 mm are dropped (an edge of no length has no
// direction). It fails on coordinates that are no numbers and on a path without
// vertices.
func NewPath(closed bool, v ...Vertex) (Path, error) {
	if len(v) == 0 {
		return Path{}, fmt.Errorf("geom: a path needs at least one vertex")
	}
	u := make([]Vertex, 0, len(v))
	for i, a := range v {
		if !finite(a.X()) || !finite(a.Y()) || !finite(a.Bulge) {
			return Path{}, fmt.Errorf("geom: vertex %d (%g, %g, bulge %g) is no place", i, a.X(), a.Y(), a.Bulge)
		}
		if n := len(u); n > 0 && dist(u[n-1].Point, a.Point) < join {
			u[n-1].Bulge = a.Bulge
			continue
		}
		u = append(u, a)
	}
	if n := len(u); closed && n > 1 && dist(u[n-1].Point, u[0].Point) < join {
		u = u[:n-1]
	}
	if len(u) == 1 || !closed {
		u[len(u)-1].Bulge = 0
	}
	p := Path{V: make([]Vertex, 0, len(u)), Closed: closed}
	for i, a := range u {
		if math.Abs(a.Bulge) <= 1 {
			p.V = append(p.V, a)
		} else {
			p.V = append(p.V, splitLarge(a, u[(i+1)%len(u)].Point)...)
		}
	}
	return p, nil
}

// splitLarge cuts the arc from a to b, more than a half circle, in two halves.
// Half of an arc with bulge tan(θ/4) has bulge tan(θ/8).
func splitLarge(a Vertex, b orb.Point) []Vertex {
	half := math.Tan(math.Atan(a.Bulge) / 2)
	// The middle of the arc lies at the sagitta b·c/2 to the right of the chord
	// of a counter-clockwise arc.
	mx, my := (a.X()+b.X())/2, (a.Y()+b.Y())/2
	dx, dy := b.X()-a.X(), b.Y()-a.Y()
	m := orb.Point{mx + a.Bulge*dy/2, my - a.Bulge*dx/2}
	return []Vertex{{a.Point, half}, {m, half}}
}

// Circle is the counter-clockwise circle of radius r about c, as two arcs.
func Circle(c orb.Point, r float64) Path {
	return Path{V: []Vertex{B(c.X()+r, c.Y(), 1), B(c.X()-r, c.Y(), 1)}, Closed: true}
}

// Rect is the counter-clockwise rectangle with the given corners.
func Rect(x0, y0, x1, y1 float64) Path {
	return Path{V: []Vertex{V(x0, y0), V(x1, y0), V(x1, y1), V(x0, y1)}, Closed: true}
}

// Slot is the counter-clockwise outline of a disc of diameter w swept from a to b.
func Slot(a, b orb.Point, w float64) Path {
	l := dist(a, b)
	if l < join {
		return Circle(a, w/2)
	}
	nx, ny := (b.Y()-a.Y())/l*w/2, (a.X()-b.X())/l*w/2 // to the right of a→b
	return Path{V: []Vertex{
		V(a.X()+nx, a.Y()+ny), B(b.X()+nx, b.Y()+ny, 1),
		V(b.X()-nx, b.Y()-ny), B(a.X()-nx, a.Y()-ny, 1),
	}, Closed: true}
}

// Edges is the number of edges: one less than vertices on an open path.
func (p Path) Edges() int {
	if len(p.V) < 2 {
		return 0
	}
	if p.Closed {
		return len(p.V)
	}
	return len(p.V) - 1
}

// Edge is the edge that leaves vertex i.
func (p Path) Edge(i int) Edge {
	j := i + 1
	if j == len(p.V) {
		j = 0
	}
	return Edge{A: p.V[i].Point, B: p.V[j].Point, Bulge: p.V[i].Bulge}
}

// Start and End are the path's first and last point; a closed path ends where it
// starts.
func (p Path) Start() orb.Point { return p.V[0].Point }

// End is the path's last point, the first one if it is closed.
func (p Path) End() orb.Point {
	if p.Closed {
		return p.V[0].Point
	}
	return p.V[len(p.V)-1].Point
}

// Clone is a copy that shares nothing with p.
func (p Path) Clone() Path {
	return Path{V: append([]Vertex(nil), p.V...), Closed: p.Closed}
}

// Reverse is the same path travelled the other way. A closed path keeps its
// first vertex first.
func (p Path) Reverse() Path {
	n := len(p.V)
	r := Path{V: make([]Vertex, n), Closed: p.Closed}
	for i := range p.V {
		if p.Closed {
			r.V[i] = Vertex{p.V[(n-i)%n].Point, -p.V[(2*n-i-1)%n].Bulge}
		} else {
			r.V[i].Point = p.V[n-1-i].Point
			if i < n-1 {
				r.V[i].Bulge = -p.V[n-2-i].Bulge
			}
		}
	}
	return r
}

// Rotate is the same closed path with vertex k first. An open path stays as it is.
func (p Path) Rotate(k int) Path {
	if !p.Closed || len(p.V) == 0 {
		return p
	}
	k = ((k % len(p.V)) + len(p.V)) % len(p.V)
	return Path{V: append(append([]Vertex(nil), p.V[k:]...), p.V[:k]...), Closed: true}
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// Coordinates are far from where squares overflow, so math.Hypot is not needed; it
// takes several times as long.
func dist(a, b orb.Point) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	return math.Sqrt(dx*dx + dy*dy)
}
