package dxf

import (
	"fmt"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// A Drawing is what a file holds, lengths in mm.
type Drawing struct {
	Layers  []*Layer
	Units   string // as the file states them: "mm", "in", …; "" where it does not
	Skipped []Skip // entities of model space that were not read
}

// A Layer has a name, a look, and what lies on it.
type Layer struct {
	Name   string
	Colour int    // the format's colour number, 1–255: 1 red, 3 green, 5 blue, 7 black on white; 0 counts as 7
	Line   string // Continuous, Dashed or Centre; "" counts as Continuous
	Weight int    // width of the line in 1/100 mm, R2000 only; 0 leaves it to the reader

	Paths   []Path
	Circles []Circle
	Texts   []Text
}

// The line types of a layer.
const (
	Continuous = "Continuous"
	Dashed     = "DASHED"
	Centre     = "CENTER"
)

// A Path is a polyline, a line, an arc, or (with one vertex) a point.
type Path struct {
	geom.Path
	At int     // line of the file at which it begins, 0 if it was not read
	Z  float64 // elevation, mm: of what lies on the sheet's top 0, of a pocket's floor less
}

// A Circle is a whole circle.
type Circle struct {
	Centre orb.Point
	Radius float64
	At     int     // line of the file, 0 if it was not read
	Z      float64 // elevation, mm
}

// A Text is one line of lettering, its lower left corner at At.
type Text struct {
	Text   string
	Place  orb.Point
	Height float64 // of a capital, mm
	Angle  float64 // radians, counter-clockwise
	At     int     // line of the file, 0 if it was not read
}

// A Skip is an entity that the reader left out.
type Skip struct {
	Kind, Layer string
	At          int      // line of the file
	Shape       bool     // it draws something that a region could need
	Inside      []string // an inserted block: the layers of what it holds, "*" for any
}

// New is a drawing with the eight layers of a fixture, all of them empty.
//
// OUTLINE is the nominal shape, WALL what the mill leaves, DRILL the bores, POCKET
// what is cleared to a floor part-way through the sheet, at the floor's elevation,
// ENGRAVE letters and lines, SEAT the stretches that must be right, CUTTER the
// cutter's profile in place, SHEET the stock.
func New() *Drawing {
	return &Drawing{Units: "mm", Layers: []*Layer{
		{Name: "OUTLINE", Colour: 7, Weight: 25},
		{Name: "WALL", Colour: 5, Weight: 18},
		{Name: "DRILL", Colour: 1, Weight: 18},
		{Name: "POCKET", Colour: 4, Weight: 18},
		{Name: "ENGRAVE", Colour: 3, Weight: 18},
		{Name: "SEAT", Colour: 6, Weight: 50},
		{Name: "CUTTER", Colour: 8, Weight: 13, Line: Dashed},
		{Name: "SHEET", Colour: 9, Weight: 13, Line: Centre},
	}}
}

// Layer is the layer of that name, nil if there is none. Case does not count.
func (d *Drawing) Layer(name string) *Layer {
	for _, l := range d.Layers {
		if strings.EqualFold(l.Name, name) {
			return l
		}
	}
	return nil
}

// Draw puts paths on the layer of that name and adds the layer if there is none.
func (d *Drawing) Draw(layer string, paths ...geom.Path) {
	l := d.layer(layer)
	for _, p := range paths {
		l.Paths = append(l.Paths, Path{Path: p})
	}
}

// DrawAt is [Drawing.Draw] for paths at an elevation: polylines carry it.
func (d *Drawing) DrawAt(layer string, z float64, paths ...geom.Path) {
	l := d.layer(layer)
	for _, p := range paths {
		l.Paths = append(l.Paths, Path{Path: p, Z: z})
	}
}

// DrawCircles is [Drawing.Draw] for paths that are whole circles: they are
// written as such. A path that is none within 1e-6 mm is an error.
func (d *Drawing) DrawCircles(layer string, paths ...geom.Path) error {
	l := d.layer(layer)
	for i, p := range paths {
		c, r, ok := round(p)
		if !ok {
			return fmt.Errorf("dxf: layer %s: path %d is no circle", layer, i)
		}
		l.Circles = append(l.Circles, Circle{Centre: c, Radius: r})
	}
	return nil
}

func (d *Drawing) layer(name string) *Layer {
	l := d.Layer(name)
	if l == nil {
		l = &Layer{Name: name}
		d.Layers = append(d.Layers, l)
	}
	return l
}

// round gives centre and radius of a closed path of arcs about one centre, all
// in one sense and once round.
func round(p geom.Path) (c orb.Point, r float64, ok bool) {
	if !p.Closed || len(p.V) < 2 {
		return c, 0, false
	}
	turn := 0.0
	for i := range p.Edges() {
		e := p.Edge(i)
		if e.Straight() {
			return c, 0, false
		}
		ci, ri := e.Arc()
		if i == 0 {
			c, r = ci, ri
		}
		if !near(ci, c, geom.Tol) || !near(orb.Point{ri}, orb.Point{r}, geom.Tol) {
			return c, 0, false
		}
		turn += e.Sweep()
	}
	return c, r, fullTurn(turn)
}

// All is what the layer's geometry is made of: its paths, and its circles as
// counter-clockwise closed paths.
func (l *Layer) All() []geom.Path {
	out := make([]geom.Path, 0, len(l.Paths)+len(l.Circles))
	for _, p := range l.Paths {
		out = append(out, p.Path)
	}
	for _, c := range l.Circles {
		out = append(out, geom.Circle(c.Centre, c.Radius))
	}
	return out
}

// Bound is the smallest box around all paths and circles.
func (d *Drawing) Bound() orb.Bound {
	var all []geom.Path
	for _, l := range d.Layers {
		all = append(all, l.All()...)
	}
	return geom.Bound(all)
}
