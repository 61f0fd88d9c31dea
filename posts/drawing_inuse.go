package posts

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/joint"
	"blockwright/posts/svg"
)

// inUse is the view of the fixture in use: a block and strips from the end of the
// fence, a gauge from above, coupons with the test pieces laid into them, trial
// pieces with the sizes to measure.
func (p picture) inUse(names []named) view {
	pass := p.pass()
	if pass == nil {
		return view{}
	}
	switch p.kind() {
	case "block":
		return p.section(*pass, names)
	case "gauge":
		return p.above(*pass, names)
	case "coupon":
		return p.mates()
	case "strip":
		return p.strips()
	case "trial":
		return p.trial()
	case "facing":
		return p.front()
	}
	return view{}
}

// section is the table frame seen along the fence: x out of the fence, z up from
// the table. The cutter is drawn as the body of revolution that it sweeps: its
// profile and the mirror image behind the axis.
func (p picture) section(pass joint.Pass, names []named) view {
	main := p.Parts[0]
	swept := sweep(pass.Profile(), -pass.Fence)
	block := geom.Bound(main.Outline)
	cut := swept.Bound()
	all := block.Union(cut)
	low := math.Min(cut.Min[1], -7)
	far := orb.Point{all.Max[0] + p.boardOn(), math.Max(all.Max[1], p.Stock)}
	if pass.Lies == joint.Upright {
		far = orb.Point{math.Max(all.Max[0], p.Stock) + tableOn, all.Max[1] + p.boardOn()}
	}
	return view{
		name: "in-use", title: "At the cutter", note: "seen along the fence, true size",
		shows: orb.Bound{Min: orb.Point{p.leftOf(pass, cut), low}, Max: far},
		room:  p.sectionRoom(),
		draw:  func(c *svg.Canvas, at svg.View) { p.drawSection(c, at, pass, swept, names) },
	}
}

// tableOn is how much of the table is seen beyond the block where no board lies on it,
// mm.
const tableOn = 8

// boardOn is how much of the board is seen beyond the block, mm.
func (p picture) boardOn() float64 {
	if p.Narrow {
		return 6
	}
	return 14
}

func (p picture) sectionRoom() room {
	if p.Narrow {
		return room{30, 22, 16, 13}
	}
	return room{34, 18, 17, 15}
}

// leftOf is how far the section reaches to the left: past the cutter, and to the
// table beyond the insert's opening where that is near.
func (p picture) leftOf(pass joint.Pass, cut orb.Bound) float64 {
	left := math.Min(cut.Min[0], -24)
	if p.Narrow {
		return left
	}
	if gap := -pass.Fence - p.Table.InsertOpening/2 - 9; p.Table.InsertOpening > 0 && gap > left-40 {
		left = math.Min(left, gap)
	}
	return left
}

// sweep closes a profile to the outline of what it sweeps about the axis at x.
func sweep(profile geom.Path, x float64) geom.Path {
	right := profile.V
	left := profile.Move(geom.MirrorX(x)).Reverse().V
	q, err := geom.NewPath(true, append(append([]geom.Vertex(nil), right...), left...)...)
	if err != nil {
		return geom.Path{}
	}
	return q
}

