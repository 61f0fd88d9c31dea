package posts

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/joint"
	"blockwright/jig/plate"
	"blockwright/jig/shop"
	"blockwright/posts/svg"
)

// A picture is what the drawing of a fixture is made from. Lengths are mm; they
// are lettered in the shop's units.
type picture struct {
	ID, Title string
	Units     string
	Stock     float64
	Setting   *joint.Setting
	Pass      int           // of the setting: the one that the fixture is for
	Contact   plate.Contact // what a gauge touches
	Table     shop.Table
	Sheet     shop.Sheet
	Mill      float64 // diameter
	Parts     []part
	Rows      [][2]string // more lines of the title block
	Narrow    bool        // views leave out what paper of a letter's width has no room for
}

// A part is a plate and where its own origin lies on the sheet.
type part struct {
	plate.Cut
	At orb.Point
}

// The page: everything in mm.
const (
	margin = 10.0
	gutter = 14.0 // between views
	header = 17.0 // title line
	footer = 54.0 // seats, legend, check bar, whole sheet, title block; more for a long list of seats
)

// draw is the fixture's drawing: how it stands at the cutter, how it lies on the
// sheet, both at true size, and what to know about it. The page grows with the
// views.
func draw(p picture) *svg.Canvas {
	names := seatNames(p.Parts)
	columns := [][]view{{p.inUse(names), p.detail(names)}, {p.onSheet(names)}}
	w, h := -gutter, 0.0
	for _, col := range columns {
		cw, ch := columnSize(col)
		if cw > 0 {
			w += cw + gutter
		}
		h = math.Max(h, ch)
	}
	w = math.Max(w, notesWidth)
	rows := seatRows(names)
	c := svg.New(p.ID, w+2*margin, h+2*margin+header+footing(rows), p.Title, p.describe(rows))
	pageW, pageH := c.Size()
	c.Group("frame", func() {
		c.Paths(svg.Style{Stroke: svg.Ink, Width: 0.35}, geom.Rect(margin/2, margin/2, pageW-margin/2, pageH-margin/2))
	})
	p.head(c)
	x := margin
	for _, col := range columns {
		top := pageH - margin - header
		for _, v := range col {
			if v.draw != nil {
				v.put(c, orb.Point{x, top})
				top -= v.height() + viewTitle + 4
			}
		}
		if cw, _ := columnSize(col); cw > 0 {
			x += cw + gutter
		}
	}
	p.notes(c, rows)
	return c
}

const viewTitle = 9.0

// A view is one picture on the page: what it shows in its own coordinates, the room
// in mm of paper that it wants around that, its scale (0 counts as 1), and how it is
// drawn.
type view struct {
	name, title, note string
	shows             orb.Bound
	room              room
	scale             float64
	draw              func(c *svg.Canvas, at svg.View)
}

// room around a picture for its dimensions, mm on paper.
type room struct{ left, right, below, above float64 }

// times is the view's scale.
func (v view) times() float64 {
	if v.scale == 0 {
		return 1
	}
	return v.scale
}

// box is what the view needs in its own coordinates.
func (v view) box() orb.Bound {
	k := v.times()
	return pad(v.shows, v.room.left/k, v.room.right/k, v.room.below/k, v.room.above/k)
}

// size of the picture on paper, mm.
func (v view) size() (w, h float64) {
	b, k := v.box(), v.times()
	return k * (b.Max[0] - b.Min[0]), k * (b.Max[1] - b.Min[1])
}

func (v view) height() float64 { _, h := v.size(); return h }

// width holds the picture and the line above it.
func (v view) width() float64 {
	w, _ := v.size()
	return math.Max(w, v.titleWidth()+svg.Width(v.note, 3))
}

func (v view) titleWidth() float64 { return svg.Width(v.title, 4)*1.1 + 3 }

// put draws the view and its title, its upper left corner at the given place.
func (v view) put(c *svg.Canvas, at orb.Point) {
	c.Text(svg.Label{Text: v.title, At: orb.Point{at[0], at[1] - 5}, Size: 4, Bold: true})
	c.Text(svg.Label{Text: v.note, At: orb.Point{at[0] + v.titleWidth(), at[1] - 5}, Size: 3, Colour: svg.Soft})
	v.picture(c, orb.Point{at[0], at[1] - viewTitle})
}

// picture draws the view without its title.
func (v view) picture(c *svg.Canvas, at orb.Point) {
	b, k := v.box(), v.times()
	c.Group(v.name, func() {
		v.draw(c, svg.View{At: orb.Point{at[0] - k*b.Min[0], at[1] - k*b.Max[1]}, Scale: k})
	})
}

func columnSize(col []view) (w, h float64) {
	for _, v := range col {
		if v.draw != nil {
			w = math.Max(w, v.width())
			h += v.height() + viewTitle + 4
		}
	}
	return w, h
}

