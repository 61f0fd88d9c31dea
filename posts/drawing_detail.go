package posts

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/joint"
	"blockwright/posts/svg"
)

// detail is the cut line of a block enlarged: where it touches the cutter, where
// it is cleared, how its corners are eased and relieved.
func (p picture) detail(names []named) view {
	pass := p.pass()
	if pass == nil || p.kind() != "block" {
		return view{}
	}
	near := pass.CutLine.Bound()
	scale := 1.0
	most := 95.0
	if p.Narrow {
		most = 60
	}
	for _, k := range []float64{2, 3, 4} {
		if k*(near.Max[0]-near.Min[0]) <= most && k*(near.Max[1]-near.Min[1]) <= most {
			scale = k
		}
	}
	if scale == 1 {
		return view{}
	}
	shown := pad(near, 9/scale, 26/scale, 5/scale, 7/scale)
	return view{
		name: "detail", title: "Detail", note: fmt.Sprintf("where the block touches the cutter, %g : 1", scale),
		shows: shown, room: room{34, 18, 6, 4}, scale: scale,
		draw: func(c *svg.Canvas, at svg.View) { p.drawDetail(c, at, *pass, shown, names) },
	}
}

func (p picture) drawDetail(c *svg.Canvas, at svg.View, pass joint.Pass, shown orb.Bound, names []named) {
	main := p.Parts[0]
	window := geom.Region{geom.Rect(shown.Min[0], shown.Min[1], shown.Max[0], shown.Max[1])}
	within := func(r geom.Region) []geom.Path { return at.Paths(geom.Intersection(r, window)...) }
	fill := plateStyle
	fill.Stroke = ""
	c.Group("detail-cutter", func() {
		area, line := cutterStyle, cutterStyle
		area.Stroke, line.Fill, line.Hatch = "", "", svg.Hatch{}
		swept := geom.Region{sweep(pass.Profile(), -pass.Fence)}
		c.Paths(area, within(swept)...)
		c.Paths(line, at.Paths(inside(swept, shown)...)...)
	})
	f := newFree(c)
	c.Group("detail-block", func() {
		c.Paths(fill, within(main.Wall)...)
		for _, s := range []struct {
			style svg.Style
			edges geom.Region
		}{{plateStyle, main.Wall}, {nominalStyle, main.Outline}} {
			s.style.Fill = ""
			c.Paths(s.style, at.Paths(inside(s.edges, shown)...)...)
			f.lines(at.Paths(inside(s.edges, shown)...)...)
		}
		switch t := p.Stock; {
		case pass.Lies == joint.Upright && t < shown.Max[0]:
			c.Line(boardStyle, at.Point(orb.Point{t, max(0, shown.Min[1])}), at.Point(orb.Point{t, shown.Max[1]}))
		case pass.Lies != joint.Upright && t < shown.Max[1]:
			c.Line(boardStyle, at.Point(orb.Point{0, t}), at.Point(orb.Point{shown.Max[0], t}))
		}
	})
	c.Group("detail-seats", func() {
		for _, n := range names {
			if n.part == 0 && n.seat.Fixes != 0 {
				c.Paths(seatStyle, at.Paths(n.seat.Path)...)
			}
		}
	})
	c.Group("detail-dimensions", func() {
		if l := p.Setting.Read(p.Pass).Land; l != nil {
			c.DimY(at.Point(orb.Point{0, l.From}), at.Point(orb.Point{0, l.To}), at.Point(shown.Min)[0]-14, p.size(l.To-l.From), false)
			if l.From > geom.Tol {
				c.DimY(at.Point(orb.Point{0, 0}), at.Point(orb.Point{0, l.From}), at.Point(shown.Min)[0]-14, p.size(l.From), true)
			}
		}
	})
	c.Group("detail-letters", func() {
		for _, n := range names {
			if n.part == 0 && n.seat.Fixes != 0 {
				f.balloon(at.Paths(n.seat.Path)[0], n.letter)
			}
		}
	})
}

// inside is what of the boundaries lies within the box, as open paths.
func inside(r geom.Region, b orb.Bound) []geom.Path {
	var out []geom.Path
	edge := geom.Rect(b.Min[0], b.Min[1], b.Max[0], b.Max[1])
	for _, p := range r {
		l := p.Length()
		cuts := []float64{0, l}
		for _, x := range geom.Crossings(p, edge) {
			for _, m := range x.Meet[:x.N] {
				cuts = append(cuts, p.LengthTo(geom.Place{Edge: x.I, T: m.TA}))
			}
		}
		slices.Sort(cuts)
		for i := 1; i < len(cuts); i++ {
			s0, s1 := cuts[i-1], cuts[i]
			if s1-s0 > geom.Tol && b.Contains(p.Point(p.AtLength((s0+s1)/2))) {
				out = append(out, p.Cut(s0, s1))
			}
		}
	}
	return out
}
