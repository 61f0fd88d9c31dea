package joint

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// Error is what may be wrong at the table, mm.
type Error struct {
	DZ float64 // height: positive with the cutter too high
	E  float64 // exposure: positive with the fence too far back, too much cutter
	DT float64 // thickness of all boards: positive with boards thicker than set for
}

// Effect is what an [Error] does to the joint, mm.
type Effect struct {
	Error Error

	// FlipTop and FlipBottom are the steps of two test pieces, both cut like the
	// first board, one turned over and nested in the other: how far the turned
	// piece stands above the other on the top and on the bottom side.
	// Both are 2·dz for boards of the right thickness; they differ when the
	// pieces do. Zero for joints without the test, see [Setting.TurnsOver].
	FlipTop, FlipBottom float64

	// Off is how far the second board stands, nested, from where it would stand
	// flush: along x and along z of the first board's frame. Of a plain edge, how
	// far the profile lands from where it is wanted.
	Off orb.Point

	Tips   [2]Tip  // first board's, second board's; zero for joints without tips
	Corner *Corner // nil for joints without an outside corner

	Nested Gap // cut lines in each other, as far as they go
	Flush  Gap // outside faces aligned
}

// Tip is the outermost edge of a board, where its outside face meets the cut.
type Tip struct {
	// Short is the signed error: positive, the tip lost so much of its length
	// and the corner is blunt; negative, a land of that width is left. For the
	// first board it is X at the outside face.
	Short float64
	// Land is the width of the flat left on the board's end, 0 if none.
	Land float64
}

// Corner is the outside corner of a joint held nested, in the first board's
// frame.
type Corner struct {
	TipX  float64 // x of the flat board's tip
	FaceX float64 // x of the upright board's outer face
	TopZ  float64 // z of the upright board's highest point

	// FaceStep is how far the upright board's outer face stands beyond the flat
	// board's tip, EndStep how far its end stands above the flat board's face.
	FaceStep, EndStep float64

	// Outline is the visible edge of the corner, from the upright board's outer
	// face to the flat board's top.
	Outline geom.Path
}

// With tells what a height wrong by dz and an exposure wrong by e do: the height
// is H + dz, the fence stands at D - e, for every pass of the setting. Of a matched
// set only the second pass errs, as it is set to match the first.
func (s *Setting) With(dz, e float64) Effect { return s.Under(Error{DZ: dz, E: e}) }

// Thicker tells what boards thicker by dT do at the setting as it is; both faces
// that meet inside stay the reference faces.
func (s *Setting) Thicker(dT float64) Effect { return s.Under(Error{DT: dT}) }

// Under tells what an error does, all of it computed from both boards' cut lines.
// An error that leaves no board, or a setting without passes, gives no effect
// but the error.
func (s *Setting) Under(err Error) Effect {
	f, w := s.steps(err)
	switch {
	case w == nil:
	case len(w.Passes) == 1:
		f.Nested = s.edgeGap(w)
		f.Flush = f.Nested
	default:
		f.Nested = w.gap(w.Nested())
		f.Flush = w.gap(w.Flush())
	}
	return f
}

// Steps is what [Setting.Under] tells but for the gaps, which are most of the work.
func (s *Setting) Steps(err Error) Effect {
	f, _ := s.steps(err)
	return f
}

// steps also gives the setting under the error, nil where there is none.
func (s *Setting) steps(err Error) (Effect, *Setting) {
	f, w := Effect{Error: err}, s.Wrong(err)
	if w == nil {
		return f, nil
	}
	f.FlipTop, f.FlipBottom = w.Flip(w.Passes[0].Stock, w.Passes[0].Stock)
	if len(w.Passes) == 1 {
		f.Off = orb.Point{err.E, err.DZ}
		return f, w
	}
	n, m := w.kind.nested(w), w.kind.flush(w)
	f.Off = orb.Point{n[0] - m[0], n[1] - m[1]}
	if w.kind.corner {
		for i := range w.Passes {
			f.Tips[i] = w.Passes[i].tip()
		}
		f.Corner = w.corner()
	}
	return f, w
}

// Tip is that of the first board under an error, without what else it does; false
// for joints without tips, and for an error that leaves no board.
func (s *Setting) Tip(err Error) (Tip, bool) {
	if !s.HasCorner() {
		return Tip{}, false
	}
	p, ok := s.wrongPass(0, err)
	if !ok {
		return Tip{}, false
	}
	return p.tip(), true
}

// Wrong is the setting as it is at the table under the error; nil where no board is
// left, or of a setting without passes. Of a matched set only the second pass errs.
func (s *Setting) Wrong(err Error) *Setting {
	if s.kind == nil || len(s.Passes) == 0 {
		return nil
	}
	w := *s
	w.Passes = nil
	for i := range s.Passes {
		p, ok := s.wrongPass(i, err)
		if !ok {
			return nil
		}
		w.Passes = append(w.Passes, p)
	}
	return &w
}

