package dxf

import (
	"bytes"
	"strings"
	"unicode/utf8"
)

// Read reads an ASCII file of R12, R2000 or a later year that writes the same
// entities: LINE, ARC, CIRCLE, LWPOLYLINE, POLYLINE, POINT and TEXT of model
// space. name is for messages only. [ReadCurves] reads splines and ellipses too.
//
// Lengths become mm by $INSUNITS; a file that states no units is taken as mm.
// Line width is left out, an extrusion straight down is mirrored
// as the format says. Everything else that is drawn is named in
// [Drawing.Skipped].
//
// The error is [Faults], each with its line. Refused are binary files, files
// over 32 MB, lines over 4096 bytes, more than 500,000 entities or 1,000,000
// vertices, coordinates beyond 1e6 mm, and a file that ends before its EOF.
func Read(name string, text []byte) (*Drawing, error) { return read(name, text, 0) }

func read(name string, text []byte, curves float64) (*Drawing, error) {
	r := reader{
		scanner: scanner{file: name}, scale: 1, curves: curves,
		blocks: map[string][]string{}, layers: map[string]*Layer{},
	}
	switch {
	case len(text) > maxBytes:
		r.fault(0, "%d bytes; want at most %d", len(text), maxBytes)
	case bytes.HasPrefix(text, []byte("AutoCAD Binary DXF")):
		r.fault(0, "a binary DXF file; want an ASCII one (save it as ASCII)")
	case bytes.HasPrefix(text, []byte("AC10")):
		r.fault(0, "a DWG file; want an ASCII DXF file")
	case bytes.IndexByte(text, 0) >= 0:
		r.fault(0, "holds a zero byte; want an ASCII DXF file")
	default:
		r.rest = strings.TrimPrefix(string(text), "\xef\xbb\xbf")
		r.sections()
	}
	if len(r.faults) > 0 {
		return nil, r.faults
	}
	return &r.d, nil
}

type reader struct {
	scanner
	d        Drawing
	scale    float64             // mm per unit of the file
	curves   float64             // mm that arcs may miss a SPLINE or ELLIPSE by; 0: neither is read
	blocks   map[string][]string // block → the layers its entities lie on
	layers   map[string]*Layer   // by name in capitals
	entities int
	vertices int
}

// sections reads the sections up to EOF.
func (r *reader) sections() {
	n := 0
	for {
		g, ok := r.next()
		switch {
		case !ok && r.line == 0:
			r.fault(0, "is empty; want an ASCII DXF file")
			return
		case !ok && len(r.faults) == 0:
			r.fault(r.line, "ends without EOF; want the whole file")
			return
		case !ok:
			return
		case g.code == 0 && is(g, "EOF"):
			if n == 0 {
				r.fault(g.line, "EOF before any SECTION; want a drawing")
			}
			return
		case g.code == 0 && is(g, "SECTION"):
			n++
			r.section(g)
		default:
			r.fault(g.line, "group %d %s; want 0 SECTION or 0 EOF", g.code, quote(g.value))
			return
		}
	}
}

func (r *reader) section(at group) {
	g, ok := r.next()
	if !ok || g.code != 2 {
		r.fault(at.line, "a section without a name; want group 2 after it")
		r.done = true
		return
	}
	switch strings.ToUpper(strings.TrimSpace(g.value)) {
	case "HEADER":
		r.header()
	case "TABLES":
		r.tables()
	case "BLOCKS":
		r.blockSection()
	case "ENTITIES":
		r.entitySection()
	default: // CLASSES, OBJECTS, THUMBNAILIMAGE, ACDSDATA: nothing drawn
		r.skipSection()
	}
}

// each gives do every code 0 group up to ENDSEC.
func (r *reader) each(do func(g group)) {
	for !r.tooMuch() {
		g, ok := r.next()
		switch {
		case !ok:
			return
		case g.code == 0 && is(g, "ENDSEC"):
			return
		case g.code == 0 && (is(g, "SECTION") || is(g, "EOF")):
			r.fault(g.line, "%s before ENDSEC", strings.TrimSpace(g.value))
			r.done = true
			return
		case g.code == 0:
			do(g)
		}
	}
}

func (r *reader) skipSection() { r.each(func(group) {}) }

