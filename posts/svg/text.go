package svg

import (
	"fmt"
	"math"
	"strings"
	"unicode"

	"github.com/paulmach/orb"
)

// Anchor tells which point of a line of text stands at its place.
type Anchor string

// The anchors.
const (
	Start  Anchor = "start"
	Middle Anchor = "middle"
	End    Anchor = "end"
)

// A Label is a line of text on the page.
type Label struct {
	Text   string
	At     orb.Point // on the baseline
	Size   float64   // of the type, mm; a capital is 0.72 of it high
	Anchor Anchor    // "" counts as Start
	Turn   float64   // degrees about At, counter-clockwise
	Colour string    // "" counts as Ink
	Bold   bool
	Backed bool // on a patch of paper, to stand on lines
}

// The parts of the type's size above and below the baseline that letters fill.
const (
	ascent  = 0.76
	descent = 0.22
)

// Text writes a label.
func (c *Canvas) Text(l Label) {
	l.Text = strings.TrimSpace(clean(l.Text))
	if l.Text == "" || !(l.Size > 0) {
		return
	}
	if l.Colour == "" {
		l.Colour = Ink
	}
	if l.Anchor == "" {
		l.Anchor = Start
	}
	if l.Backed {
		q := l.Corners()
		c.Polygon(Style{Fill: Paper}, q[0], q[1], q[2], q[3])
	}
	x, y := c.at(l.At)
	extra := ""
	if l.Anchor != Start {
		extra += fmt.Sprintf(` text-anchor="%s"`, l.Anchor)
	}
	if l.Bold {
		extra += ` font-weight="bold"`
	}
	if l.Turn != 0 {
		extra += fmt.Sprintf(` transform="rotate(%s %s %s)"`, number(-l.Turn), x, y)
	}
	c.texts = append(c.texts, l)
	c.boxes = append(c.boxes, l.Bound())
	c.line(`<text x="%s" y="%s" font-size="%s" fill="%s"%s>%s</text>`, x, y, number(l.Size), escape(l.Colour), extra, escape(l.Text))
}

// Corners of the box that the label fills, as [Width] reckons it, from its lower
// left in reading direction, counter-clockwise.
func (l Label) Corners() [4]orb.Point {
	w := Width(l.Text, l.Size)
	if l.Bold {
		w *= 1.1
	}
	x := 0.0
	switch l.Anchor {
	case Middle:
		x = -w / 2
	case End:
		x = -w
	}
	s, k := math.Sincos(l.Turn * math.Pi / 180)
	at := func(dx, dy float64) orb.Point {
		return orb.Point{l.At[0] + k*dx - s*dy, l.At[1] + s*dx + k*dy}
	}
	lo, hi := -descent*l.Size, ascent*l.Size
	return [4]orb.Point{at(x, lo), at(x+w, lo), at(x+w, hi), at(x, hi)}
}

// Bound is the upright box around the label.
func (l Label) Bound() orb.Bound {
	q := l.Corners()
	return orb.MultiPoint(q[:]).Bound()
}

// TextBoxes are the boxes of all labels written so far.
func (c *Canvas) TextBoxes() []orb.Bound { return c.boxes }

// Labels are all texts written so far.
func (c *Canvas) Labels() []Label { return c.texts }

// Width is about how wide the text gets in mm at the given size. It follows a
// wide sans-serif face, so the common ones need a little less.
func Width(text string, size float64) float64 {
	w := 0.0
	for _, r := range text {
		switch {
		case strings.ContainsRune("iljI.,:;'|!", r):
			w += 0.34
		case strings.ContainsRune(" ()[]-ft/r", r):
			w += 0.41
		case strings.ContainsRune("mwMW%@—…", r), r == '±' || r == '×' || r == '=' || r == '+':
			w += 0.94
		case unicode.IsUpper(r):
			w += 0.74
		case r >= 0x2e80: // ideographs fill a square
			w += 1.02
		default:
			w += 0.64
		}
	}
	return w * size
}
