package svg

import (
	"fmt"
	"slices"
	"strings"
)

// The palette: ink on white, muted earth colours for areas. Nothing is told by
// colour alone: every kind of line differs in width or dashes too, every kind of
// area in hatching.
const (
	Paper = "#ffffff"
	Ink   = "#22303a" // outlines and lettering
	Soft  = "#6b7a83" // dimension and help lines
	Faint = "#b9c2c6" // frames
	Birch = "#f3ecdd" // sheet and plates
	Oak   = "#e0cfae" // the board
	Steel = "#dde3e6" // the cutter
	Brick = "#9c4226" // what must be right
)

// A Style is the look of a path. The zero value draws nothing.
type Style struct {
	Stroke string    // colour of the line, "" for none
	Width  float64   // of the line, mm
	Dash   []float64 // lengths of dash and gap in turn, mm
	Fill   string    // colour of the area, "" for none
	Hatch  Hatch     // lines over the area
}

// A Hatch fills an area with parallel lines. The zero value fills nothing.
type Hatch struct {
	Stroke string
	Width  float64 // mm
	Space  float64 // between the lines, mm
	Angle  float64 // degrees, counter-clockwise from the X axis
	Dash   []float64
}

func (h Hatch) none() bool { return h.Stroke == "" || h.Space <= 0 }

func (h Hatch) same(o Hatch) bool {
	return h.Stroke == o.Stroke && h.Width == o.Width && h.Space == o.Space && h.Angle == o.Angle && slices.Equal(h.Dash, o.Dash)
}

// pattern is the definition of the hatch. Its tile is long enough to hold the
// dashes once.
func (h Hatch) pattern(id string) string {
	long := h.Space
	for i, d := range h.Dash {
		if i == 0 {
			long = 0
		}
		long += d
	}
	dash := ""
	if len(h.Dash) > 0 {
		dash = fmt.Sprintf(` stroke-dasharray="%s"`, numbers(h.Dash))
	}
	return fmt.Sprintf(`<pattern id="%s" patternUnits="userSpaceOnUse" width="%s" height="%s" patternTransform="rotate(%s)">`+
		`<path d="M0 %sH%s" stroke="%s" stroke-width="%s" stroke-linecap="butt"%s/></pattern>`,
		id, number(long), number(h.Space), number(-h.Angle), number(h.Space/2), number(long), escape(h.Stroke), number(h.Width), dash)
}

func (c *Canvas) hatchID(i int) string { return fmt.Sprintf("%s-hatch%d", c.id, i+1) }

// hatch gives the identifier of the hatch's definition.
func (c *Canvas) hatch(h Hatch) string {
	for i, o := range c.hatches {
		if o.same(h) {
			return c.hatchID(i)
		}
	}
	c.hatches = append(c.hatches, h)
	return c.hatchID(len(c.hatches) - 1)
}

func (s Style) attributes() string {
	var b strings.Builder
	if s.Fill != "" {
		fmt.Fprintf(&b, ` fill="%s" fill-rule="evenodd"`, escape(s.Fill))
	}
	if s.Stroke != "" && s.Width > 0 {
		fmt.Fprintf(&b, ` stroke="%s" stroke-width="%s"`, escape(s.Stroke), number(s.Width))
		if len(s.Dash) > 0 {
			fmt.Fprintf(&b, ` stroke-dasharray="%s"`, numbers(s.Dash))
		}
	}
	return b.String()
}

func numbers(v []float64) string {
	out := make([]string, len(v))
	for i := range v {
		out[i] = number(v[i])
	}
	return strings.Join(out, " ")
}
