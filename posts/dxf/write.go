package dxf

import (
	"fmt"
	"io"
	"regexp"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// A Version is a year's form of the format.
type Version string

// The versions that can be written.
const (
	R12   Version = "AC1009" // POLYLINE with VERTEX and SEQEND; states no units
	R2000 Version = "AC1015" // LWPOLYLINE; $INSUNITS says millimetres
)

// layerName is what every version and reader takes.
var layerName = regexp.MustCompile(`^[A-Z0-9_$-]{1,31}$`)

// Write writes the drawing, its units always mm. It fails on a version or line
// type that it does not know, on a layer name other than A–Z 0–9 _ $ - (at most
// 31 characters, none twice), and on lengths beyond 1e6 mm.
func Write(w io.Writer, d *Drawing, v Version) error {
	if v != R12 && v != R2000 {
		return fmt.Errorf("dxf: version %q; want %q or %q", string(v), string(R12), string(R2000))
	}
	seen := map[string]bool{"0": true}
	for _, l := range d.Layers {
		if !layerName.MatchString(l.Name) {
			return fmt.Errorf("dxf: layer %q; want 1 to 31 of A–Z 0–9 _ $ -", l.Name)
		}
		if seen[l.Name] && l.Name != "0" {
			return fmt.Errorf("dxf: layer %s twice", l.Name)
		}
		seen[l.Name] = true
		if _, ok := pattern[l.line()]; !ok {
			return fmt.Errorf("dxf: layer %s: line type %q; want %s, %s or %s", l.Name, l.Line, Continuous, Dashed, Centre)
		}
		if l.Colour < 0 || l.Colour > 255 {
			return fmt.Errorf("dxf: layer %s: colour %d; want 0 to 255", l.Name, l.Colour)
		}
	}
	out := newWords(w)
	if v == R12 {
		writeR12(out, d)
	} else {
		writeR2000(out, d)
	}
	out.text(0, "EOF")
	return out.flush()
}

func (l *Layer) line() string {
	if l.Line == "" {
		return Continuous
	}
	return l.Line
}

func (l *Layer) colour() int {
	if l.Colour == 0 {
		return 7
	}
	return l.Colour
}

// pattern is the dashes (positive) and gaps (negative) of each line type in mm.
var pattern = map[string][]float64{
	Continuous: nil,
	Dashed:     {3, -1.5},
	Centre:     {9, -1.5, 1.5, -1.5},
}

// lineTypes is the order in which they are written.
var lineTypes = []string{Continuous, Dashed, Centre}

// layers are those to write: layer 0, which every file must have, comes first.
func (d *Drawing) layers() []*Layer {
	if l := d.Layer("0"); l != nil {
		out := []*Layer{l}
		for _, m := range d.Layers {
			if m != l {
				out = append(out, m)
			}
		}
		return out
	}
	return append([]*Layer{{Name: "0"}}, d.Layers...)
}

// extent is the drawing's box, of some size even if it is empty.
func (d *Drawing) extent() orb.Bound {
	b := d.Bound()
	if b.Min == b.Max {
		b.Max = orb.Point{b.Min[0] + 1, b.Min[1] + 1}
	}
	return b
}

// vertices are the path's, less any that the nine decimals would make one with
// its follower.
func vertices(p geom.Path) []geom.Vertex {
	q, err := geom.NewPath(p.Closed, p.V...)
	if err != nil {
		return p.V // words refuses what is no number
	}
	return q.V
}

func (w *words) section(name string) {
	w.text(0, "SECTION")
	w.text(2, name)
}

func (w *words) variable(name string, code int, value string) {
	w.text(9, "$"+name)
	w.text(code, value)
}

func (w *words) pointVariable(name string, x, y float64, solid bool) {
	w.text(9, "$"+name)
	w.point(10, x, y, solid)
}

// dashes writes a line type's pattern; the count of flags per dash differs.
func (w *words) dashes(name string, v Version) {
	sum := 0.0
	for _, l := range pattern[name] {
		sum += max(l, -l)
	}
	w.int(70, 0)
	w.text(3, strings.ToLower(name)+" line")
	w.int(72, 65)
	w.int(73, len(pattern[name]))
	w.num(40, sum)
	for _, l := range pattern[name] {
		w.num(49, l)
		if v == R2000 {
			w.int(74, 0)
		}
	}
}
