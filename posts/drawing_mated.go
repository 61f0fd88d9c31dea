package posts

import (
	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/posts/svg"
)

// mated is the view of a coupon with a test piece that was cut right in its place:
// the faces are level and the cuts touch all along. Other fixtures have none.
func (p picture) mated() view {
	pass := p.pass()
	if p.kind() != "coupon" || pass == nil || len(p.Setting.Passes) < 2 {
		return view{}
	}
	then := p.Setting.Passes[1]
	piece := board{name: then.Name, path: then.Board(boardLength(then)), lies: then.Lies, far: boardLength(then), stock: then.Stock}
	turn := p.Setting.Nested()
	piece.turn = &turn
	coupon := p.Parts[0]
	all := geom.Bound(append(append([]geom.Path{}, coupon.Outline...), piece.region()...))
	return view{
		name: "in-use", title: "With a test piece", note: "cut in the " + then.Name + " pass, true size; a step or a gap is the error",
		shows: all, room: room{4, 22, 7, 4},
		draw: func(c *svg.Canvas, at svg.View) { p.drawMated(c, at, coupon, piece) },
	}
}

func (p picture) drawMated(c *svg.Canvas, at svg.View, coupon part, piece board) {
	c.Group("test-piece", func() {
		area := boardFill
		area.Stroke = ""
		c.Paths(area, at.Paths(piece.region()...)...)
		c.Paths(svg.Style{Stroke: svg.Ink, Width: 0.3}, at.Paths(piece.edges()...)...)
	})
	c.Group("coupon", func() {
		c.Paths(plateStyle, at.Paths(coupon.Wall...)...)
		c.Paths(plateStyle, at.Paths(coupon.Drill...)...)
		c.Paths(engraveStyle, at.Paths(coupon.Engrave...)...)
	})
	c.Group("mated-seats", func() {
		for i, s := range coupon.Seats {
			if i < len(coupon.Kept) {
				s.Path = coupon.Kept[i]
			}
			if len(s.Path.V) > 1 {
				c.Paths(seatStyle, at.Paths(s.Path)...)
			}
		}
	})
	b := geom.Bound(coupon.Outline)
	c.Group("mated-names", func() {
		c.Text(svg.Label{Text: "coupon", At: at.Point(orb.Point{b.Max[0] + 2, b.Center()[1]}), Size: 3, Colour: svg.Soft})
		r := geom.Bound(piece.region())
		c.Text(svg.Label{Text: "test piece", At: at.Point(orb.Point{r.Min[0], r.Min[1] - 4.5}), Size: 3, Colour: svg.Soft})
	})
}
