package posts

import (
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/joint"
	"blockwright/posts/svg"
)

// A guided pass is a board with its strip at the cutter, seen along the fence.
type guided struct {
	pass   joint.Pass
	layers int
	strip  geom.Path // its section
	board  geom.Path
	swept  geom.Path
	shows  orb.Bound
	down   float64 // how far it is drawn below the first one
}

// strips is the view of the guide strips at work, one pass below the other.
func (p picture) strips() view {
	var all []guided
	var shows orb.Bound
	low := 0.0
	for _, pass := range p.Setting.Passes {
		g := guided{pass: pass}
		wide := 0.0
		for _, q := range p.Parts {
			if strings.HasPrefix(q.Part, pass.Name+" ") {
				g.layers++
				b := geom.Bound(q.Outline)
				wide = b.Max[0] - b.Min[0]
			}
		}
		if g.layers == 0 {
			continue
		}
		thick := float64(g.layers) * p.Sheet.Thick()
		long := math.Max(boardLength(pass), wide+12)
		g.board, g.swept = pass.Board(long), sweep(pass.Profile(), -pass.Fence)
		g.strip = geom.Rect(0, pass.Stock, wide, pass.Stock+thick)
		if pass.Lies == joint.Upright {
			g.strip = geom.Rect(pass.Stock, 0, pass.Stock+thick, wide)
		}
		cut := g.swept.Bound()
		g.shows = g.board.Bound().Union(g.strip.Bound()).Union(cut)
		g.shows.Min[0] = math.Min(g.shows.Min[0], -24)
		g.shows.Min[1] = math.Min(g.shows.Min[1], -7)
		g.shows.Max[0] += 12
		if edge := -pass.Fence + p.Table.InsertOpening/2; p.Table.InsertOpening > 0 && edge < g.shows.Max[0]+20 {
			g.shows.Max[0] = math.Max(g.shows.Max[0], edge+8)
		}
		if len(all) > 0 {
			g.down = low - 14 - g.shows.Max[1]
		}
		low = g.shows.Min[1] + g.down
		all = append(all, g)
		b := orb.Bound{Min: orb.Point{g.shows.Min[0], low}, Max: orb.Point{g.shows.Max[0], g.shows.Max[1] + g.down}}
		if len(all) == 1 {
			shows = b
		}
		shows = shows.Union(b)
	}
	if len(all) == 0 {
		return view{}
	}
	return view{
		name: "in-use", title: "At the cutter", note: "seen along the fence, true size", shows: shows, room: room{14, 26, 4, 8},
		draw: func(c *svg.Canvas, at svg.View) {
			for _, g := range all {
				p.drawGuided(c, svg.View{At: at.Point(orb.Point{0, g.down}), Scale: at.Scale}, g)
			}
		},
	}
}

func (p picture) drawGuided(c *svg.Canvas, at svg.View, g guided) {
	left, right := g.shows.Min[0], g.shows.Max[0]
	b := board{path: g.board, lies: g.pass.Lies, far: g.board.Bound().Max[0], stock: g.pass.Stock}
	if b.lies == joint.Upright {
		b.far = g.board.Bound().Max[1]
	}
	c.Paths(cutterStyle, at.Paths(g.swept)...)
	c.Paths(b.grain(0), at.Paths(g.board)...)
	c.Paths(svg.Style{Stroke: svg.Ink, Width: 0.35}, at.Paths(b.edges()...)...)
	p.nameFace(c, at, b, g.pass)
	strip := geom.Difference(geom.Region{g.strip}, geom.Region{g.swept}) // it is cut into
	fill := plateStyle
	fill.Hatch = svg.Hatch{Stroke: svg.Soft, Width: 0.1, Space: 1.4, Angle: -45}
	c.Paths(fill, at.Paths(strip...)...)
	s := g.strip.Bound()
	for i := 1; i < g.layers; i++ {
		d := float64(i) * p.Sheet.Thick()
		if b.lies == joint.Upright {
			c.Line(thinLine, at.Point(orb.Point{s.Min[0] + d, s.Min[1]}), at.Point(orb.Point{s.Min[0] + d, s.Max[1]}))
		} else {
			c.Line(thinLine, at.Point(orb.Point{s.Min[0], s.Min[1] + d}), at.Point(orb.Point{s.Max[0], s.Min[1] + d}))
		}
	}
	p.ground(c, at, g.pass, left, right, g.shows.Max[1])
	seat := [2]orb.Point{{0, s.Min[1]}, {0, s.Max[1]}}
	if b.lies == joint.Upright {
		seat = [2]orb.Point{{s.Min[0], 0}, {s.Max[0], 0}}
	}
	c.Line(seatStyle, at.Point(seat[0]), at.Point(seat[1]))
	c.Line(axisStyle, at.Point(orb.Point{-g.pass.Fence, g.shows.Min[1]}), at.Point(orb.Point{-g.pass.Fence, g.swept.Bound().Max[1] + 4}))
	what := "strip"
	if g.layers > 1 {
		what = fmt.Sprintf("strip of %d layers", g.layers)
	}
	knee := orb.Point{s.Max[0] + 5, s.Max[1] + 3}
	if b.lies == joint.Upright {
		knee = orb.Point{s.Max[0] + 4, s.Max[1] - 4}
	}
	c.Leader(at.Point(orb.Point{s.Max[0] - 3, (s.Min[1]*1 + s.Max[1]*3) / 4}), at.Point(knee), g.pass.Name+" pass", what)
}

// nameFace letters the board's face that is told apart, beside that face.
func (p picture) nameFace(c *svg.Canvas, at svg.View, b board, pass joint.Pass) {
	words := strings.Fields(boardFace(p.Setting, pass))
	if len(words) < 3 {
		return
	}
	const size = 2.8
	l := svg.Label{Text: words[0] + " " + words[1], Size: size, Anchor: svg.End, Backed: true}
	switch words[2] {
	case "against": // the fence, on the board's left
		l.Turn, l.At = 90, at.Point(orb.Point{0, b.far})
		l.At = orb.Point{l.At[0] + 1 + 0.76*size, l.At[1] - 2}
	case "up":
		l.At = at.Point(orb.Point{b.far, b.stock})
		l.At = orb.Point{l.At[0] - 2, l.At[1] - 1 - 0.76*size}
	default:
		l.At = at.Point(orb.Point{b.far, 0})
		l.At = orb.Point{l.At[0] - 2, l.At[1] + 1 + 0.22*size}
	}
	c.Text(l)
}
