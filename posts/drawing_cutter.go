package posts

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
	"blockwright/posts/svg"
)

// CutterDrawing draws a cutter as its profile sweeps, with its sizes and its centre of
// symmetry, if it has one, and for each setting the boards as they are cut: each pass
// with the cutter in place, seen along the fence. Lengths are lettered in the units, mm
// or in.
func CutterDrawing(c *cutter.Cutter, centre *orb.Point, sets []*joint.Setting, units string) []byte {
	return cutterCanvas(c, centre, sets, units).Bytes()
}

func cutterCanvas(c *cutter.Cutter, centre *orb.Point, sets []*joint.Setting, units string) *svg.Canvas {
	rows := [][]view{{cutterView(c, centre, units)}}
	for i, s := range sets {
		var row []view
		for k, p := range s.Passes {
			v := passView(p, units)
			v.name = fmt.Sprintf("pass-%d-%d", i+1, k+1)
			row = append(row, v)
		}
		rows = append(rows, row)
	}
	return rowsCanvas("cutter-"+c.Handle, c.Name, fmt.Sprintf("The cutter %s, and boards cut with it at %d thicknesses.", c.Name, len(sets)), rows, units)
}

// cutterView is the cutter in its own frame: r from the axis, h from its zero.
func cutterView(c *cutter.Cutter, centre *orb.Point, units string) view {
	swept := sweep(c.Profile, 0)
	b := swept.Bound()
	if len(c.Body.V) > 0 {
		b = b.Union(sweep(c.Body, 0).Bound())
	}
	note := "true size"
	switch c.Known {
	case [2]bool{false, true}:
		note += "; radii only up to a shift"
	case [2]bool{true, false}:
		note += "; heights only up to a shift"
	case [2]bool{false, false}:
		note += "; radii and heights only up to a shift"
	}
	return view{
		name: "cutter", title: "The cutter", note: note, shows: b, room: room{left: 8, right: 34, below: 14, above: 6},
		draw: func(page *svg.Canvas, at svg.View) {
			if len(c.Body.V) > 0 {
				page.Paths(bodyStyle, at.Paths(sweep(c.Body, 0))...)
			}
			page.Paths(cutterStyle, at.Paths(swept)...)
			page.Paths(groundLine, at.Paths(c.Profile)...)
			page.Line(axisStyle, at.Point(orb.Point{0, b.Min[1] - 3}), at.Point(orb.Point{0, b.Max[1] + 3}))
			wide, low, high := widest(c.Profile), c.Profile.Start(), c.Profile.End()
			if c.Known[0] {
				page.DimX(at.Point(orb.Point{-wide[0], wide[1]}), at.Point(wide), at.Point(b.Min)[1]-9, "⌀ "+sizeText(2*wide[0], units), false)
			}
			page.DimY(at.Point(low), at.Point(high), at.Point(b.Max)[0]+10, sizeText(high[1]-low[1], units), false)
			if centre != nil {
				crossAt(page, at.Point(*centre))
				page.DimY(at.Point(orb.Point{centre[0], low[1]}), at.Point(*centre), at.Point(b.Max)[0]+22, sizeText(centre[1]-low[1], units), true)
			}
		},
	}
}

// crossAt marks a centre of symmetry.
func crossAt(page *svg.Canvas, q orb.Point) {
	page.Paths(seatMark, geom.Circle(q, 1))
	page.Line(seatMark, orb.Point{q[0] - 2.5, q[1]}, orb.Point{q[0] + 2.5, q[1]})
	page.Line(seatMark, orb.Point{q[0], q[1] - 2.5}, orb.Point{q[0], q[1] + 2.5})
}

var seatMark = svg.Style{Stroke: svg.Brick, Width: 0.3}

// widest is the outermost point of the profile.
func widest(p geom.Path) orb.Point {
	at := p.Start()
	for i := range p.Edges() {
		if q := p.Edge(i).MostX(); q[0] > at[0] {
			at = q
		}
	}
	return at
}

// passView is one pass in the table's frame: the board on the table or against the
// fence, what is left of it, and the cutter in its place.
func passView(p joint.Pass, units string) view {
	length := boardLength(p)
	section := p.Board(length)
	swept := sweep(p.Profile(), -p.Fence)
	b := section.Bound()
	cut := swept.Bound()
	shows := orb.Bound{
		Min: orb.Point{cut.Min[0], math.Min(cut.Min[1], -4)},
		Max: orb.Point{math.Max(b.Max[0], cut.Max[0]), math.Max(b.Max[1], cut.Max[1])},
	}
	note := "stock " + sizeText(p.Stock, units) + " " + units + ", true size"
	return view{
		title: upperFirst(p.Name), note: note, shows: shows, room: room{left: 4, right: 14, below: 8, above: 4},
		draw: func(page *svg.Canvas, at svg.View) {
			page.Paths(board{lies: p.Lies}.grain(0), at.Paths(section)...)
			page.Paths(cutterStyle, at.Paths(swept)...)
			page.Paths(boardStyle, at.Paths(section)...)
			page.Line(groundLine, at.Point(orb.Point{shows.Min[0], 0}), at.Point(orb.Point{shows.Max[0], 0}))
			page.Line(axisStyle, at.Point(orb.Point{-p.Fence, shows.Min[1] - 2}), at.Point(orb.Point{-p.Fence, shows.Max[1] + 2}))
			page.Line(behindStyle, at.Point(orb.Point{0, 0}), at.Point(orb.Point{0, shows.Max[1]}))
			if p.Cutter.Known[0] && math.Abs(p.Fence) > 0.05 {
				page.DimX(at.Point(orb.Point{-p.Fence, 0}), at.Point(orb.Point{0, 0}), at.Point(shows.Min)[1]-5, "fence "+sizeText(p.Fence, units), false)
			}
		},
	}
}
