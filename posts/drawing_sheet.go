package posts

import (
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/posts/svg"
)

// crop is how much of the sheet is shown beyond the plates before it is broken
// off.
const crop = 18.0

// onSheet is the sheet from above with its plates, in the program's coordinates:
// the lower left corner of the sheet is (0, 0). Of a large sheet only the used
// corner is drawn.
func (p picture) onSheet(names []named) view {
	if len(p.Parts) == 0 {
		return view{}
	}
	var all []geom.Path
	for _, q := range p.Parts {
		all = append(all, geom.MoveAll(q.Outline, geom.Shift(q.At[0], q.At[1]))...)
	}
	used := geom.Bound(all)
	crop := float64(crop)
	if p.Narrow {
		crop = 7
	}
	shown := orb.Bound{Max: orb.Point{used.Max[0] + crop, used.Max[1] + crop}}
	for k := range 2 {
		if size := [2]float64{p.Sheet.Width, p.Sheet.Height}[k]; shown.Max[k] > size-crop {
			shown.Max[k] = math.Max(size, used.Max[k])
		}
	}
	return view{
		name: "on-sheet", title: "On the sheet", note: "seen from above, true size, coordinates of the program",
		shows: shown, room: room{16, 12, 16, 8},
		draw: func(c *svg.Canvas, at svg.View) {
			p.drawSheet(c, at, shown)
			p.drawParts(c, at, names)
		},
	}
}

// onePart is a single plate at true size, where the sheet is too large for the paper.
func (p picture) onePart(i int, names []named) view {
	q := p.Parts[i]
	b := geom.Bound(q.Outline)
	q.At = orb.Point{20 - b.Min[0], 20 - b.Min[1]} // room for a dimension on its left
	one := p
	one.Parts = []part{q}
	var own []named
	for _, n := range names {
		if n.part == i {
			n.part = 0
			own = append(own, n)
		}
	}
	return view{
		name: fmt.Sprintf("part-%d", i+1), title: upperFirst(q.Part), shows: orb.Bound{Min: orb.Point{20, 20}, Max: orb.Point{20 + b.Max[0] - b.Min[0], 20 + b.Max[1] - b.Min[1]}}, room: room{15, 6, 12, 6},
		draw: func(c *svg.Canvas, at svg.View) { one.drawParts(c, at, own) },
	}
}

// drawSheet draws the sheet, broken off where it goes on, and its zero.
func (p picture) drawSheet(c *svg.Canvas, at svg.View, shown orb.Bound) {
	c.Group("sheet", func() {
		w, h := shown.Max[0], shown.Max[1]
		right, top := w < p.Sheet.Width-geom.Tol, h < p.Sheet.Height-geom.Tol
		// A sheet that goes on ends in a wave of two arcs that rise by 2.5 mm.
		edge := geom.Path{Closed: true, V: []geom.Vertex{geom.V(0, 0), geom.V(w, 0)}}
		if right {
			edge.V = append(edge.V[:1], geom.B(w, 0, 10/h), geom.B(w, h/2, -10/h))
		}
		edge.V = append(edge.V, geom.V(w, h))
		if top {
			edge.V[len(edge.V)-1].Bulge = 10 / w
			edge.V = append(edge.V, geom.B(w/2, h, -10/w))
		}
		edge.V = append(edge.V, geom.V(0, h))
		c.Paths(sheetStyle, at.Paths(edge)...)
		zero := at.Point(orb.Point{})
		ink := svg.Style{Stroke: svg.Ink, Width: 0.25}
		c.Line(ink, orb.Point{zero[0] - 3, zero[1]}, orb.Point{zero[0] + 7, zero[1]})
		c.Line(ink, orb.Point{zero[0], zero[1] - 3}, orb.Point{zero[0], zero[1] + 7})
		c.Arrow(orb.Point{zero[0] + 8, zero[1]}, orb.Point{1, 0})
		c.Arrow(orb.Point{zero[0], zero[1] + 8}, orb.Point{0, 1})
		c.Text(svg.Label{Text: "X", At: orb.Point{zero[0] + 7, zero[1] - 3.6}, Size: 3, Anchor: svg.Middle})
		c.Text(svg.Label{Text: "Y", At: orb.Point{zero[0] - 2.6, zero[1] + 6}, Size: 3, Anchor: svg.Middle})
		c.Text(svg.Label{Text: "0", At: orb.Point{zero[0] - 2.4, zero[1] - 3.6}, Size: 3, Anchor: svg.Middle})
	})
}

