package points

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"blockwright/geom"
)

const (
	maxBytes  = 8 << 20
	maxPoints = 100_000
	maxPlace  = 1e6 // mm
)

// A Fault is what is wrong with a line.
type Fault struct {
	File         string
	Line, Column int // from 1; 0 for the whole file
	Text         string
}

func (f *Fault) Error() string {
	if f.Line == 0 {
		return f.File + ": " + f.Text
	}
	return fmt.Sprintf("%s:%d:%d: %s", f.File, f.Line, f.Column, f.Text)
}

// Read reads one point a line: x and y, and if there is a third number the bulge of
// the edge that follows, separated by commas, semicolons, tabs or blanks. unit is the
// length of 1 in mm. The first line may be a heading; empty lines and what follows a
// # are left out. Numbers have a decimal point.
//
// An empty line between points parts paths. The error is a [*Fault].
func Read(name string, text []byte, unit float64) ([]geom.Path, error) {
	if len(text) > maxBytes {
		return nil, &Fault{name, 0, 0, fmt.Sprintf("%d bytes; want at most %d", len(text), maxBytes)}
	}
	var out []geom.Path
	var p geom.Path
	end := func() {
		if n := len(p.V); n > 1 {
			p.V[n-1].Bulge = 0
			out = append(out, p)
		}
		p = geom.Path{}
	}
	count := 0
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	for i, line := range strings.Split(string(text), "\n") {
		bare, _, remark := strings.Cut(strings.TrimSuffix(line, "\r"), "#")
		if strings.TrimSpace(bare) == "" {
			if !remark {
				end()
			}
			continue
		}
		v, err := vertex(bare, unit)
		if err != nil {
			if count == 0 && heading(bare) {
				count = -1
				continue
			}
			err.File, err.Line = name, i+1
			return nil, err
		}
		if count = max(count, 0) + 1; count > maxPoints {
			return nil, &Fault{name, i + 1, 1, fmt.Sprintf("more than %d points", maxPoints)}
		}
		p.V = append(p.V, v)
	}
	end()
	if len(out) == 0 {
		return nil, &Fault{name, 0, 0, "no two points; want a line x,y for each point"}
	}
	return out, nil
}

// heading tells whether no field of the line begins like a number.
func heading(line string) bool {
	for _, f := range fields(line) {
		if strings.ContainsAny(f.text[:1], "0123456789+-.") {
			return false
		}
	}
	return utf8.ValidString(line)
}

type field struct {
	text   string
	column int
}

func fields(line string) []field {
	var out []field
	start := -1
	for i, r := range line + " " {
		sep := strings.ContainsRune(",; \t", r)
		if !sep && start < 0 {
			start = i
		}
		if sep && start >= 0 {
			out = append(out, field{line[start:i], start + 1})
			start = -1
		}
	}
	return out
}

func vertex(line string, unit float64) (geom.Vertex, *Fault) {
	fs := fields(line)
	if len(fs) < 2 || len(fs) > 3 {
		return geom.Vertex{}, &Fault{Column: 1, Text: fmt.Sprintf("%d numbers; want x,y or x,y,bulge", len(fs))}
	}
	var n [3]float64
	for i, f := range fs {
		v, err := strconv.ParseFloat(f.text, 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || strings.ContainsAny(f.text, "xXpP_") {
			return geom.Vertex{}, &Fault{Column: f.column, Text: fmt.Sprintf("%.40q is no number", f.text)}
		}
		if i < 2 {
			v *= unit
		}
		if i < 2 && math.Abs(v) > maxPlace || i == 2 && math.Abs(v) > 1 {
			return geom.Vertex{}, &Fault{Column: f.column, Text: fmt.Sprintf("%.40s; want %s", f.text, [3]string{"a place on a drawing", "a place on a drawing", "a bulge from -1 to 1"}[i])}
		}
		n[i] = v
	}
	return geom.B(n[0], n[1], n[2]), nil
}
