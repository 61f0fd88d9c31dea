package posts

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/plate"
	"blockwright/posts/svg"
)

// trial is the view of the trial pieces with the sizes that are measured, by the names
// under which they are asked for.
func (p picture) trial() view {
	if len(p.Parts) < 2 {
		return view{}
	}
	frame, square := geom.Bound(p.Parts[0].Outline), geom.Bound(p.Parts[1].Outline)
	to := geom.Shift(frame.Max[0]+52-square.Min[0], frame.Min[1]-square.Min[1])
	shows := frame.Union(orb.Bound{Min: to.Point(square.Min), Max: to.Point(square.Max)})
	return view{
		name: "in-use", title: "What to measure", note: "at the middles of the sides, 1 : 2", shows: shows, scale: 0.5, room: room{12, 16, 12, 8},
		draw: func(c *svg.Canvas, at svg.View) { p.drawTrial(c, at, to) },
	}
}

func (p picture) drawTrial(c *svg.Canvas, at svg.View, to geom.Iso) {
	frame, square := p.Parts[0], p.Parts[1]
	thin := plateStyle
	thin.Width = 0.35
	seat := seatStyle
	seat.Width = 0.9
	c.Paths(thin, at.Paths(frame.Wall...)...)
	c.Paths(thin, at.Paths(frame.Drill...)...)
	c.Paths(thin, at.Paths(square.Wall.Move(to)...)...)
	c.Paths(thin, at.Paths(geom.MoveAll(square.Drill, to)...)...)
	for _, s := range frame.Seats {
		c.Paths(seat, at.Paths(s.Path)...)
	}
	for _, s := range square.Seats {
		c.Paths(seat, at.Paths(s.Path.Move(to))...)
	}
	b := geom.Bound(frame.Outline)
	lo, hi := at.Point(b.Min), at.Point(b.Max)
	mid := at.Point(orb.Point{})
	c.DimX(orb.Point{lo[0], mid[1]}, orb.Point{hi[0], mid[1]}, lo[1]-6, "big-x", false)
	c.DimY(orb.Point{mid[0], lo[1]}, orb.Point{mid[0], hi[1]}, lo[0]-5, "big-y", false)
	if len(frame.Outline) > 1 {
		w := frame.Outline[1].Bound()
		wlo, whi := at.Point(w.Min), at.Point(w.Max)
		c.DimX(orb.Point{wlo[0], mid[1]}, orb.Point{whi[0], mid[1]}, wlo[1]+4, "window-x", false)
		c.DimY(orb.Point{mid[0], wlo[1]}, orb.Point{mid[0], whi[1]}, whi[0]-4, "window-y", false)
	}
	// The diagonals run over the rounded corners; only their ends are drawn.
	r := (1 - 1/math.Sqrt2) * plate.TrialCorner
	for _, d := range []struct {
		x, y float64
		name string
	}{{1, 1, "diagonal-rising"}, {-1, 1, "diagonal-falling"}} {
		a := at.Point(orb.Point{d.x * (b.Max[0] - r), d.y * (b.Max[1] - r)})
		z := at.Point(orb.Point{-d.x * (b.Max[0] - r), -d.y * (b.Max[1] - r)})
		u := orb.Point{d.x / math.Sqrt2, d.y / math.Sqrt2}
		for _, end := range []struct {
			p orb.Point
			k float64
		}{{a, 1}, {z, -1}} {
			in := orb.Point{end.p[0] - 8*end.k*u[0], end.p[1] - 8*end.k*u[1]}
			c.Line(svg.Style{Stroke: svg.Ink, Width: 0.18}, in, end.p)
			c.Arrow(end.p, orb.Point{end.k * u[0], end.k * u[1]})
		}
		c.Leader(a, orb.Point{a[0] + 3, a[1] + 3}, d.name)
	}
	s := geom.Bound(square.Outline)
	slo, shi, sm := at.Point(to.Point(s.Min)), at.Point(to.Point(s.Max)), at.Point(to.Point(orb.Point{}))
	c.DimX(orb.Point{slo[0], sm[1]}, orb.Point{shi[0], sm[1]}, slo[1]-6, "small-x", false)
	c.DimY(orb.Point{sm[0], slo[1]}, orb.Point{sm[0], shi[1]}, shi[0]+6, "small-y", false)
}