// wrongPass is one of the passes under the error; false where no board is left.
func (s *Setting) wrongPass(i int, err Error) (Pass, bool) {
	p := s.Passes[i]
	if !(p.Stock+err.DT > 0) {
		return p, false
	}
	dz, e := err.DZ, err.E
	if s.kind.mates && i == 0 {
		dz, e = 0, 0
	}
	moved := p.Profile().Move(geom.Shift(e, dz))
	p.Stock, p.Height, p.Fence = p.Stock+err.DT, p.Height+dz, p.Fence-e
	p.profile, p.CutLine = moved, moved.Between(0, p.Stock)
	return p, true
}

// Flip gives the steps of the flip test for two pieces of the thicknesses a (lies
// as it was cut) and b (turned over and nested in it): how far the turned piece
// stands above the other on top, 2(H + hc) - a, and below, 2(H + hc) - b. Derived
// here from the half turn; the test itself is common practice.
func (s *Setting) Flip(a, b float64) (top, bottom float64) {
	if len(s.Passes) == 0 || !s.TurnsOver() {
		return 0, 0
	}
	m := 2 * (s.Passes[0].Height + s.Centre[1])
	return m - a, m - b
}

// tip of the board after the pass.
func (p Pass) tip() Tip {
	if p.Lies == Flat {
		q := p.tipPoint()
		return Tip{Short: beyond(p.Profile(), p.Stock), Land: p.Stock - q[1]}
	}
	q, ok := lowest(p.Profile().Between(0, math.Inf(1)), p.Stock)
	if !ok { // cut through, as high as the cutter reaches
		_, hi := heights(p.Profile())
		return Tip{Short: math.Max(0, hi)}
	}
	land := math.Max(0, p.Stock-q[0])
	if q[1] > seam {
		return Tip{Short: q[1]}
	}
	return Tip{Short: -land, Land: land}
}

// tipPoint is the outermost point of the cut on the board, in the pass's frame:
// a flat board's highest point of the cut line with x ≥ 0, an upright board's
// lowest with x ≤ T.
func (p Pass) tipPoint() orb.Point {
	if p.Lies == Flat {
		if q, ok := highest(p.Profile().Between(0, p.Stock), 0); ok {
			return q
		}
		return orb.Point{0, 0}
	}
	if q, ok := lowest(p.Profile().Between(0, math.Inf(1)), p.Stock); ok {
		return q
	}
	return orb.Point{p.Stock, 0}
}

// beyond is X at the height z, taken on along the tangent beyond the profile's
// ends, so that a cutter a little too low still tells the size of its error.
func beyond(p geom.Path, z float64) float64 {
	lo, hi := heights(p)
	if z >= lo && z <= hi {
		return reach(p, z)
	}
	e, t := p.Edge(0), 0.0
	if z > hi {
		e, t = p.Edge(p.Edges()-1), 1
	}
	q, d := e.At(t), e.Direction(t)
	if math.Abs(d[1]) < 1e-3 { // level: no tangent to go on along
		return q[0]
	}
	return q[0] + (z-q[1])*d[0]/d[1]
}

// corner of the boards held nested.
func (s *Setting) corner() *Corner {
	flat, up, iso := s.Passes[0], s.Passes[1], s.Nested()
	f, u := flat.tipPoint(), up.tipPoint()
	end := iso.Point(u)                          // where the upright board's cut begins
	face := iso.Point(orb.Point{up.Stock, u[1]}) // its outside corner
	c := &Corner{FaceX: face[0], TopZ: face[1], TipX: f[0]}
	_, hi := heights(flat.Profile())
	if hi < flat.Stock-seam {
		c.TipX = 0 // the cutter stays below the board's top and leaves its end whole
	}
	c.FaceStep, c.EndStep = c.TipX-c.FaceX, c.TopZ-flat.Stock

	var v []geom.Vertex
	add := func(q geom.Vertex) {
		if n := len(v); n > 0 && math.Hypot(v[n-1].X()-q.X(), v[n-1].Y()-q.Y()) < geom.Tol {
			v[n-1].Bulge = q.Bulge
			return
		}
		v = append(v, q)
	}
	add(geom.Vertex{Point: face})
	add(geom.Vertex{Point: end})
	if end[1] >= f[1] { // the upright board's cut shows, downward
		shown := up.Profile().Move(iso).Reverse().Between(f[1], end[1]).Reverse()
		for _, q := range shown.V {
			add(q)
		}
	} else {
		for _, q := range flat.Profile().Between(end[1], f[1]).V {
			add(q)
		}
	}
	add(geom.Vertex{Point: f})
	if f[1] < flat.Stock-seam {
		add(geom.V(c.TipX, f[1]))
		add(geom.V(c.TipX, flat.Stock))
	}
	v[len(v)-1].Bulge = 0
	c.Outline = geom.Path{V: v}
	return c
}
