package posts

import (
	"math"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/joint"
	"blockwright/posts/svg"
)

// A mated coupon is a coupon with the test piece that is laid into it, both moved
// beside the coupons before.
type mated struct {
	plate  part
	piece  board
	beside geom.Iso
}

// mates is the view of the coupons, each with a routed test piece laid into it.
func (p picture) mates() view {
	var all []mated
	var sizes []orb.Bound
	wide := 0.0
	for _, q := range p.Parts {
		if piece, ok := p.piece(q.Part); ok && q.Kind == "coupon" {
			b := geom.Bound(q.Outline).Union(piece.region().Bound())
			all, sizes = append(all, mated{plate: q, piece: piece}), append(sizes, b)
			wide += b.Max[0] - b.Min[0] + matesApart
		}
	}
	// Beside each other, or below where that is too wide for a letter.
	var shows orb.Bound
	next := orb.Point{}
	for i, b := range sizes {
		to := orb.Point{next[0] - b.Min[0], next[1] - b.Min[1]}
		if wide > matesWide && i > 0 {
			to = orb.Point{-b.Min[0], next[1] - b.Max[1]}
		}
		all[i].beside = geom.Shift(to[0], to[1])
		b = orb.Bound{Min: all[i].beside.Point(b.Min), Max: all[i].beside.Point(b.Max)}
		if i == 0 {
			shows = b
		}
		shows = shows.Union(b)
		if next = (orb.Point{b.Max[0] + matesApart, 0}); wide > matesWide {
			next = orb.Point{0, b.Min[1] - matesApart}
		}
	}
	if len(all) == 0 {
		return view{}
	}
	return view{
		name: "in-use", title: "With a test piece", note: "both lying on a flat, true size", shows: shows, room: room{3, 3, 9, 3},
		draw: func(c *svg.Canvas, at svg.View) { p.drawMates(c, at, all) },
	}
}

// The room in mm between two coupons and the most that they take side by side.
const (
	matesApart = 16.0
	matesWide  = 185.0
)

// piece is the test piece that goes into the coupon of the named pass, in that pass's
// frame: a piece of the other pass, of a joint that turns over one of the same pass,
// of a plain edge the piece of its own pass to lay beside.
func (p picture) piece(pass string) (board, bool) {
	s := p.Setting
	for i, own := range s.Passes {
		if own.Name != pass {
			continue
		}
		if flips(s) {
			bs := laid{set: s, flip: true}.boards()
			return bs[1], true
		}
		if len(s.Passes) == 1 {
			b := laid{set: s}.boards()[0]
			b.name = "test piece"
			return b, true
		}
		other := s.Passes[1-i]
		turn := s.Nested()
		if i == 1 {
			turn = turn.Inverse()
		}
		long := boardLength(other)
		return board{name: other.Name + " piece", path: other.Board(long), lies: other.Lies, far: long, stock: other.Stock, turn: &turn}, true
	}
	return board{}, false
}

func (p picture) drawMates(c *svg.Canvas, at svg.View, all []mated) {
	for _, m := range all {
		move := func(ps []geom.Path) []geom.Path { return at.Paths(geom.MoveAll(ps, m.beside)...) }
		beside := len(p.Setting.Passes) == 1
		if !beside {
			c.Paths(m.piece.grain(1), move(m.piece.region())...)
		}
		c.Paths(plateStyle, move(m.plate.Wall)...)
		c.Paths(nominalStyle, move(m.plate.Outline)...)
		c.Paths(plateStyle, move(m.plate.Drill)...)
		c.Paths(engraveStyle, move(m.plate.Engrave)...)
		for k, s := range m.plate.Seats {
			if k < len(m.plate.Kept) && len(m.plate.Kept[k].V) > 1 {
				s.Path = m.plate.Kept[k]
			}
			c.Paths(seatStyle, move([]geom.Path{s.Path})...)
		}
		line := svg.Style{Stroke: svg.Ink, Width: 0.35}
		if beside { // the piece lies on the coupon
			line = wantedStyle
		}
		c.Paths(line, move(m.piece.edges())...)
		q := at.Point(m.beside.Point(m.piece.middle()))
		name := svg.Label{Text: m.piece.name, At: orb.Point{q[0], q[1] - 1}, Size: 3, Anchor: svg.Middle, Backed: true}
		if !beside {
			if m.piece.lies == joint.Flat && svg.Width(m.piece.name, 3) > 0.36*m.piece.far*at.Scale {
				name.Turn, name.At = 90, orb.Point{q[0] + 1, q[1]}
			}
			c.Text(name)
		}
		b := geom.Bound(m.plate.Outline)
		foot := at.Point(m.beside.Point(orb.Point{b.Center()[0], math.Min(b.Min[1], m.piece.region().Bound().Min[1])}))
		c.Text(svg.Label{Text: "coupon, " + strings.ToLower(m.plate.Part) + " pass", At: orb.Point{foot[0], foot[1] - 5}, Size: 3, Anchor: svg.Middle, Colour: svg.Soft})
	}
}
