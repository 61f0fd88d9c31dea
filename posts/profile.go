package posts

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/posts/dxf"
	"blockwright/posts/points"
	"blockwright/posts/svg"
)

// A Drawn is how a drawing of a cutter's profile is read.
type Drawn struct {
	Units     string  // "mm" or "in": of the file's numbers, whatever it says; "" = as it says
	Layer     string  // of a drawing exchange file: only this one
	Gap       float64 // mm between ends that belong together; 0 counts as 0.01
	Tolerance float64 // mm that arcs may miss a curve by; 0 counts as 0.001
	Placing   cutter.Placing
}

// An Imported is the profile of a drawing.
type Imported struct {
	cutter.Placed
	Pieces  int      // loose pieces that were joined
	Lines   int      // of the profile
	Arcs    int      // of the profile
	Remarks []string // what was assumed, and what was left out
}

// ImportProfile reads a cutter's profile from the text of a drawing: .dxf, .svg, or
// points as .csv or .txt. Its error names the place in the file or in the drawing.
func ImportProfile(name string, text []byte, how Drawn) (*Imported, error) {
	if how.Gap == 0 {
		how.Gap = 0.01
	}
	if how.Tolerance == 0 {
		how.Tolerance = 0.001
	}
	unit := map[string]float64{"": 0, "mm": 1, "in": InchMM}[how.Units]
	out := &Imported{}
	var paths []geom.Path
	var err error
	switch ext := strings.ToLower(filepath.Ext(name)); ext {
	case ".dxf":
		paths, err = out.fromDXF(name, text, unit, how)
	case ".svg":
		paths, err = out.fromSVG(name, text, unit, how.Tolerance)
	case ".csv", ".txt":
		if unit == 0 {
			unit = 1
			out.Remarks = append(out.Remarks, "The points are taken as mm; --units in says otherwise")
		}
		paths, err = points.Read(name, text, unit)
	default:
		return nil, fmt.Errorf("%s: an ending of %q; want .dxf, .svg, .csv or .txt", name, ext)
	}
	if err != nil {
		return nil, err
	}
	if len(paths) == 0 {
		return nil, fmt.Errorf("%s: draws no line, arc or path%s", name, also(out.Remarks))
	}
	out.Pieces = len(paths)
	chains, err := cutter.Chain(paths, how.Gap)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(chains) > 1 {
		return nil, fmt.Errorf("%s: %s", name, several(chains, how.Gap))
	}
	if out.Placed, err = cutter.Place(chains[0], how.Placing); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	for i := range out.Profile.Edges() {
		if out.Profile.Edge(i).Straight() {
			out.Lines++
		} else {
			out.Arcs++
		}
	}
	return out, nil
}

func also(remarks []string) string {
	if len(remarks) == 0 {
		return ""
	}
	return "; " + strings.Join(remarks, "; ")
}

// several says that the pieces make no single line, and where the nearest ends of
// the two longest are.
func several(chains []geom.Path, gap float64) string {
	s := fmt.Sprintf("%d separate lines", len(chains))
	least := math.Inf(1)
	where := ""
	for i, p := range chains {
		if p.Closed || i > 500 {
			continue
		}
		for k, q := range chains {
			if k <= i || q.Closed || k > 500 {
				continue
			}
			for _, a := range []geom.Vertex{p.V[0], p.V[len(p.V)-1]} {
				for _, b := range []geom.Vertex{q.V[0], q.V[len(q.V)-1]} {
					if d := math.Hypot(a.X()-b.X(), a.Y()-b.Y()); d < least {
						least = d
						where = fmt.Sprintf("(%.4f, %.4f) and (%.4f, %.4f)", a.X(), a.Y(), b.X(), b.Y())
					}
				}
			}
		}
	}
	if where != "" {
		s += fmt.Sprintf("; the nearest loose ends, %s, are %.4f mm apart, more than %g", where, least, gap)
	}
	return s + ": want one line; raise --gap, name a --layer, or draw the profile alone"
}

func (m *Imported) fromDXF(name string, text []byte, unit float64, how Drawn) ([]geom.Path, error) {
	layer := how.Layer
	d, err := dxf.ReadCurves(name, text, how.Tolerance)
	if err != nil {
		return nil, err
	}
	// Read has taken the numbers by what the file says.
	scale := 1.0
	switch b := d.Bound(); {
	case unit > 0:
		scale = unit / d.UnitMM()
	case d.Units == "":
		m.Remarks = append(m.Remarks, "the file states no units and is taken as mm; --units in says otherwise")
	case d.UnitMM() > 1 && b.Max[0]-b.Min[0] > cutter.SizeMax:
		// Many writers state metres unless they are told otherwise.
		m.Remarks = append(m.Remarks, fmt.Sprintf("the file says %s, in which no cutter is so large; it is taken as mm, --units says otherwise", d.Units))
		scale = 1 / d.UnitMM()
	}
	if scale > 1 { // and with the numbers the tolerance
		if d, err = dxf.ReadCurves(name, text, how.Tolerance/scale); err != nil {
			return nil, err
		}
	}
	if layer != "" && d.Layer(layer) == nil {
		var names []string
		for _, l := range d.Layers {
			names = append(names, l.Name)
		}
		return nil, fmt.Errorf("%s: no layer %q; it has %s", name, layer, strings.Join(names, ", "))
	}
	var out []geom.Path
	for _, l := range d.Layers {
		if layer != "" && l != d.Layer(layer) {
			continue
		}
		for _, p := range l.All() {
			if len(p.V) < 2 {
				continue
			}
			p = p.Clone()
			for i := range p.V {
				p.V[i].Point[0] *= scale
				p.V[i].Point[1] *= scale
			}
			out = append(out, p)
		}
	}
	// What is left out could be a stretch of the profile.
	for _, s := range d.Skipped {
		if s.Shape && (layer == "" || strings.EqualFold(s.Layer, layer)) {
			what := "in the drawing's plane, exploded into lines and arcs"
			switch s.Kind {
			case "SPLINE":
				what = "it by control points in the drawing's plane, or exploded into lines and arcs"
			case "INSERT":
				what = "the block exploded"
			}
			return nil, fmt.Errorf("%s:%d: %s on layer %q is not read; want %s, or --layer and the profile alone on that layer", name, s.At, s.Kind, s.Layer, what)
		}
	}
	return out, nil
}

func (m *Imported) fromSVG(name string, text []byte, unit, tolerance float64) ([]geom.Path, error) {
	p, err := svg.Read(name, text, svg.Reading{Unit: unit, Tolerance: tolerance})
	if err != nil {
		return nil, err
	}
	if p.Assumed {
		m.Remarks = append(m.Remarks, "the file does not say how large it is: a unit is taken as 1/96 in; --units says otherwise")
	}
	for i, s := range p.Skipped {
		line, what, _ := strings.Cut(s, ": ")
		if what != "text" && what != "image" && what != "foreignObject" { // it could be a stretch of the profile
			return nil, fmt.Errorf("%s:%s: %s is not read; want a path in its place, or the profile alone", name, line, what)
		}
		if i < 10 {
			m.Remarks = append(m.Remarks, "line "+s+" is not read")
		}
	}
	var out []geom.Path
	for _, s := range p.Paths {
		out = append(out, s.Path)
	}
	return out, nil
}
