package posts

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/posts/svg"
)

// notesWidth is what the strip below the views needs at least.
const notesWidth = 328.0

// notes draws the strip at the foot: seats, legend with check bar, title block.
func (p picture) notes(c *svg.Canvas, rows []seatRow) {
	w, _ := c.Size()
	top := margin/2 + footing(rows)
	c.Line(svg.Style{Stroke: svg.Ink, Width: 0.35}, orb.Point{margin / 2, top}, orb.Point{w - margin/2, top})
	c.Group("seat-list", func() { p.seatList(c, orb.Point{margin, top - 6}, rows) })
	const second = margin + 92
	c.Group("legend", func() { p.legend(c, orb.Point{second, top - 6}) })
	c.Group("check-bar", func() {
		text := "This bar is 100 mm long on a true print."
		if p.Units == "in" {
			text = "This bar is 100 mm (3.937 in) long on a true print."
		}
		c.CheckBar(orb.Point{second, margin}, text)
	})
	c.Group("care", func() {
		for i, l := range []string{
			"Power disconnected whenever a hand is near the cutter. The makers' instructions,",
			"local rules and trained practice come before anything drawn here.",
		} {
			c.Text(svg.Label{Text: l, At: orb.Point{second, margin + 13.6 - 4*float64(i)}, Size: 2.8, Colour: svg.Soft})
		}
	})
	if room := w - margin/2 - blockWide - (second + 128); room >= 36 {
		c.Group("whole-sheet", func() { p.wholeSheet(c, orb.Point{second + 128, top - 6}, math.Min(room-8, 62)) })
	}
	c.Group("title-block", func() { p.titleBlock(c, w-margin/2, top) })
}

// wholeSheet shows where on the sheet the plates are cut, small.
func (p picture) wholeSheet(c *svg.Canvas, at orb.Point, wide float64) {
	const high = footer - 16
	if p.Sheet.Width <= 0 || p.Sheet.Height <= 0 {
		return
	}
	k := math.Min(wide/p.Sheet.Width, high/p.Sheet.Height)
	c.Text(svg.Label{Text: "Whole sheet", At: at, Size: 3.4, Bold: true})
	v := svg.View{At: orb.Point{at[0], at[1] - 3 - k*p.Sheet.Height}, Scale: k}
	c.Paths(sheetStyle, v.Paths(geom.Rect(0, 0, p.Sheet.Width, p.Sheet.Height))...)
	small := plateStyle
	small.Width = 0.2
	for _, q := range p.Parts {
		c.Paths(small, v.Paths(q.Outline.Move(geom.Shift(q.At[0], q.At[1]))...)...)
	}
}

const blockWide = 96.0

const rowHigh = 5.0

// seatHigh is the height of a line of the list of seats, ringWide the width that a
// letter in its ring takes.
const (
	seatHigh = 6.2
	ringWide = 5.8
	seatWide = 86.0 // of the list
)

// footing is the height of the strip below the views: it holds every seat.
func footing(rows []seatRow) float64 {
	n := 0
	for _, r := range rows {
		n += r.lines()
	}
	return math.Max(footer, 8+float64(n)*seatHigh+margin-margin/2)
}

// rings is how many letters stand beside one another in a line.
const rings = 12

// lines is how many lines of the list a row takes: many letters want more than one.
func (r seatRow) lines() int { return (len(r.letters) + rings - 1) / rings }

func (p picture) seatList(c *svg.Canvas, at orb.Point, rows []seatRow) {
	c.Text(svg.Label{Text: "Seats: what must be right", At: at, Size: 3.4, Bold: true})
	y := at[1]
	for _, r := range rows {
		for i, letter := range r.letters {
			if i%rings == 0 {
				y -= seatHigh
			}
			x := at[0] + 2.7 + float64(i%rings)*ringWide
			c.Paths(svg.Style{Stroke: svg.Brick, Width: 0.35, Fill: svg.Paper}, geom.Circle(orb.Point{x, y + 1}, 2.4))
			c.Text(svg.Label{Text: letter, At: orb.Point{x, y - 0.1}, Size: 3.2, Anchor: svg.Middle, Bold: true, Colour: svg.Brick})
		}
		last := float64((len(r.letters)-1)%rings+1) * ringWide
		c.Text(svg.Label{Text: fit(r.name, 3, seatWide-last-2), At: orb.Point{at[0] + last + 1.7, y}, Size: 3})
	}
}