func (p picture) head(c *svg.Canvas) {
	w, h := c.Size()
	c.Text(svg.Label{Text: fit(p.Title, 7.7, w-2*margin), At: orb.Point{margin, h - margin - 7}, Size: 7, Bold: true})
	c.Line(svg.Style{Stroke: svg.Ink, Width: 0.35}, orb.Point{margin / 2, h - margin - 12}, orb.Point{w - margin/2, h - margin - 12})
}

// describe is the drawing in one sentence, for who cannot see it.
func (p picture) describe(rows []seatRow) string {
	var b strings.Builder
	fmt.Fprintf(&b, "Drawing of fixture %s at true size: %d plates from %s sheet, %s thick.",
		p.ID, len(p.Parts), p.Sheet.Material, p.size(p.Sheet.Thick()))
	if s := p.pass(); s != nil && p.kind() != "trial" {
		fmt.Fprintf(&b, " Cutter height %s, fence %s, stock %s.", p.size(s.Height), p.size(s.Fence), p.size(p.Stock))
	}
	for _, r := range rows {
		fmt.Fprintf(&b, " %s: %s.", strings.Join(r.letters, ", "), r.name)
	}
	return b.String()
}

// kind of the fixture, "" without parts.
func (p picture) kind() string {
	if len(p.Parts) == 0 {
		return ""
	}
	return p.Parts[0].Kind
}

func (p picture) pass() *joint.Pass {
	if p.Setting == nil || p.Pass >= len(p.Setting.Passes) {
		return nil
	}
	return &p.Setting.Passes[p.Pass]
}

// size letters a length in the shop's units, without them: mm to 0.001, inches
// to 0.0001, noughts at the end left out, a true minus sign.
func (p picture) size(mm float64) string {
	v, decimals := mm, 3
	if p.Units == "in" {
		v, decimals = mm/25.4, 4
	}
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	switch {
	case s == "-0":
		return "0"
	case strings.HasPrefix(s, "-"):
		return "−" + s[1:]
	}
	return s
}

// unit is the name of the shop's units.
func (p picture) unit() string {
	if p.Units == "in" {
		return "in"
	}
	return "mm"
}

// A named seat carries the letter by which drawing and list call it.
type named struct {
	letter, name string
	part         int
	seat         plate.Seat
}

// seatNames gives every seat a letter, A first. What is drawn of a seat is what
// the mill leaves of it.
func seatNames(parts []part) []named {
	var out []named
	for i, q := range parts {
		for k, s := range q.Seats {
			if k < len(q.Kept) {
				s.Path = q.Kept[k]
			}
			if len(s.Path.V) < 2 {
				continue
			}
			out = append(out, named{letters(len(out)), says(q, s.Name), i, s})
		}
	}
	return out
}

// A seatRow is a line of the list of seats: all that are for the same.
type seatRow struct {
	letters []string
	name    string
}

// seatRows gathers the seats that are for the same, in order.
func seatRows(names []named) []seatRow {
	var rows []seatRow
	for _, n := range names {
		k := slices.IndexFunc(rows, func(r seatRow) bool { return r.name == n.name })
		if k < 0 {
			k = len(rows)
			rows = append(rows, seatRow{name: n.name})
		}
		rows[k].letters = append(rows[k].letters, n.letter)
	}
	return rows
}

// says is a seat's name and what it is for.
func says(q part, name string) string {
	switch q.Kind {
	case "trial":
		side, axis, _ := strings.Cut(name, " ")
		size := map[string]string{"frame outside": "big", "square outside": "small", "frame window": "window"}[q.Part+" "+side]
		if size == "" || axis == "" {
			return name
		}
		return size + "-" + strings.ToLower(axis[:1]) + ": measure across"
	case "coupon":
		if strings.HasPrefix(name, "cut ") {
			return "cut: no gap"
		}
		return name + ": read the step here"
	}
	if s, ok := seatSays[name]; ok {
		return name + ": " + s
	}
	return name
}

// seatSays tells what each seat is for.
var seatSays = map[string]string{
	"table edge":    "stands on the table",
	"lower edge":    "stands on the table",
	"height":        "the cutter just brushes it",
	"fence":         "the cutter just brushes it",
	"ear, upper":    "against the fence",
	"ear, lower":    "against the fence",
	"crossbar back": "against both fence halves",
	"foot":          "against the fence",
	"nose":          "just touches, sets the fence",
	"flat X+":       "measured after roughing, across X",
	"flat X-":       "measured after roughing, across X",
	"flat Y+":       "measured after roughing, across Y",
	"flat Y-":       "measured after roughing, across Y",
	"riding edge":   "guides the board",
}

// letters counts A … Z, A1 … Z1, and so on, without I and O.
func letters(n int) string {
	const alphabet = "ABCDEFGHJKLMNPQRSTUVWXYZ"
	s := alphabet[n%len(alphabet) : n%len(alphabet)+1]
	if r := n / len(alphabet); r > 0 {
		s += strconv.Itoa(r)
	}
	return s
}

func pad(b orb.Bound, left, right, below, above float64) orb.Bound {
	return orb.Bound{
		Min: orb.Point{b.Min[0] - left, b.Min[1] - below},
		Max: orb.Point{b.Max[0] + right, b.Max[1] + above},
	}
}
