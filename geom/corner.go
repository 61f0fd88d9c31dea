package geom

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// This file answers what a round mill leaves in an inside corner and which shapes
// relieve it. Edges that are arcs count by their tangents at the corner.

// A Corner is an inside corner: two edges that meet with the waste between them.
type Corner struct {
	At    orb.Point
	U, V  orb.Point // unit vectors from the corner along the edge before and the edge after
	Angle float64   // between the edges, measured in the waste, more than 0 and less than π
}

// Corner is the corner at vertex i of a path that has its material on the left, as
// every path of a [Region] has. It is false at an end of an open path, where the
// path goes straight on within 1e-6 rad, and at an outside corner.
func (p Path) Corner(i int) (Corner, bool) {
	n := len(p.V)
	if n < 3 && !(p.Closed && n == 2) || i < 0 || i >= n || !p.Closed && (i == 0 || i == n-1) {
		return Corner{}, false
	}
	a, b := p.Edge((i+n-1)%n).Direction(1), p.Edge(i).Direction(0)
	turn := math.Atan2(a[0]*b[1]-a[1]*b[0], a[0]*b[0]+a[1]*b[1]) // left positive
	if turn > -1e-6 || turn < -math.Pi+1e-6 {
		return Corner{}, false
	}
	return Corner{At: p.V[i].Point, U: orb.Point{-a[0], -a[1]}, V: b, Angle: math.Pi + turn}, true
}

// Tangent is how far from the corner, in mm, the fillet that a mill of radius r
// leaves touches the edges: r/tan(α/2). Derived from the two tangents of a circle.
func (c Corner) Tangent(r float64) float64 { return r / math.Tan(c.Angle/2) }

// Uncut is the distance in mm from the corner to that fillet: r(1/sin(α/2) - 1).
func (c Corner) Uncut(r float64) float64 { return r * (1/math.Sin(c.Angle/2) - 1) }

// UncutArea is the area in mm² left between the edges and the fillet:
// r²(cot(α/2) - (π-α)/2). At 90° it is 0.2146 r² (Machinery's Handbook, 31st ed.,
// p. 80, fillet area 0.215 r²).
func (c Corner) UncutArea(r float64) float64 {
	return r * r * (1/math.Tan(c.Angle/2) - (math.Pi-c.Angle)/2)
}

// Fillet is what a mill of radius r leaves standing in the corner of two straight
// edges, a region of its own: join it with the material to get the wall.
func (c Corner) Fillet(r float64) Path {
	t := c.Tangent(r)
	return Path{Closed: true, V: []Vertex{
		{Point: c.along(c.U, t)},
		{Point: c.At},
		// back along the mill's circle, which turns by π-α
		{Point: c.along(c.V, t), Bulge: math.Tan((math.Pi - c.Angle) / 4)},
	}}.outer()
}

// outer is the closed path turned counter-clockwise.
func (p Path) outer() Path {
	if p.Area() < 0 {
		return p.Reverse()
	}
	return p
}

func (c Corner) along(u orb.Point, l float64) orb.Point {
	return orb.Point{c.At[0] + l*u[0], c.At[1] + l*u[1]}
}

// Bisector is the disc of radius r to subtract from the material so that a sharp
// corner goes home: its centre lies in the waste on the bisector at the distance r,
// so it passes through the corner. Each edge loses [Corner.Loss].
func (c Corner) Bisector(r float64) Path {
	b := orb.Point{c.U[0] + c.V[0], c.U[1] + c.V[1]}
	l := math.Hypot(b[0], b[1]) // 2·cos(α/2): not small for an angle well below π
	if l < 1e-9 {
		b, l = orb.Point{c.V[1], -c.V[0]}, 1 // right of the path: the waste
	}
	return Circle(orb.Point{c.At[0] + b[0]/l*r, c.At[1] + b[1]/l*r}, r)
}

// Loss is the length in mm that each edge loses to [Corner.Bisector]:
// 2r·cos(α/2), the chord that the disc cuts off either edge.
func (c Corner) Loss(r float64) float64 { return 2 * r * math.Cos(c.Angle/2) }

// Along is the disc of radius r that touches one edge, kept, exactly at the corner:
// that edge loses nothing, the other is undercut over [Corner.Undercut]. The edge
// after the corner is kept if after is true, else the one before.
func (c Corner) Along(r float64, after bool) Path {
	n := orb.Point{c.V[1], -c.V[0]} // the waste is on the right of the path
	if !after {
		n = orb.Point{-c.U[1], c.U[0]} // right of -U, the path's direction
	}
	return Circle(c.along(n, r), r)
}