func (p picture) drawSection(c *svg.Canvas, at svg.View, pass joint.Pass, swept geom.Path, names []named) {
	main := p.Parts[0]
	block := geom.Bound(main.Outline)
	cut := swept.Bound()
	axis := -pass.Fence
	low := math.Min(cut.Min[1], -7)
	high := math.Max(math.Max(block.Max[1], p.Stock), cut.Max[1])
	left := p.leftOf(pass, cut)
	right := block.Max[0] + p.boardOn()
	upright := pass.Lies == joint.Upright
	if upright {
		right = math.Max(math.Max(block.Max[0], cut.Max[0]), p.Stock) + tableOn
		high = math.Max(block.Max[1], cut.Max[1]) + p.boardOn()
	}
	b := seenBoard{upright: upright, stock: p.Stock, on: block.Max[0] - 2, end: right}
	if upright {
		b.on, b.end = block.Max[1]-2, high
	}
	pt := func(x, z float64) orb.Point { return at.Point(orb.Point{x, z}) }
	line := func(s svg.Style, q ...orb.Point) {
		for i := range q {
			q[i] = at.Point(q[i])
		}
		c.Line(s, q...)
	}
	f := newFree(c)

	c.Group("board", func() {
		// The board lies where the block stands; it is seen where it goes on.
		c.Paths(board{lies: pass.Lies}.grain(0), at.Paths(b.area())...)
	})
	c.Group("cutter", func() {
		if body := pass.Body(); len(body.V) > 1 {
			if b := body.Between(low-4, high+4); len(b.V) > 1 {
				c.Paths(bodyStyle, at.Paths(sweep(b, axis))...)
			}
		}
		c.Paths(cutterStyle, at.Paths(swept)...)
		line(axisStyle, orb.Point{axis, low - 5}, orb.Point{axis, high + 11})
	})
	c.Group("block", func() {
		c.Paths(plateStyle, at.Paths(main.Wall...)...)
		c.Paths(nominalStyle, at.Paths(main.Outline...)...)
		c.Paths(plateStyle, at.Paths(main.Drill...)...)
		c.Paths(engraveStyle, at.Paths(main.Engrave...)...)
	})
	c.Group("crossbar", func() {
		if z, ok := slotAbove(main.Outline, p.Stock); ok && len(p.Parts) > 1 {
			bar := geom.Bound(p.Parts[1].Outline)
			z[0] += (z[1] - z[0] - p.Sheet.Thick()) / 2
			z[1] = z[0] + p.Sheet.Thick()
			c.Paths(behindStyle, at.Paths(geom.Rect(bar.Min[0], z[0], bar.Max[0], z[1]))...)
			f.lines(at.Paths(geom.Rect(bar.Min[0], z[0], bar.Max[0], z[1]))...)
		}
	})
	c.Group("table", func() { p.ground(c, at, pass, left, right, geom.Bound(main.Outline).Max[1]+3) })
	c.Group("board-outline", func() {
		for _, q := range b.face(geom.Bound(main.Engrave)) {
			line(boardStyle, q[0], q[1])
		}
		c.Paths(thinLine, at.Paths(b.broken())...)
	})
	c.Group("seats", func() {
		for _, n := range names {
			if n.part == 0 {
				c.Paths(seatStyle, at.Paths(n.seat.Path)...)
			}
		}
	})
	f.lines(at.Paths(swept)...)
	f.lines(at.Paths(main.Outline...)...)
	f.lines(at.Paths(main.Engrave...)...)
	for _, q := range b.face(orb.Bound{Min: orb.Point{-9, -9}, Max: orb.Point{-9, -9}}) {
		f.lines(at.Paths(geom.Path{V: []geom.Vertex{{Point: q[0]}, {Point: q[1]}}})...)
	}
	f.lines(at.Paths(geom.Path{V: []geom.Vertex{geom.V(axis, low), geom.V(axis, high)}})...)

	c.Group("dimensions", func() {
		if pass.Cutter.Known[0] {
			c.DimX(pt(axis, high+4), pt(0, high+4), at.Point(orb.Point{0, high + 8})[1], "fence D = "+p.size(pass.Fence), true)
		}
		tall, top := 16.0, 7.0
		if p.Narrow {
			tall, top = 14, 6
		}
		if pass.Cutter.Known[1] {
			c.DimY(pt(left, 0), pt(axis, pass.Height), pt(left-tall, 0)[0], "height H = "+p.size(pass.Height), true)
		}
		r := p.Setting.Read(p.Pass)
		if r.Top != 0 {
			c.DimY(pt(left, 0), pt(cutterTop(pass), r.Top), pt(left-top, 0)[0], "top "+p.size(r.Top), false)
		}
		if upright {
			c.DimX(pt(0, high), pt(p.Stock, high), pt(0, high+8)[1], "stock T = "+p.size(p.Stock), false)
		} else {
			c.DimY(pt(right, 0), pt(right, p.Stock), pt(right+9, 0)[0], "stock T = "+p.size(p.Stock), false)
		}
		if r.Land != nil {
			c.DimX(pt(0, 0), pt(r.Land.Out, r.Land.From), pt(0, low-8)[1], "out of the fence "+p.size(r.Land.Out), false)
		}
	})
	c.Group("seat-letters", func() {
		for _, n := range names {
			if n.part == 0 {
				f.balloon(at.Paths(n.seat.Path)[0], n.letter)
			}
		}
	})
}

// A seenBoard is the board that goes on beyond the block which stands in its place:
// along the table, or up the fence.
type seenBoard struct {
	upright bool
	stock   float64 // mm
	on      float64 // mm along the board from where it is seen
	end     float64 // where the picture breaks it off
}

