package plate

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// shrink is the outline less clearances and eased tips.
func shrink(p Plate) geom.Region {
	var waste []geom.Region
	for i, c := range p.Clear {
		for k := range c.Path.Edges() {
			waste = append(waste, geom.Region{strip(c.Path.Edge(k), c.By)})
		}
		if c.Before {
			e := c.Path.Edge(0)
			waste = append(waste, geom.Region{strip(onward(e.A, e.Direction(0), -3*c.By), c.By)})
		}
		if c.After {
			e := c.Path.Edge(c.Path.Edges() - 1)
			waste = append(waste, geom.Region{strip(onward(e.B, e.Direction(1), 3*c.By), c.By)})
		}
		if i > 0 {
			// Between two cleared edges that meet at an inside corner.
			if a := p.Clear[i-1]; a.Path.End() == c.Path.Start() {
				waste = append(waste, geom.Region{geom.Circle(c.Path.Start(), math.Min(a.By, c.By))})
			}
		}
	}
	for _, e := range p.Ease {
		if tip, ok := tipAt(p.Outline, e); ok {
			waste = append(waste, geom.Region{tip})
		}
	}
	return geom.Difference(p.Outline, waste...)
}

// onward is the straight edge of the given length through the point; a negative
// length leads up to it.
func onward(at, d orb.Point, length float64) geom.Edge {
	far := orb.Point{at[0] + length*d[0], at[1] + length*d[1]}
	if length < 0 {
		return geom.Edge{A: far, B: at}
	}
	return geom.Edge{A: at, B: far}
}

// strip is the ground between an edge and its parallel at the distance by on its
// left.
func strip(e geom.Edge, by float64) geom.Path {
	side := func(t float64) orb.Point {
		q, d := e.At(t), e.Direction(t)
		return orb.Point{q[0] - by*d[1], q[1] + by*d[0]}
	}
	bulge := e.Bulge
	if !e.Straight() {
		// Left of a counter-clockwise arc is its centre: the parallel there
		// vanishes and turns round where it is farther than the radius.
		if _, r := e.Arc(); bulge > 0 && by >= r {
			c, _ := e.Arc()
			return geom.Path{V: []geom.Vertex{{Point: e.A, Bulge: bulge}, {Point: e.B}, {Point: c}}, Closed: true}
		}
	} else {
		bulge = 0
	}
	return geom.Path{V: []geom.Vertex{
		{Point: e.A, Bulge: bulge}, {Point: e.B},
		{Point: side(1), Bulge: -bulge}, {Point: side(0)},
	}, Closed: true}
}

// tipAt is the ground to cut off at a convex corner: from a leg before it to a
// leg after it, and beyond the tip into the waste.
func tipAt(outline geom.Region, e Ease) (geom.Path, bool) {
	in, out, ok := cornerAt(outline, e.At)
	if !ok {
		return geom.Path{}, false
	}
	if e.Depth > 0 {
		d := out.Direction(0)
		deep := orb.Point{e.At[0] - e.Depth*d[1], e.At[1] + e.Depth*d[0]}
		if e.After {
			at := out.At(math.Min(1, e.Leg/out.Length()))
			return geom.Path{V: []geom.Vertex{{Point: e.At}, {Point: at}, {Point: deep}}, Closed: true}, true
		}
		at := in.At(1 - math.Min(1, e.Leg/in.Length()))
		return geom.Path{V: []geom.Vertex{{Point: at}, {Point: e.At}, {Point: deep}}, Closed: true}, true
	}
	leg := func(edge geom.Edge) float64 { return math.Min(1, math.Min(e.Leg, 0.45*edge.Length())/edge.Length()) }
	a, b := in.At(1-leg(in)), out.At(leg(out))
	di, do := in.Direction(1), out.Direction(0)
	away := orb.Point{di[0] - do[0], di[1] - do[1]} // points out of the tip
	l := math.Hypot(away[0], away[1])
	apex := orb.Point{e.At[0] + away[0]/l*0.1, e.At[1] + away[1]/l*0.1}
	return geom.Path{V: []geom.Vertex{{Point: a}, {Point: apex}, {Point: b}}, Closed: true}, true
}

// cornerAt finds the two edges that meet at a vertex of the outline.
func cornerAt(outline geom.Region, at orb.Point) (in, out geom.Edge, ok bool) {
	for _, p := range outline {
		n := p.Edges()
		for i := range n {
			if out = p.Edge(i); near(out.A, at) {
				return p.Edge((i + n - 1) % n), out, true
			}
		}
	}
	return in, out, false
}
