package svg

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"

	"github.com/paulmach/orb"
)

// A Canvas collects a drawing. Its methods add to it in painting order.
type Canvas struct {
	id, title, desc string
	w, h            float64
	body            bytes.Buffer
	depth           int
	hatches         []Hatch
	texts           []Label
	boxes           []orb.Bound
}

// New is an empty page of w by h mm. id begins every identifier of the document
// (several drawings on one page must not share them); what is not a letter,
// digit or hyphen in it becomes a hyphen. title and desc are what a screen
// reader says.
func New(id string, w, h float64, title, desc string) *Canvas {
	id = strings.Map(func(r rune) rune {
		if r < 0x80 && (unicode.IsLetter(r) || unicode.IsDigit(r)) {
			return r
		}
		return '-'
	}, id)
	return &Canvas{id: "d-" + id, w: w, h: h, title: title, desc: desc}
}

// Size is the page's width and height in mm.
func (c *Canvas) Size() (w, h float64) { return c.w, c.h }

// Group puts what draw adds in a group of that name.
func (c *Canvas) Group(name string, draw func()) {
	c.line(`<g id="%s-%s">`, c.id, escape(name))
	c.depth++
	draw()
	c.depth--
	c.line(`</g>`)
}

func (c *Canvas) line(format string, args ...any) {
	c.body.WriteString(strings.Repeat(" ", c.depth+1))
	fmt.Fprintf(&c.body, format, args...)
	c.body.WriteByte('\n')
}

// Bytes is the whole document.
func (c *Canvas) Bytes() []byte {
	var b bytes.Buffer
	w, h := number(c.w), number(c.h)
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" version="1.1" width="%smm" height="%smm" viewBox="0 0 %s %s"`, w, h, w, h)
	fmt.Fprintf(&b, ` role="img" aria-labelledby="%s-title %s-desc" font-family="sans-serif" fill="none" stroke-linecap="round" stroke-linejoin="round">`+"\n", c.id, c.id)
	fmt.Fprintf(&b, " <title id=\"%s-title\">%s</title>\n", c.id, escape(c.title))
	fmt.Fprintf(&b, " <desc id=\"%s-desc\">%s</desc>\n", c.id, escape(c.desc))
	if len(c.hatches) > 0 {
		b.WriteString(" <defs>\n")
		for i, h := range c.hatches {
			b.WriteString("  " + h.pattern(c.hatchID(i)) + "\n")
		}
		b.WriteString(" </defs>\n")
	}
	fmt.Fprintf(&b, " <rect width=\"%s\" height=\"%s\" fill=\"%s\"/>\n", w, h, Paper)
	b.Write(c.body.Bytes())
	b.WriteString("</svg>\n")
	return b.Bytes()
}

// at is a point as the document has it: Y down from the upper left corner.
func (c *Canvas) at(q orb.Point) (x, y string) { return number(q[0]), number(c.h - q[1]) }

// number writes a length with at most four decimals and no noughts at the end.
// What is no number becomes 0, so that a document stays well formed.
func number(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "0"
	}
	s := strconv.FormatFloat(v, 'f', 4, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// escape makes text character data that fits in an attribute too. White space
// and control characters become spaces; format characters (direction marks,
// joiners) are dropped, since they can make other text read wrong.
func escape(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(clean(s))) // a Builder never fails
	return b.String()
}

func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r), unicode.Is(unicode.Cc, r):
			return ' '
		case unicode.Is(unicode.Cf, r), unicode.Is(unicode.Co, r):
			return -1
		}
		return r
	}, s)
}