// legend shows each kind of line and area with its name.
func (p picture) legend(c *svg.Canvas, at orb.Point) {
	c.Text(svg.Label{Text: "Lines", At: at, Size: 3.4, Bold: true})
	type item struct {
		style svg.Style
		area  bool
		name  string
	}
	items := []item{
		{plateStyle, true, "plate as the mill leaves it"},
		{seatStyle, false, seatLine(p.kind())},
		{nominalStyle, false, "nominal outline under reliefs"},
		{engraveStyle, false, "engraved"},
	}
	if k := p.kind(); p.pass() != nil && (k == "block" || k == "gauge") {
		items = append(items, item{cutterStyle, true, "cutter or pin in place"}, item{axisStyle, false, "axis of the spindle"})
	}
	if p.kind() == "facing" {
		items = append(items, item{cutterStyle, true, "cutter in place"}, item{pocketStyle, true, "pocket in the back, milled face up"})
	}
	if p.kind() == "coupon" {
		items = append(items, item{boardFill, true, "test piece, cut right"})
	}
	if p.pass() != nil && p.kind() == "block" {
		items = append(items, item{boardFill, true, "board"}, item{behindStyle, false, "behind or before the section"})
	}
	for i, it := range items {
		x, y := at[0]+float64(i%2)*62, at[1]-float64(i/2+1)*6.2
		if it.area {
			c.Paths(it.style, geom.Rect(x, y-0.9, x+11, y+3))
		} else {
			c.Line(it.style, orb.Point{x, y + 1}, orb.Point{x + 11, y + 1})
		}
		c.Text(svg.Label{Text: it.name, At: orb.Point{x + 13, y}, Size: 3})
	}
}

// seatLine says what a seat of the kind of fixture is.
func seatLine(kind string) string {
	switch kind {
	case "trial":
		return "seat: calipers measure here"
	case "coupon":
		return "seat: touches the test piece"
	case "strip":
		return "seat: guides the board"
	case "facing":
		return "seat: stands on the table"
	}
	return "seat: touches cutter, table, fence"
}

// known is a length, or that it is not known.
func (p picture) known(mm float64, is bool) string {
	if !is {
		return "not known"
	}
	return p.size(mm)
}

// titleBlock is the table in the lower right corner.
func (p picture) titleBlock(c *svg.Canvas, right, top float64) {
	const wide, key = blockWide, 27.0
	rows := [][2]string{
		{"Fixture", p.ID},
		{"Sizes in", map[string]string{"mm": "mm", "in": "inches"}[p.unit()]},
	}
	if s := p.pass(); s != nil && p.kind() != "trial" {
		rows = append(rows,
			[2]string{"Setting", fmt.Sprintf("height H %s, fence D %s", p.known(s.Height, s.Cutter.Known[1]), p.known(s.Fence, s.Cutter.Known[0]))},
			[2]string{"Cutter", s.Cutter.Name})
	}
	rows = append(rows,
		[2]string{"Sheet", fmt.Sprintf("%s, %s thick", p.Sheet.Material, p.size(p.Sheet.Thick()))},
		[2]string{"Sheet size", p.size(p.Sheet.Width) + " × " + p.size(p.Sheet.Height)},
		[2]string{"End mill", "Ø " + p.size(p.Mill)},
	)
	rows = append(rows, p.Rows...)
	x := right - wide
	c.Line(svg.Style{Stroke: svg.Ink, Width: 0.35}, orb.Point{x, top}, orb.Point{x, margin / 2})
	for i, row := range rows {
		y := top - float64(i+1)*rowHigh - 1
		if y < margin/2+1 {
			break
		}
		c.Text(svg.Label{Text: row[0], At: orb.Point{x + 3, y + 1.2}, Size: 3, Colour: svg.Soft})
		size := 3.0
		if i == 0 { // the name is what the files are found by: small rather than cut off
			size = math.Max(2, math.Min(3, 3*(wide-key-4)/(1.1*svg.Width(row[1], 3))))
		}
		c.Text(svg.Label{Text: fit(row[1], size, wide-key-4), At: orb.Point{x + key, y + 1.2}, Size: size, Bold: i == 0})
		c.Line(svg.Style{Stroke: svg.Faint, Width: 0.18}, orb.Point{x, y - 0.4}, orb.Point{right, y - 0.4})
	}
}

// fit cuts text that would be wider than w mm at the size.
func fit(text string, size, w float64) string {
	r := []rune(text)
	if len(r) <= 400 && svg.Width(text, size) <= w {
		return text
	}
	r = r[:min(len(r), 400)]
	for len(r) > 0 && svg.Width(string(r)+"…", size) > w {
		r = r[:len(r)-1]
	}
	return string(r) + "…"
}