// Undercut is the length in mm that the edge not kept loses to [Corner.Along]:
// 2r·sin α, the chord at the angle α to a tangent.
func (c Corner) Undercut(r float64) float64 { return 2 * r * math.Sin(c.Angle) }

// Root is the shape to subtract from the material so that the bottom of a groove,
// the straight edge i of the path, can be cut with a mill of radius r while the
// flanks beside it stay whole up to its corners: the whole bottom goes deeper, by
// r/tan(α/2) along the flank, and the fillets lie below it. If the angles differ,
// the deeper of both counts. An end of the bottom that is an outside corner is
// simply carried on: the neighbour loses the depth.
//
//	|   waste    |
//	|            |      flanks, kept
//	P------------Q      edge i
//	 \          /       fillets of radius r
//	  `--------'        the new bottom
//
// It fails if the bottom is no straight edge between two others, has no inside
// corner at either end, or is too short for the fillets.
func (p Path) Root(i int, r float64) (Path, error) {
	n := len(p.V)
	if i < 0 || i >= p.Edges() || n < 3 || !p.Closed && (i == 0 || i >= n-2) {
		return Path{}, fmt.Errorf("geom: edge %d has no neighbours on both sides", i)
	}
	e := p.Edge(i)
	if !e.Straight() || e.Length() < join {
		return Path{}, fmt.Errorf("geom: edge %d at (%.4f, %.4f) is not straight: its root cannot be lowered", i, e.A[0], e.A[1])
	}
	c0, in0 := p.Corner(i)
	c1, in1 := p.Corner((i + 1) % n)
	if !in0 && !in1 {
		return Path{}, fmt.Errorf("geom: edge %d at (%.4f, %.4f) has no inside corner", i, e.A[0], e.A[1])
	}
	h := 0.0 // depth, normal to the bottom: r/tan(α/2)·sin α = r(1+cos α)
	if in0 {
		h = r * (1 + math.Cos(c0.Angle))
	}
	if in1 {
		h = math.Max(h, r*(1+math.Cos(c1.Angle)))
	}
	d := e.Direction(0)
	m := orb.Point{-d[1], d[0]} // into the material
	// The flanks carried on beyond the bottom, down to the depth h.
	before, after := p.Edge((i+n-1)%n).Direction(1), p.Edge((i+1)%n).Direction(0)
	down := func(at, u orb.Point) (orb.Point, bool) {
		s := u[0]*m[0] + u[1]*m[1]
		if math.Abs(s) < 1e-9 {
			return at, false
		}
		return orb.Point{at[0] + h/s*u[0], at[1] + h/s*u[1]}, true
	}
	a, ok0 := down(e.A, before)
	b, ok1 := down(e.B, after)
	room := (b[0]-a[0])*d[0] + (b[1]-a[1])*d[1]
	t0, t1 := 0.0, 0.0
	if in0 {
		t0 = c0.Tangent(r)
	}
	if in1 {
		t1 = c1.Tangent(r)
	}
	if !ok0 || !ok1 || room < t0+t1-join {
		return Path{}, fmt.Errorf("geom: edge %d at (%.4f, %.4f) is %.4f mm long: too short for a root of radius %.4f", i, e.A[0], e.A[1], e.Length(), r)
	}
	out := Path{Closed: true, V: []Vertex{{Point: e.A}}}
	put := func(q orb.Point, bulge float64) {
		if l := len(out.V); dist(out.V[l-1].Point, q) < join {
			out.V[l-1].Bulge = bulge
			return
		}
		out.V = append(out.V, Vertex{q, bulge})
	}
	if in0 {
		l := dist(e.A, a) - t0 // straight on before the fillet; 0 at the deeper end
		put(orb.Point{e.A[0] + before[0]*l, e.A[1] + before[1]*l}, -math.Tan((math.Pi-c0.Angle)/4))
		put(orb.Point{a[0] + d[0]*t0, a[1] + d[1]*t0}, 0)
	} else {
		put(a, 0)
	}
	if in1 {
		l := dist(e.B, b) - t1
		put(orb.Point{b[0] - d[0]*t1, b[1] - d[1]*t1}, -math.Tan((math.Pi-c1.Angle)/4))
		put(orb.Point{e.B[0] - after[0]*l, e.B[1] - after[1]*l}, 0)
	} else {
		put(b, 0)
	}
	put(e.B, 0)
	return out.outer(), nil
}
