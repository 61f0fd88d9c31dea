package svg

import (
	"math"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// Paths draws paths as one shape: where closed ones lie in each other, the inner
// is a hole. A path of one vertex is a dot.
func (c *Canvas) Paths(s Style, ps ...geom.Path) {
	d := c.data(ps)
	if d == "" {
		return
	}
	c.line(`<path d="%s"%s/>`, d, s.attributes())
	if !s.Hatch.none() {
		c.line(`<path d="%s" fill="url(#%s)" fill-rule="evenodd"/>`, d, c.hatch(s.Hatch))
	}
}

// Line draws a polyline through the points.
func (c *Canvas) Line(s Style, points ...orb.Point) {
	p := geom.Path{}
	for _, q := range points {
		p.V = append(p.V, geom.Vertex{Point: q})
	}
	c.Paths(s, p)
}

// Polygon draws the closed polygon of the points.
func (c *Canvas) Polygon(s Style, points ...orb.Point) {
	p := geom.Path{Closed: true}
	for _, q := range points {
		p.V = append(p.V, geom.Vertex{Point: q})
	}
	c.Paths(s, p)
}

// data is the path data of all paths. Turning Y down turns every arc's sense:
// counter-clockwise on paper is sweep flag 0 (SVG 1.1, 8.3.8). No edge is more
// than a half circle, so the large flag is always 0. Arcs of more than about a
// quarter are cut in two: rounding the radius of a half circle by 5e-5 mm would
// move its middle by 0.07.
func (c *Canvas) data(ps []geom.Path) string {
	var b strings.Builder
	for _, p := range ps {
		if len(p.V) == 0 {
			continue
		}
		x, y := c.at(p.V[0].Point)
		b.WriteString("M" + x + " " + y)
		for i := range p.Edges() {
			e := p.Edge(i)
			switch {
			case e.Straight() && p.Closed && i == p.Edges()-1:
			case e.Straight():
				x, y := c.at(e.B)
				b.WriteString("L" + x + " " + y)
			case math.Abs(e.Bulge) > 0.42:
				first, second := e.Split(0.5)
				c.arc(&b, first)
				c.arc(&b, second)
			default:
				c.arc(&b, e)
			}
		}
		switch {
		case len(p.V) == 1:
			b.WriteString("l0 0")
		case p.Closed:
			b.WriteString("Z")
		}
	}
	return b.String()
}

func (c *Canvas) arc(b *strings.Builder, e geom.Edge) {
	_, r := e.Arc()
	sweep := "0"
	if e.Bulge < 0 {
		sweep = "1"
	}
	x, y := c.at(e.B)
	b.WriteString("A" + number(r) + " " + number(r) + " 0 0 " + sweep + " " + x + " " + y)
}

// A View carries a part to its place on the page: scaled by Scale (0 counts as
// 1) about the part's origin, which comes to At.
type View struct {
	At    orb.Point
	Scale float64
}

// Point is where q goes.
func (v View) Point(q orb.Point) orb.Point {
	k := v.scale()
	return orb.Point{v.At[0] + k*q[0], v.At[1] + k*q[1]}
}

// Paths are where the paths go.
func (v View) Paths(ps ...geom.Path) []geom.Path {
	out := make([]geom.Path, len(ps))
	for i, p := range ps {
		out[i] = p.Clone()
		for k := range out[i].V {
			out[i].V[k].Point = v.Point(p.V[k].Point)
		}
	}
	return out
}

func (v View) scale() float64 {
	if v.Scale == 0 {
		return 1
	}
	return v.Scale
}
