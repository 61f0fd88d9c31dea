package posts

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/joint"
	"blockwright/posts/svg"
)

// above is the view of a gauge from above: x out of the fence, Y along it. What
// it touches is a circle about the axis: the setup pin, or the cutter.
func (p picture) above(pass joint.Pass, names []named) view {
	bar := geom.Bound(p.Parts[0].Outline)
	nose := p.nose()
	axis := orb.Point{-pass.Fence, nose[1]}
	r := math.Max(nose[0]-axis[0], 1)
	note := "seen from above, true size; the gauge lies on " + fit(p.Contact.Support, 3, 60)
	what := []string{"cutter"}
	if p.Contact.Pin > 0 {
		what = []string{"pin in the collet", "Ø " + p.size(p.Contact.Pin)}
	}
	disc := geom.Circle(axis, r)
	all := bar.Union(disc.Bound())
	return view{
		name: "in-use", title: "At the fence", note: note,
		shows: orb.Bound{Min: orb.Point{all.Min[0] - 22, all.Min[1]}, Max: all.Max}, room: room{13, 26, 22, 14},
		draw: func(c *svg.Canvas, at svg.View) { p.drawAbove(c, at, pass, disc, what, names) },
	}
}

// nose is the middle of the seat that sets the fence.
func (p picture) nose() orb.Point {
	for _, s := range p.Parts[0].Seats {
		if s.Fixes == 'x' && len(s.Path.V) > 1 {
			return s.Path.Point(s.Path.AtLength(s.Path.Length() / 2))
		}
	}
	b := geom.Bound(p.Parts[0].Outline)
	return orb.Point{b.Min[0], b.Center()[1]}
}

func (p picture) drawAbove(c *svg.Canvas, at svg.View, pass joint.Pass, disc geom.Path, what []string, names []named) {
	main := p.Parts[0]
	bar := geom.Bound(main.Outline)
	nose := p.nose()
	axis := orb.Point{-pass.Fence, nose[1]}
	left := math.Min(disc.Bound().Min[0], bar.Min[0]) - 18
	pt := func(x, y float64) orb.Point { return at.Point(orb.Point{x, y}) }
	f := newFree(c)

	half := p.Table.FenceWidth / 2
	if half <= 0 {
		half = math.Max(bar.Max[1]-axis[1]-20, disc.Bound().Max[1]-axis[1]+5)
	}
	c.Group("fence", func() {
		for _, y := range [][2]float64{{bar.Min[1] - 8, axis[1] - half}, {axis[1] + half, bar.Max[1] + 8}} {
			if y[1] <= y[0] {
				continue
			}
			c.Paths(groundFill, at.Paths(geom.Rect(math.Max(left, -14), y[0], 0, y[1]))...)
			c.Line(groundLine, pt(0, y[0]), pt(0, y[1]))
		}
		c.Line(axisStyle, pt(0, axis[1]-half), pt(0, axis[1]+half))
		c.Text(svg.Label{Text: "fence", At: pt(math.Max(left, -14)-1.5, bar.Max[1]+4), Size: 3, Anchor: svg.End, Colour: svg.Soft})
	})
	c.Group("cutter", func() {
		c.Paths(cutterStyle, at.Paths(disc)...)
		c.Line(axisStyle, pt(disc.Bound().Min[0]-4, axis[1]), pt(bar.Max[0]+8, axis[1]))
		c.Line(axisStyle, pt(axis[0], disc.Bound().Min[1]-4), pt(axis[0], disc.Bound().Max[1]+4))
	})
	c.Group("gauge", func() {
		c.Paths(plateStyle, at.Paths(main.Wall...)...)
		c.Paths(nominalStyle, at.Paths(main.Outline...)...)
		c.Paths(plateStyle, at.Paths(main.Drill...)...)
		c.Paths(engraveStyle, at.Paths(main.Engrave...)...)
	})
	c.Group("seats", func() {
		for _, n := range names {
			if n.part == 0 {
				c.Paths(seatStyle, at.Paths(n.seat.Path)...)
			}
		}
	})
	f.lines(at.Paths(disc)...)
	f.lines(at.Paths(main.Outline...)...)
	f.lines(at.Paths(main.Engrave...)...)
	c.Group("dimensions", func() {
		y := pt(0, bar.Min[1]-14)[1]
		if pass.Cutter.Known[0] {
			c.DimX(pt(axis[0], disc.Bound().Min[1]-4), pt(0, bar.Min[1]-8), y, "fence D = "+p.size(pass.Fence), false)
		}
		c.DimX(pt(0, bar.Max[1]+8), pt(nose[0], axis[1]), pt(0, bar.Max[1]+11)[1], "nose "+p.size(nose[0]), false)
		c.Leader(pt(axis[0], axis[1]+disc.Bound().Max[1]-axis[1]), pt(axis[0]-4, disc.Bound().Max[1]+9), what...)
	})
	c.Group("seat-letters", func() {
		for _, n := range names {
			if n.part == 0 {
				f.balloon(at.Paths(n.seat.Path)[0], n.letter)
			}
		}
	})
}
