package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// Length of the path in mm.
func (p Path) Length() float64 {
	l := 0.0
	for i := range p.Edges() {
		l += p.Edge(i).Length()
	}
	return l
}

// Area in mm² that a closed path encloses, arcs exactly: positive if it runs
// counter-clockwise. An open path has none.
func (p Path) Area() float64 {
	if !p.Closed || len(p.V) == 0 {
		return 0
	}
	o := p.V[0].Point // far from the origin the shoelace sum would lose digits
	sum := 0.0
	for i := range p.Edges() {
		e := p.Edge(i)
		sum += (e.A[0]-o[0])*(e.B[1]-o[1]) - (e.A[1]-o[1])*(e.B[0]-o[0])
		sum += 2 * e.segmentArea()
	}
	return sum / 2
}

// segmentArea is the signed area between chord and arc: r²(θ - sin θ)/2.
func (e Edge) segmentArea() float64 {
	if e.Straight() {
		return 0
	}
	b := e.Bulge
	c2 := (e.B[0]-e.A[0])*(e.B[0]-e.A[0]) + (e.B[1]-e.A[1])*(e.B[1]-e.A[1])
	if math.Abs(b) < 0.05 {
		// θ - sin θ cancels; its series in b, times r² = c²(1+b²)²/16b²
		return c2 * b / 3 * (1 + b*b/5 - b*b*b*b/35 + b*b*b*b*b*b/105)
	}
	r2 := c2 * (1 + b*b) * (1 + b*b) / (16 * b * b)
	th := 4 * math.Atan(b)
	return r2 * (th - math.Sin(th)) / 2
}

// Bound is the smallest box around the path.
func (p Path) Bound() orb.Bound {
	if len(p.V) == 0 {
		return orb.Bound{}
	}
	b := orb.Bound{Min: p.V[0].Point, Max: p.V[0].Point}
	for i := range p.Edges() {
		b = b.Union(p.Edge(i).Bound())
	}
	return b
}

// Area of the region in mm²: outer boundaries less holes.
func (r Region) Area() float64 {
	a := 0.0
	for _, p := range r {
		a += p.Area()
	}
	return a
}

// Bound is the smallest box around all paths.
func (r Region) Bound() orb.Bound { return Bound(r) }

// Bound is the smallest box around all paths; the zero box without any.
func Bound(ps []Path) orb.Bound {
	var b orb.Bound
	first := true
	for _, p := range ps {
		if len(p.V) == 0 {
			continue
		}
		if first {
			b, first = p.Bound(), false
		} else {
			b = b.Union(p.Bound())
		}
	}
	return b
}

// Near is the point of a path nearest to some other point.
type Near struct {
	At   orb.Point
	Dist float64 // mm
	Path int     // index of the path, where there are several
	Edge int     // index of the edge
	T    float64 // fraction of that edge's length
}

// Nearest is the point of p nearest to q.
func (p Path) Nearest(q orb.Point) Near {
	if len(p.V) == 1 {
		return Near{At: p.V[0].Point, Dist: dist(p.V[0].Point, q)}
	}
	n := Near{Dist: math.Inf(1)}
	for i := range p.Edges() {
		if at, d, t := p.Edge(i).Nearest(q); d < n.Dist {
			n = Near{At: at, Dist: d, Edge: i, T: t}
		}
	}
	return n
}

// Nearest is the point of all paths nearest to q. Without a path the distance is
// infinite.
func Nearest(ps []Path, q orb.Point) Near {
	n := Near{Dist: math.Inf(1)}
	for i, p := range ps {
		if m := p.Nearest(q); m.Dist < n.Dist {
			n, n.Path = m, i
		}
	}
	return n
}

// Place is a position on a path: the fraction T of the length of edge Edge.
type Place struct {
	Edge int
	T    float64
}

// AtLength is the place s mm along the path, held to its ends.
func (p Path) AtLength(s float64) Place {
	n := p.Edges()
	for i := range n {
		l := p.Edge(i).Length()
		if s <= l || i == n-1 {
			if l == 0 {
				return Place{i, 0}
			}
			return Place{i, math.Max(0, math.Min(1, s/l))}
		}
		s -= l
	}
	return Place{}
}

// LengthTo is the way in mm along the path from its start to the place.
func (p Path) LengthTo(at Place) float64 {
	s := 0.0
	for i := 0; i < at.Edge; i++ {
		s += p.Edge(i).Length()
	}
	if at.Edge < p.Edges() {
		s += at.T * p.Edge(at.Edge).Length()
	}
	return s
}

// Point at the place.
func (p Path) Point(at Place) orb.Point {
	if p.Edges() == 0 {
		return p.V[0].Point
	}
	return p.Edge(at.Edge).At(at.T)
}

// Cut is the open piece of the path from s0 to s1 mm along it. On a closed path
// s1 may exceed the length: the piece runs on past the start.
func (p Path) Cut(s0, s1 float64) Path {
	out := Path{}
	add := func(e Edge) {
		if dist(e.A, e.B) < join {
			return
		}
		if n := len(out.V); n == 0 {
			out.V = append(out.V, Vertex{e.A, e.Bulge})
		} else {
			out.V[n-1] = Vertex{out.V[n-1].Point, e.Bulge}
		}
		out.V = append(out.V, Vertex{Point: e.B})
	}
	s := 0.0
	for i := 0; s < s1; i++ {
		if i >= p.Edges() && (!p.Closed || i >= 2*p.Edges()) {
			break
		}
		e := p.Edge(i % p.Edges())
		l := e.Length()
		if s+l > s0 && l > 0 {
			t0, t1 := math.Max(0, (s0-s)/l), math.Min(1, (s1-s)/l)
			if t0*l < join { // a whole edge keeps its vertices
				t0 = 0
			}
			if (1-t1)*l < join {
				t1 = 1
			}
			if t1 > t0 {
				add(e.part(t0, t1))
			}
		}
		s += l
	}
	if len(out.V) == 0 && len(p.V) > 0 {
		out.V = []Vertex{{Point: p.Point(p.AtLength(s0))}}
	}
	return out
}

// part is the piece of the edge between two fractions of its length.
func (e Edge) part(t0, t1 float64) Edge {
	a, b := e.At(t0), e.At(t1)
	if e.Bulge == 0 {
		return Edge{a, b, 0}
	}
	if t0 <= 0 && t1 >= 1 {
		return e
	}
	return Edge{a, b, math.Tan((t1 - t0) * math.Atan(e.Bulge))}
}
