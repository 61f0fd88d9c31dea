package svg

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"blockwright/geom"
)

// A Reading is how a file is read.
type Reading struct {
	Unit      float64 // mm that one user unit of the outermost svg element is; 0 = as width, height and viewBox say
	Tolerance float64 // mm that arcs may miss a curve by; 0 counts as 0.001
}

// A Picture is what a file draws, in mm, Y up.
type Picture struct {
	Paths   []Shape
	Unit    float64  // mm that a user unit is along X, without the file's transforms
	Assumed bool     // the file does not say how long that is: 1/96 in was taken
	Skipped []string // elements that draw and were not read, "LINE: name"
}

// A Shape is one subpath.
type Shape struct {
	geom.Path
	At int // line of the file
}

// A ReadFault is what is wrong with a file.
type ReadFault struct {
	File string
	Line int // from 1; 0 for the whole file
	Text string
}

func (f *ReadFault) Error() string {
	if f.Line == 0 {
		return f.File + ": " + f.Text
	}
	return fmt.Sprintf("%s:%d: %s", f.File, f.Line, f.Text)
}

const (
	maxBytes    = 32 << 20
	maxDepth    = 200
	maxShapes   = 100_000
	maxVertices = 200_000
	maxPlace    = 1e6 // mm
	pixel       = 25.4 / 96
)

// Read reads the paths, lines, polylines, polygons, rectangles, circles and ellipses
// of a file, with every transform, the size of the outermost svg element and its
// viewBox (SVG 1.1, 7.7 to 7.10 and 8.3). A pixel is 1/96 in (CSS 2.1, 4.3.2).
//
// Lines stay lines; elliptical arcs that come out round are arcs exactly. Other arcs
// and Bézier curves become arcs and lines that miss the curve by no more than the
// tolerance, looked at densely. Strokes, fills and styles are not read, but what is
// not displayed is left out, as is what only defines: defs, symbol, clipPath, mask,
// marker, pattern. Elements that draw in ways that are not read are in Skipped.
//
// The error is a [*ReadFault]: the first place at which the file is none.
func Read(name string, text []byte, how Reading) (*Picture, error) {
	r := &reading{file: name, tol: how.Tolerance}
	if r.tol == 0 {
		r.tol = 0.001
	}
	if len(text) > maxBytes {
		return nil, &ReadFault{name, 0, fmt.Sprintf("%d bytes; want at most %d", len(text), maxBytes)}
	}
	d := xml.NewDecoder(bytes.NewReader(text))
	if err := r.elements(d, how.Unit); err != nil {
		var f *ReadFault
		if errors.As(err, &f) {
			return nil, f
		}
		line, _ := d.InputPos()
		return nil, &ReadFault{name, line, "no proper XML: " + strings.TrimPrefix(err.Error(), "XML syntax error on ")}
	}
	if !r.begun {
		return nil, &ReadFault{name, 0, "no svg element; want a drawing"}
	}
	return &r.pic, nil
}

type reading struct {
	file     string
	line     int
	tol      float64
	pic      Picture
	begun    bool
	vertices int
}

func (r *reading) fault(format string, a ...any) error {
	return &ReadFault{r.file, r.line, fmt.Sprintf(format, a...)}
}

// idle are elements whose content is not drawn where it stands.
var idle = map[string]bool{
	"defs": true, "symbol": true, "clipPath": true, "mask": true, "marker": true, "pattern": true,
	"linearGradient": true, "radialGradient": true, "filter": true, "metadata": true, "title": true, "desc": true, "style": true, "script": true,
}

// unread are elements that draw, but not what is read here.
var unread = map[string]bool{"use": true, "image": true, "text": true, "foreignObject": true, "switch": true}