// drawParts draws the plates where they are cut.
func (p picture) drawParts(c *svg.Canvas, at svg.View, names []named) {
	f := newFree(c)
	for i, q := range p.Parts {
		v := svg.View{At: at.Point(q.At), Scale: at.Scale}
		c.Group(fmt.Sprintf("plate-%d", i+1), func() {
			c.Paths(plateStyle, v.Paths(q.Wall...)...)
			c.Paths(nominalStyle, v.Paths(q.Outline...)...)
			for _, k := range q.Floors {
				c.Paths(pocketStyle, v.Paths(geom.Intersection(k.Floor, q.Wall)...)...)
			}
			c.Paths(svg.Style{Stroke: svg.Ink, Width: 0.5, Fill: svg.Paper}, v.Paths(q.Drill...)...)
			c.Paths(engraveStyle, v.Paths(q.Engrave...)...)
			for _, n := range names {
				if n.part == i {
					c.Paths(seatStyle, v.Paths(n.seat.Path)...)
				}
			}
		})
		f.lines(v.Paths(q.Outline...)...)
		f.lines(v.Paths(q.Drill...)...)
		f.lines(v.Paths(q.Engrave...)...)
	}
	for i, q := range p.Parts {
		v := svg.View{At: at.Point(q.At), Scale: at.Scale}
		b := geom.Bound(q.Outline)
		lo, hi := v.Point(b.Min), v.Point(b.Max)
		left := dimAway(5, p.room(q)*at.Scale)
		low := math.Min(6, math.Max(4, (b.Min[1]+q.At[1])*at.Scale-1.2)) // above the sheet's edge
		if !p.sizedAlready(i) {
			c.DimX(lo, orb.Point{hi[0], lo[1]}, lo[1]-low, p.size(b.Max[0]-b.Min[0]), false)
			c.DimY(lo, orb.Point{lo[0], hi[1]}, lo[0]-left, p.size(b.Max[1]-b.Min[1]), false)
			f.lines(geom.Path{V: []geom.Vertex{geom.V(lo[0], lo[1]-low), geom.V(hi[0], lo[1]-low)}},
				geom.Path{V: []geom.Vertex{geom.V(lo[0]-left, lo[1]), geom.V(lo[0]-left, hi[1])}})
		}
		if q.Kind == "trial" {
			p.dimWindow(c, f, v, q)
		}
	}
	for _, n := range names {
		v := svg.View{At: at.Point(p.Parts[n.part].At), Scale: at.Scale}
		f.balloon(v.Paths(n.seat.Path)[0], n.letter)
	}
}

// sizedAlready tells whether a part is one of several layers that are alike, and not the
// first of them.
func (p picture) sizedAlready(i int) bool {
	b := geom.Bound(p.Parts[i].Outline)
	if i == 0 || !strings.Contains(p.Parts[i].Part, "layer ") {
		return false
	}
	o := geom.Bound(p.Parts[i-1].Outline)
	return strings.Contains(p.Parts[i-1].Part, "layer ") &&
		math.Abs(o.Max[0]-o.Min[0]-b.Max[0]+b.Min[0]) < geom.Tol && math.Abs(o.Max[1]-o.Min[1]-b.Max[1]+b.Min[1]) < geom.Tol
}

// room is how much of the sheet is free on the left of a part, to the next part or
// the sheet's edge.
func (p picture) room(q part) float64 {
	box := func(q part) orb.Bound {
		b := geom.Bound(q.Outline)
		return orb.Bound{Min: orb.Point{b.Min[0] + q.At[0], b.Min[1] + q.At[1]}, Max: orb.Point{b.Max[0] + q.At[0], b.Max[1] + q.At[1]}}
	}
	b := box(q)
	free := b.Min[0]
	for _, o := range p.Parts {
		c := box(o)
		if c.Max[0] <= b.Min[0] && c.Min[1] < b.Max[1] && c.Max[1] > b.Min[1] {
			free = math.Min(free, b.Min[0]-c.Max[0])
		}
	}
	return free
}

// dimAway is how far from a part its dimension line stands: as wanted where the
// figures beyond it have room, nearer where they have not.
func dimAway(want, room float64) float64 {
	const figures = svg.DimSize + 1.4 // and what stays free beyond them
	return math.Min(want, math.Max(1.6, room-figures))
}

// dimWindow dimensions the windows of a part, inside them.
func (p picture) dimWindow(c *svg.Canvas, f *free, v svg.View, q part) {
	for _, hole := range q.Outline {
		if hole.Area() >= 0 {
			continue
		}
		b := hole.Bound()
		lo, hi := v.Point(b.Min), v.Point(b.Max)
		y, x := lo[1]+(hi[1]-lo[1])*0.3, lo[0]+(hi[0]-lo[0])*0.3
		c.DimX(orb.Point{lo[0], y}, orb.Point{hi[0], y}, y, p.size(b.Max[0]-b.Min[0]), false)
		c.DimY(orb.Point{x, lo[1]}, orb.Point{x, hi[1]}, x, p.size(b.Max[1]-b.Min[1]), false)
		f.lines(geom.Path{V: []geom.Vertex{geom.V(lo[0], y), geom.V(hi[0], y)}}, geom.Path{V: []geom.Vertex{geom.V(x, lo[1]), geom.V(x, hi[1])}})
	}
}
