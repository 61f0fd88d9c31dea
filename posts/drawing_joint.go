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

// A laid joint is what is drawn of a setting: its boards cut and laid together with
// the cuts in each other, or two test pieces of the first pass, one turned over.
type laid struct {
	set   *joint.Setting
	right *joint.Setting // set apart from an error; nil where set is right
	flip  bool           // two test pieces
	units string         // of the sizes lettered: mm or in
}

// boards are the sections as they lie, in the first pass's frame.
func (l laid) boards() []board {
	first := l.set.Passes[0]
	length := 0.0
	for _, p := range l.set.Passes {
		length = math.Max(length, boardLength(p))
	}
	out := []board{{name: first.Name, path: first.Board(length), lies: first.Lies, far: length, stock: first.Stock}}
	switch {
	case l.flip:
		c := l.set.Centre
		turn := geom.HalfTurn(orb.Point{c[0] - first.Fence, c[1] + first.Height})
		b := out[0]
		b.name, b.turn = "turned over", &turn
		out = append(out, b)
	case len(l.set.Passes) > 1:
		p, turn := l.set.Passes[1], l.set.Nested()
		out = append(out, board{name: p.Name, path: p.Board(length), lies: p.Lies, far: length, stock: p.Stock, turn: &turn})
	}
	return out
}

// boardLength is how much in mm of a board is drawn: what the cutter reaches and a
// piece that is whole.
func boardLength(p joint.Pass) float64 {
	b := p.Profile().Between(0, math.Inf(1)).Bound()
	reach := math.Max(b.Max[0], 0)
	if p.Lies == joint.Upright {
		reach = math.Max(b.Max[1], p.Stock)
	}
	return math.Max(reach, p.Stock) + math.Max(8, 0.5*p.Stock)
}

// A board is a section in its own pass's frame and how it is laid.
type board struct {
	name  string
	path  geom.Path
	lies  joint.Lie
	far   float64   // where the section is broken off
	stock float64   // its thickness
	turn  *geom.Iso // nil: it lies as it was cut
}

func (b board) place(q ...geom.Path) []geom.Path {
	if b.turn == nil {
		return q
	}
	return geom.MoveAll(q, *b.turn)
}

// region is the section as it lies, counter-clockwise though it be mirrored.
func (b board) region() geom.Region {
	r := geom.Region(b.place(b.path))
	if b.turn != nil && b.turn.Flips() {
		r = geom.Region{r[0].Reverse()}
	}
	return r
}

// edges are the section's outline without the line where it is broken off.
func (b board) edges() []geom.Path {
	across := 0
	if b.lies == joint.Upright {
		across = 1
	}
	var out []geom.Path
	for i := range b.path.Edges() {
		e := b.path.Edge(i)
		if math.Abs(e.A[across]-b.far) < geom.Tol && math.Abs(e.B[across]-b.far) < geom.Tol {
			continue
		}
		if n := len(out); n > 0 && out[n-1].End() == e.A {
			v := out[n-1].V
			v[len(v)-1].Bulge = e.Bulge
			out[n-1].V = append(v, geom.Vertex{Point: e.B})
			continue
		}
		out = append(out, geom.Path{V: []geom.Vertex{{Point: e.A, Bulge: e.Bulge}, {Point: e.B}}})
	}
	return b.place(out...)
}

// middle is where the board's name stands: in its whole part.
func (b board) middle() orb.Point {
	at := orb.Point{b.far - b.far/5, b.stock / 2}
	if b.lies == joint.Upright {
		at = orb.Point{b.stock / 2, b.far - b.far/6}
	}
	if b.turn != nil {
		at = b.turn.Point(at)
	}
	return at
}

// grain is the hatching that tells two boards apart without colour: along each
// board, dense in the second.
func (b board) grain(i int) svg.Style {
	s := boardFill
	s.Hatch.Angle = 0
	if b.lies == joint.Upright {
		s.Hatch.Angle = 90
	}
	if i > 0 {
		s.Fill, s.Hatch.Space, s.Hatch.Dash = "#ecdfc6", 1.1, nil
	}
	return s
}

// view is the picture of the joint at a scale.
func (l laid) view(name string, scale float64, lettered bool) view {
	bs := l.boards()
	var all geom.Region
	for _, b := range bs {
		all = append(all, b.region()...)
	}
	if l.right != nil && len(bs) == 1 {
		all = append(all, laid{set: l.right}.boards()[0].region()...)
	}
	around := room{1.5, 1.5, 1.5, 1.5}
	if lettered {
		around = room{14.5, 14.5, 10.5, 10.5}
	}
	return view{name: name, shows: all.Bound(), room: around, scale: scale, draw: func(c *svg.Canvas, at svg.View) { l.draw(c, at, bs, lettered) }}
}