func (r *reading) elements(d *xml.Decoder, unit float64) error {
	frames := []matrix{identity}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		switch e := token.(type) {
		case xml.EndElement:
			frames = frames[:len(frames)-1]
		case xml.StartElement:
			r.line, _ = d.InputPos()
			attr := attributes(e)
			name := e.Name.Local
			switch {
			case len(frames) > maxDepth:
				return r.fault("elements nested deeper than %d", maxDepth)
			case !r.begun && name != "svg":
				return r.fault("element %s; want svg as the outermost one", quote(name))
			case r.begun && name == "svg" || unread[name]:
				r.pic.Skipped = append(r.pic.Skipped, fmt.Sprintf("%d: %s", r.line, name))
			}
			if r.begun && (name == "svg" || unread[name] || idle[name] || hidden(attr)) {
				if err := d.Skip(); err != nil {
					return err
				}
				continue
			}
			m := frames[len(frames)-1]
			if t, there := attr["transform"]; there {
				own, err := parseTransform(t)
				if err != nil {
					return r.fault("transform: %v", err)
				}
				m = m.times(own)
			}
			if name == "svg" {
				root, err := r.root(attr, unit)
				if err != nil {
					return err
				}
				r.begun, m = true, root
			}
			if err := r.shape(name, attr, m); err != nil {
				return err
			}
			frames = append(frames, m)
		}
	}
}

func attributes(e xml.StartElement) map[string]string {
	m := make(map[string]string, len(e.Attr))
	for _, a := range e.Attr {
		m[a.Name.Local] = a.Value
	}
	return m
}

// hidden tells whether the element says of itself that it is not displayed.
func hidden(attr map[string]string) bool {
	if strings.TrimSpace(attr["display"]) == "none" {
		return true
	}
	for _, s := range strings.Split(attr["style"], ";") {
		k, v, _ := strings.Cut(s, ":")
		if strings.TrimSpace(k) == "display" && strings.TrimSpace(v) == "none" {
			return true
		}
	}
	return false
}

// root is the frame of the outermost element: user units to mm, Y up.
func (r *reading) root(attr map[string]string, unit float64) (matrix, error) {
	if unit > 0 {
		r.pic.Unit = unit
		return matrix{unit, 0, 0, -unit, 0, 0}, nil
	}
	width, okW, err := mm(attr["width"])
	if err != nil {
		return identity, r.fault("width: %v", err)
	}
	height, okH, err := mm(attr["height"])
	if err != nil {
		return identity, r.fault("height: %v", err)
	}
	sx, sy := pixel, pixel
	box, there := attr["viewBox"]
	if !there {
		r.pic.Assumed = !okW
	} else {
		n, err := numberList(box)
		if err != nil || len(n) != 4 || !(n[2] > 0 && n[3] > 0) {
			return identity, r.fault("viewBox %s; want four numbers, the last two above 0", quote(box))
		}
		switch {
		case okW && okH:
			sx, sy = width/n[2], height/n[3]
		case okW:
			sx = width / n[2]
			sy = sx
		case okH:
			sy = height / n[3]
			sx = sy
		default:
			r.pic.Assumed = true
		}
		fit := strings.Fields(attr["preserveAspectRatio"])
		if len(fit) == 0 || fit[0] != "none" {
			s := math.Min(sx, sy)
			if len(fit) > 1 && fit[1] == "slice" {
				s = math.Max(sx, sy)
			}
			// Where the box lies on the page moves the whole drawing and nothing in it.
			sx, sy = s, s
		}
	}
	if !(sx > 0 && sy > 0 && sx < 1e4 && sy < 1e4) {
		return identity, r.fault("width %s, height %s, viewBox %s make no scale", quote(attr["width"]), quote(attr["height"]), quote(box))
	}
	r.pic.Unit = sx
	return matrix{sx, 0, 0, -sy, 0, 0}, nil
}

// mm is a length of width or height; not ok without one or for a percentage.
func mm(s string) (v float64, ok bool, err error) {
	s = strings.TrimSpace(s)
	if s == "" || s == "auto" || strings.HasSuffix(s, "%") {
		return 0, false, nil
	}
	k := pixel
	for _, u := range []struct {
		name string
		mm   float64
	}{{"px", pixel}, {"pt", 25.4 / 72}, {"pc", 25.4 / 6}, {"mm", 1}, {"cm", 10}, {"in", 25.4}, {"Q", 0.25}} {
		if rest, has := strings.CutSuffix(s, u.name); has {
			s, k = rest, u.mm
			break
		}
	}
	n, err := numberList(s)
	if err != nil || len(n) != 1 || n[0] < 0 {
		return 0, false, fmt.Errorf("%s; want a length in px, pt, pc, mm, cm or in", quote(s))
	}
	return n[0] * k, true, nil
}

func quote(s string) string {
	if len(s) > 40 {
		s = s[:40] + "…"
	}
	return fmt.Sprintf("%q", s)
}