// tooMuch tells whether reading should end: too many faults or too much drawn.
func (r *reader) tooMuch() bool {
	if r.entities > maxEntities || r.vertices > maxVertices {
		r.fault(r.line, "more than %d entities or %d vertices", maxEntities, maxVertices)
		r.done = true
	}
	return r.done || len(r.faults) >= maxFaults
}

func (r *reader) header() {
	variable := ""
	for {
		g, ok := r.next()
		if !ok {
			return
		}
		switch {
		case g.code == 0:
			if !is(g, "ENDSEC") {
				r.fault(g.line, "%s in the header; want ENDSEC", quote(g.value))
				r.done = true
			}
			return
		case g.code == 9:
			variable = strings.TrimSpace(g.value)
		case variable == "$INSUNITS" && g.code == 70:
			r.units(g)
		}
	}
}

// insUnits are the lengths of $INSUNITS in mm (DXF Reference).
var insUnits = map[int]struct {
	name string
	mm   float64
}{
	0: {"", 1}, 1: {"in", 25.4}, 2: {"ft", 304.8}, 4: {"mm", 1}, 5: {"cm", 10}, 6: {"m", 1000},
	8: {"µin", 25.4e-6}, 9: {"mil", 0.0254}, 10: {"yd", 914.4}, 13: {"µm", 1e-3}, 14: {"dm", 100},
}

// UnitMM is how many mm the file's unit is; 1 where it states none.
func (d *Drawing) UnitMM() float64 {
	for _, u := range insUnits {
		if u.name == d.Units {
			return u.mm
		}
	}
	return 1
}

func (r *reader) units(g group) {
	k := r.int(g)
	u, ok := insUnits[k]
	if !ok {
		r.fault(g.line+1, "$INSUNITS %d; want 1 (inch), 4 (mm) or another length for small parts", k)
		return
	}
	r.d.Units, r.scale = u.name, u.mm
}

// tables keeps the layers with their look.
func (r *reader) tables() {
	r.each(func(g group) {
		fs := r.fields()
		if !is(g, "LAYER") {
			return
		}
		l := &Layer{}
		for _, f := range fs {
			switch f.code {
			case 2:
				l.Name = r.text(f)
			case 62:
				if c := r.int(f); c != 0 {
					l.Colour = min(max(c, -c), 255) // negative: switched off
				}
			case 6:
				for _, name := range lineTypes {
					if strings.EqualFold(strings.TrimSpace(f.value), name) {
						l.Line = name
					}
				}
			case 370:
				l.Weight = max(0, r.int(f))
			}
		}
		r.entities++
		if l.Name != "" {
			on := r.on(l.Name, g.line)
			on.Colour, on.Line, on.Weight = l.Colour, l.Line, l.Weight
		}
	})
}

// on is the layer of that name, made if there is none yet.
func (r *reader) on(name string, line int) *Layer {
	key := strings.ToUpper(name)
	l := r.layers[key]
	if l == nil {
		if len(r.layers) == maxLayers {
			r.fault(line, "more than %d layers", maxLayers)
			r.done = true
		}
		l = &Layer{Name: name}
		r.layers[key] = l
		r.d.Layers = append(r.d.Layers, l)
	}
	return l
}

// blockSection keeps of each block only which layers it draws on.
func (r *reader) blockSection() {
	name := ""
	r.each(func(g group) {
		fs := r.fields()
		kind := strings.ToUpper(strings.TrimSpace(g.value))
		on := "0"
		for _, f := range fs {
			switch {
			case f.code == 2 && kind == "BLOCK":
				name = strings.ToUpper(r.text(f))
			case f.code == 8:
				on = r.text(f)
			}
		}
		r.entities++
		switch kind {
		case "BLOCK", "ENDBLK":
		case "INSERT":
			r.blocks[name] = append(r.blocks[name], "*")
		default:
			if drawn(kind) {
				r.blocks[name] = append(r.blocks[name], on)
			}
		}
	})
}

// text is a group's value as text. Files before R2007 are not UTF-8: other bytes
// are taken as Latin-1, so that layer names at least stay apart.
func (r *reader) text(g group) string { return strings.TrimSpace(r.lettered(g.value)) }

func (r *reader) lettered(s string) string {
	if !utf8.ValidString(s) {
		b := []rune(nil)
		for i := range len(s) {
			b = append(b, rune(s[i]))
		}
		s = string(b)
	}
	return decode(s)
}

func is(g group, word string) bool { return strings.EqualFold(strings.TrimSpace(g.value), word) }