func (l laid) draw(c *svg.Canvas, at svg.View, bs []board, lettered bool) {
	outline := svg.Style{Stroke: svg.Ink, Width: 0.35}
	for i, b := range bs {
		c.Paths(b.grain(i), at.Paths(b.region()...)...)
	}
	if len(bs) > 1 && l.right != nil {
		clash := geom.Intersection(bs[0].region(), bs[1].region())
		c.Paths(clashStyle, at.Paths(noSlivers(clash)...)...)
	}
	for _, b := range bs {
		c.Paths(outline, at.Paths(b.edges()...)...)
	}
	if len(bs) == 1 { // a plain edge: what was taken off, or where the edge is wanted
		want := l.set
		if l.right != nil {
			want = l.right
		}
		b := bs[0]
		if l.right != nil {
			b = laid{set: want}.boards()[0]
			c.Paths(wantedStyle, at.Paths(b.edges()...)...)
		} else {
			waste := geom.Difference(geom.Region{geom.Rect(0, 0, b.far, b.stock)}, b.region())
			c.Paths(wantedStyle, at.Paths(noSlivers(waste)...)...)
		}
	}
	if !lettered {
		return
	}
	for _, b := range bs {
		m := at.Point(b.middle())
		l := svg.Label{Text: b.name, At: orb.Point{m[0], m[1] - 1}, Size: 3, Anchor: svg.Middle, Backed: true}
		if b.lies == joint.Flat && svg.Width(b.name, 3) > 0.36*b.far*math.Max(at.Scale, 1) {
			l.Turn, l.At = 90, orb.Point{m[0] + 1, m[1]}
		}
		c.Text(l)
	}
	l.sizes(c, at, bs)
}

// sizes letters the boards' thicknesses, at their broken ends.
func (l laid) sizes(c *svg.Canvas, at svg.View, bs []board) {
	for _, b := range bs {
		p, q := orb.Point{b.far, 0}, orb.Point{b.far, b.stock}
		if b.lies == joint.Upright {
			p, q = orb.Point{0, b.far}, orb.Point{b.stock, b.far}
		}
		out := 7.0
		if b.turn != nil {
			p, q = b.turn.Point(p), b.turn.Point(q)
		}
		centre := at.Point(b.middle())
		p, q = at.Point(p), at.Point(q)
		text := sizeText(b.stock, l.units)
		if b.lies == joint.Upright {
			if p[1] < centre[1] {
				out = -out
			}
			c.DimX(p, q, p[1]+out, text, false)
		} else {
			if p[0] < centre[0] {
				out = -out
			}
			c.DimY(p, q, p[0]+out, text, false)
		}
	}
}

// noSlivers leaves out what is too thin to be seen: rounding where two boards touch.
func noSlivers(r geom.Region) geom.Region {
	var out geom.Region
	for _, p := range r {
		if math.Abs(p.Area()) > 0.002 {
			out = append(out, p)
		}
	}
	return out
}

// A shownError is an error of the setting as it is drawn, magnified.
type shownError struct {
	joint.Error
	Times float64
}

// magnified picks the factor by which an error is drawn: ten times, less where the
// joint would no longer be one.
func magnified(e joint.Error) shownError {
	worst := math.Max(math.Max(math.Abs(e.DZ), math.Abs(e.E)), math.Abs(e.DT))
	for _, k := range []float64{10, 5, 2} {
		if k*worst <= 1.5+geom.Tol {
			return shownError{e, k}
		}
	}
	return shownError{e, 1}
}

// laid is the joint under the magnified error; false where no boards are left.
func (e shownError) laid(s *joint.Setting) (laid, bool) {
	w := s.Wrong(joint.Error{DZ: e.DZ * e.Times, E: e.E * e.Times, DT: e.DT * e.Times})
	return laid{set: w, right: s}, w != nil
}

// name says the error in words: cutter 0.1 high.
func (e shownError) name(units string) string {
	var out []string
	for _, v := range []struct {
		by               float64
		what, more, less string
	}{{e.DZ, "cutter", "high", "low"}, {e.E, "fence", "back", "forward"}, {e.DT, "boards", "thicker", "thinner"}} {
		switch text := v.what + " " + sizeText(math.Abs(v.by), units); {
		case v.by > 0:
			out = append(out, text+" "+v.more)
		case v.by < 0:
			out = append(out, text+" "+v.less)
		}
	}
	return strings.Join(out, ", ")
}

// usualErrors are the errors that a joint is drawn with: a tenth of a mm, four
// thousandths of an inch.
func usualErrors(units string) []joint.Error {
	by := 0.1
	if units == "in" {
		by = 0.004 * InchMM
	}
	return []joint.Error{{DZ: by}, {DZ: -by}, {E: by}, {E: -by}}
}