// at is the point u along the board and v across it.
func (b seenBoard) at(u, v, bulge float64) geom.Vertex {
	if b.upright {
		return geom.B(v, u, -bulge)
	}
	return geom.B(u, v, bulge)
}

// area is what is seen of it.
func (b seenBoard) area() geom.Path {
	return geom.Path{Closed: true, V: append([]geom.Vertex{b.at(b.on, 0, 0), b.at(b.on, b.stock, 0)}, b.broken().V...)}
}

// broken is the line at which it is broken off.
func (b seenBoard) broken() geom.Path {
	return geom.Path{V: []geom.Vertex{b.at(b.end, b.stock, 0.3), b.at(b.end, b.stock/2, -0.3), b.at(b.end, 0, 0)}}
}

// face is the line of its face away from table or fence, which stops for letters that
// it would strike out.
func (b seenBoard) face(letters orb.Bound) [][2]orb.Point {
	k := 1 // the coordinate across the board
	if b.upright {
		k = 0
	}
	from := 0.0
	var out [][2]orb.Point
	if letters.Min[k] < b.stock+1 && letters.Max[k] > b.stock-1 {
		out = append(out, [2]orb.Point{b.at(0, b.stock, 0).Point, b.at(letters.Min[1-k]-1.5, b.stock, 0).Point})
		from = letters.Max[1-k] + 1.5
	}
	return append(out, [2]orb.Point{b.at(from, b.stock, 0).Point, b.at(b.end, b.stock, 0).Point})
}

// cutterTop is the x of the cutter's topmost edge point.
func cutterTop(pass joint.Pass) float64 { return pass.Profile().End()[0] }

// ground draws the table with the insert's opening, and the fence's face no higher
// than top.
func (p picture) ground(c *svg.Canvas, at svg.View, pass joint.Pass, left, right, top float64) {
	gap := orb.Point{-pass.Fence - p.Table.InsertOpening/2, -pass.Fence + p.Table.InsertOpening/2}
	slab := func(x0, x1 float64) {
		if x1-x0 < 0.5 {
			return
		}
		c.Paths(groundFill, at.Paths(geom.Rect(x0, -4, x1, 0))...)
		c.Line(groundLine, at.Point(orb.Point{x0, 0}), at.Point(orb.Point{x1, 0}))
	}
	if p.Table.InsertOpening > 0 {
		slab(left, math.Max(left, gap[0]))
		slab(math.Min(right, gap[1]), right)
		c.Line(behindStyle, at.Point(orb.Point{math.Max(left, gap[0]), 0}), at.Point(orb.Point{math.Min(right, gap[1]), 0}))
	} else {
		slab(left, right)
	}
	if x := (math.Max(gap[1], 0) + right) / 2; p.Table.InsertOpening > 0 && gap[1] < right {
		c.Text(svg.Label{Text: "table", At: at.Point(orb.Point{x, -8.2}), Size: 3, Anchor: svg.Middle, Colour: svg.Soft})
	}
	// The fence stands behind its face; at the cutter it is open.
	high := math.Max(p.Table.FenceHeight, 0)
	if high == 0 || high > top {
		high = top
	}
	back := math.Min(-18, -pass.Fence-8)
	c.Paths(behindStyle, at.Paths(geom.Path{V: []geom.Vertex{
		geom.V(back, 0), geom.V(back, high), geom.V(0, high), geom.V(0, 0),
	}})...)
	c.Text(svg.Label{Text: "fence", At: at.Point(orb.Point{back - 1.5, high - 3}), Size: 3, Anchor: svg.End, Colour: svg.Soft})
}

// slotAbove gives the heights of the uppermost slot that opens at x = 0 above the
// stock: the ear's, in which the crossbar lies.
func slotAbove(outline geom.Region, stock float64) (z [2]float64, ok bool) {
	var at []float64
	top := geom.Bound(outline).Max[1] - geom.Tol
	for _, o := range outline {
		for i := range o.Edges() {
			e := o.Edge(i)
			if e.Bulge != 0 || math.Abs(e.A[1]-e.B[1]) > geom.Tol || e.A[1] < stock+1 || e.A[1] > top {
				continue
			}
			if math.Min(math.Abs(e.A[0]), math.Abs(e.B[0])) < 1 {
				at = append(at, e.A[1])
			}
		}
	}
	if len(at) < 2 {
		return z, false
	}
	slices.Sort(at)
	return [2]float64{at[len(at)-2], at[len(at)-1]}, true
}
