package posts

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/posts/svg"
)

// front is the view of a facing from the front: along the fence, z up from the table.
// The cutter is drawn as the body of revolution that it sweeps, behind and through the
// opening; the pocket in the back is hidden.
func (p picture) front() view {
	main := p.Parts[0]
	plate := geom.Bound(main.Outline)
	cut := geom.Bound(main.Ghost)
	low := math.Max(math.Min(cut.Min[1], 0), -16)
	around := room{30, 22, 8, 12}
	if p.Narrow {
		around = room{11, 8.5, 8, 12} // so that a facing of usual length stays true size on paper
	}
	return view{
		name: "in-use", title: "At the cutter", note: "seen from the front, true size",
		shows: orb.Bound{Min: orb.Point{plate.Min[0], low}, Max: plate.Max}, room: around,
		draw: func(c *svg.Canvas, at svg.View) { p.drawFront(c, at, low) },
	}
}

func (p picture) drawFront(c *svg.Canvas, at svg.View, low float64) {
	main := p.Parts[0]
	plate := geom.Bound(main.Outline)
	shown := geom.Region{geom.Rect(plate.Min[0], low, plate.Max[0], plate.Max[1]+20)}
	pt := func(x, z float64) orb.Point { return at.Point(orb.Point{x, z}) }
	c.Group("facing", func() { c.Paths(plateStyle, at.Paths(main.Wall...)...) })
	c.Group("cutter", func() {
		c.Paths(cutterStyle, at.Paths(geom.Intersection(geom.Region(main.Ghost), shown)...)...)
		c.Line(axisStyle, pt(0, low-4), pt(0, plate.Max[1]+4))
	})
	c.Group("opening", func() {
		c.Paths(svg.Style{Stroke: svg.Ink, Width: 0.5}, at.Paths(main.Wall...)...)
		above := geom.Region{geom.Rect(plate.Min[0], 0, plate.Max[0], plate.Max[1])}
		for _, k := range main.Floors {
			c.Paths(behindStyle, at.Paths(geom.Intersection(k.Floor, above)...)...)
		}
	})
	c.Group("table", func() {
		half := p.Table.InsertOpening / 2
		for _, x := range [2][2]float64{{plate.Min[0] - 6, -half}, {half, plate.Max[0] + 6}} {
			if x[1] > x[0] {
				c.Paths(groundFill, at.Paths(geom.Rect(x[0], -4, x[1], 0))...)
				c.Line(groundLine, pt(x[0], 0), pt(x[1], 0))
			}
		}
	})
	c.Group("dimensions", func() {
		lo, hi := pt(plate.Min[0], 0), pt(plate.Max[0], plate.Max[1])
		c.DimX(orb.Point{lo[0], hi[1]}, hi, hi[1]+7, p.size(plate.Max[0]-plate.Min[0]), false)
		c.DimY(orb.Point{hi[0], lo[1]}, hi, hi[0]+6, p.size(plate.Max[1]), false)
		if p.Stock > 0 && p.Stock < plate.Max[1] && !(p.Narrow && at.Scale < 1) {
			away, what := 14.0, "stock T = "
			if p.Narrow {
				away, what = 5, "T = "
			}
			c.DimY(lo, pt(plate.Min[0], p.Stock), lo[0]-away, what+p.size(p.Stock), false)
		}
	})
}