// JointDrawing draws closed joints: each setting's boards cut and laid together to
// scale, the test pieces, and the same with errors magnified. asked is an error to
// show besides the usual ones, or nil. Lengths are lettered in the units, mm or in.
func JointDrawing(sets []*joint.Setting, units string, asked *joint.Error) []byte {
	return jointCanvas(sets, units, asked).Bytes()
}

func jointCanvas(sets []*joint.Setting, units string, asked *joint.Error) *svg.Canvas {
	var rows [][]view
	for i, s := range sets {
		rows = append(rows, jointViews(fmt.Sprintf("joint-%d", i+1), s, units, asked)...)
	}
	title := "Joints of " + sets[0].Request.Cutter.Name
	return rowsCanvas("joint-"+sets[0].Request.Cutter.Handle, title,
		fmt.Sprintf("Sections of %d joints, boards laid together at the right setting and with errors magnified.", len(sets)), rows, units)
}

// rowsCanvas is a page of rows of views under a title.
func rowsCanvas(id, title, says string, rows [][]view, units string) *svg.Canvas {
	w, h := notesLeast, 0.0
	for _, row := range rows {
		rw, rh := rowSize(row)
		w, h = math.Max(w, rw), h+rh
	}
	c := svg.New(id, w+2*margin, h+2*margin+header+12, title, says)
	pageW, pageH := c.Size()
	c.Paths(svg.Style{Stroke: svg.Ink, Width: 0.35}, geom.Rect(margin/2, margin/2, pageW-margin/2, pageH-margin/2))
	c.Text(svg.Label{Text: fit(title, 7.7, pageW-2*margin), At: orb.Point{margin, pageH - margin - 7}, Size: 7, Bold: true})
	c.Line(svg.Style{Stroke: svg.Ink, Width: 0.35}, orb.Point{margin / 2, pageH - margin - 12}, orb.Point{pageW - margin/2, pageH - margin - 12})
	y := pageH - margin - header
	for _, row := range rows {
		x := margin
		for _, v := range row {
			v.put(c, orb.Point{x, y})
			x += v.width() + gutter
		}
		_, rh := rowSize(row)
		y -= rh
	}
	c.CheckBar(orb.Point{margin, margin}, checkBarText(units))
	return c
}

// notesLeast is the width in mm that a drawing of joints has at least: its check
// bar and a short title.
const notesLeast = 150.0

func rowSize(row []view) (w, h float64) {
	w = -gutter
	for _, v := range row {
		w += v.width() + gutter
		h = math.Max(h, v.height()+viewTitle+8)
	}
	return w, h
}

// jointViews are the rows of views of one setting.
func jointViews(id string, s *joint.Setting, units string, asked *joint.Error) [][]view {
	right := laid{set: s, units: units}
	main := right.view(id+"-right", mainScale(right, 90), true)
	main.title, main.note = "Closed", fmt.Sprintf("stock %s %s, at the right setting, %g : 1", sizeText(s.Request.Stock, units), units, main.scale)
	if len(s.Passes) == 1 {
		main.title = "Edge"
	}
	top := []view{main}
	if flips(s) {
		test := laid{set: s, flip: true, units: units}.view(id+"-test", 1, true)
		test.title, test.note = "Test pieces", "one turned over, true size"
		top = append(top, test)
	}
	errs := usualErrors(units)
	if asked != nil {
		errs = append([]joint.Error{*asked}, errs...)
	}
	var wrong []view
	for i, e := range errs {
		shown := magnified(e)
		l, ok := shown.laid(s)
		if !ok {
			continue
		}
		v := l.view(fmt.Sprintf("%s-wrong-%d", id, i+1), 1, false)
		v.title, v.note = "", fmt.Sprintf("%s: drawn × %g", shown.name(units), shown.Times)
		wrong = append(wrong, v)
	}
	return [][]view{top, wrong}
}

// mainScale is the scale of the large picture of a joint: as large as most mm allow.
func mainScale(l laid, most float64) float64 {
	w, h := l.view("", 1, false).size()
	scale := 1.0
	for _, k := range []float64{1.5, 2, 3, 4} {
		if k*math.Max(w, h) <= most {
			scale = k
		}
	}
	return scale
}

// flips tells whether two pieces of the first pass make the test of the height: one
// turned over in the other.
func flips(s *joint.Setting) bool {
	return s.TurnsOver() && (s.Joint == "lock-miter" || s.Joint == "edge-glue")
}

func checkBarText(units string) string {
	if units == "in" {
		return "This bar is 100 mm (3.937 in) long on a true print."
	}
	return "This bar is 100 mm long on a true print."
}

// sizeText letters a length in the units, without them: see picture.size.
func sizeText(mm float64, units string) string { return picture{Units: units}.size(mm) }
