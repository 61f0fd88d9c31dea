package cutter

import (
	"fmt"
	"math"

	"blockwright/geom"
)

// A Placing says where a drawn profile's axis is.
type Placing struct {
	Axis     string  // on which side of the profile: "left", "right", or "" to find out
	Diameter float64 // mm, the largest; 0 = as drawn
}

// A Placed is a profile in the cutter's own frame.
type Placed struct {
	Profile geom.Path
	Known   [2]bool // whether the radii are right, and the heights
	Axis    string  // the side at which the axis was
}

// unknownLeast is the least radius in mm of a profile whose radii are not known: far
// enough from the axis for any shank.
const unknownLeast = 10.0

// Place turns a drawn path into a cutter's profile. The drawing stands as the cutter
// in its table, shank down, its axis upright at x = 0 or where the placing's diameter
// puts it. An axis at the right is mirrored to the left, a path drawn from the top is
// reversed, and the lowest end comes to h = 0.
//
// Without a side it is the one at which x = 0 lies, outside the profile or touching
// it. Told a side at which x = 0 does not lie, and no diameter, the radii are known
// only up to a shift. A closed path is opened along the axis: its longest upright edge
// at that side is left out with the level edges that lead to it.
//
// An undercut is refused with its place in the drawing: a straight pass cannot leave
// one. Ends that lie by less than [geom.Tol] too low are levelled.
func Place(p geom.Path, at Placing) (Placed, error) {
	if len(p.V) < 2 {
		return Placed{}, fmt.Errorf("a profile of %d points; want at least 2", len(p.V))
	}
	out := Placed{Known: [2]bool{true, true}, Axis: at.Axis}
	b := p.Bound()
	leftOf, rightOf := b.Min[0] >= -geom.Tol, b.Max[0] <= geom.Tol
	if out.Axis == "" {
		switch {
		case leftOf:
			out.Axis = "left"
		case rightOf:
			out.Axis = "right"
		default:
			return out, fmt.Errorf("the profile reaches from x = %.4f to %.4f mm, so its axis is not at x = 0; want --axis left or right, and --diameter for the radii", b.Min[0], b.Max[0])
		}
	}
	zero := out.Axis == "left" && leftOf || out.Axis == "right" && rightOf
	if p.Closed {
		var err error
		if p, err = openAtAxis(p, out.Axis); err != nil {
			return out, err
		}
	}
	drawn := p
	if out.Axis == "right" {
		p = p.Move(geom.MirrorX(0))
	}
	if p.End()[1] < p.Start()[1] {
		p, drawn = p.Reverse(), drawn.Reverse()
	}
	p = p.Clone()
	for i := range p.Edges() {
		if a, b := p.V[i].Y(), p.V[i+1].Y(); b < a && a-b <= geom.Tol {
			p.V[i+1].Point[1] = a
		}
		if q, falls := p.Edge(i).Falls(); falls {
			e := drawn.Edge(i)
			return out, fmt.Errorf("an undercut: from (%.4f, %.4f) to (%.4f, %.4f) mm of the drawing the height falls at %.4f above the lowest end; a straight pass cannot leave it. Is the drawing upright, its shank down?",
				e.A[0], e.A[1], e.B[0], e.B[1], q[1]-p.Start()[1])
		}
	}
	b = p.Bound()
	shift := 0.0
	switch {
	case at.Diameter > 0:
		shift = at.Diameter/2 - b.Max[0]
		if b.Min[0]+shift < -geom.Tol {
			return out, fmt.Errorf("a largest diameter of %.4f mm puts the profile's inner end at a radius of %.4f; want a diameter of at least %.4f", at.Diameter, b.Min[0]+shift, 2*(b.Max[0]-b.Min[0]))
		}
	case !zero:
		shift = unknownLeast - b.Min[0]
		out.Known[0] = false
	}
	p = p.Move(geom.Shift(shift, -p.Start()[1]))
	for i := range p.V { // what rounding left of the axis
		p.V[i].Point[0] = math.Max(0, p.V[i].X())
	}
	out.Profile = p
	return out, nil
}

// openAtAxis takes a closed half section apart at its axis.
func openAtAxis(p geom.Path, side string) (geom.Path, error) {
	b := p.Bound()
	axis := b.Min[0]
	if side == "right" {
		axis = b.Max[0]
	}
	best, length := -1, 0.0
	for i := range p.Edges() {
		e := p.Edge(i)
		if e.Straight() && math.Abs(e.A[0]-axis) < geom.Tol && math.Abs(e.B[0]-axis) < geom.Tol && e.Length() > length {
			best, length = i, e.Length()
		}
	}
	if best < 0 {
		return p, fmt.Errorf("the outline is closed and has no upright edge at its %s side, x = %.4f mm, along which to open it; want the cutting edge as an open line", side, axis)
	}
	p = p.Rotate((best + 1) % len(p.V)) // the axis' edge is the last
	open := geom.Path{V: append([]geom.Vertex(nil), p.V...)}
	open.V[len(open.V)-1].Bulge = 0
	level := func(e geom.Edge) bool { return e.Straight() && math.Abs(e.A[1]-e.B[1]) < geom.Tol }
	if open.Edges() > 1 && level(open.Edge(0)) {
		open.V = open.V[1:]
	}
	if n := open.Edges(); n > 1 && level(open.Edge(n-1)) {
		open.V = open.V[:n]
		open.V[n-1].Bulge = 0
	}
	return open, nil
}
