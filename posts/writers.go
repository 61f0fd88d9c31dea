package posts

import (
	"fmt"
	"io"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/gcode"
	"blockwright/geom"
	"blockwright/jig/shop"
	"blockwright/posts/dxf"
)

// A Writer turns a fixture into one file.
type Writer struct {
	Post    string         // name under which it is asked for; several writers may share it
	Ext     string         // the file is ID.Ext
	Long    string         // what it is
	Dialect *gcode.Dialect // of a program; nil for a drawing
	// Program picks the program to print; nil where the fixture has none or the
	// writer makes a drawing.
	Program func(*Fixture) *Program
	// Draw writes a drawing.
	Draw func(io.Writer, *Fixture) error
}

// Writers are all writers in a fixed order.
func Writers() []Writer {
	ngc, grbl := gcode.RS274NGC(), gcode.Grbl()
	milling := func(f *Fixture) *Program { return &f.Milling }
	engraving := func(f *Fixture) *Program { return f.Engraving }
	frame := func(f *Fixture) *Program { return &f.Frame }
	finishing := func(f *Fixture) *Program { return f.Finishing }
	return []Writer{
		{Post: "rs274ngc", Ext: "ngc", Long: "milling program, NIST RS274/NGC version 3", Dialect: ngc, Program: milling},
		{Post: "rs274ngc", Ext: "finish.ngc", Long: "finishing program, after measuring", Dialect: ngc, Program: finishing},
		{Post: "rs274ngc", Ext: "engrave.ngc", Long: "engraving program", Dialect: ngc, Program: engraving},
		{Post: "rs274ngc", Ext: "frame.ngc", Long: "traces the extents above the sheet, spindle off", Dialect: ngc, Program: frame},
		{Post: "grbl", Ext: "nc", Long: "milling program, grbl 1.1 subset", Dialect: grbl, Program: milling},
		{Post: "grbl", Ext: "finish.nc", Long: "finishing program, after measuring", Dialect: grbl, Program: finishing},
		{Post: "grbl", Ext: "engrave.nc", Long: "engraving program", Dialect: grbl, Program: engraving},
		{Post: "grbl", Ext: "frame.nc", Long: "traces the extents above the sheet, spindle off", Dialect: grbl, Program: frame},
		{Post: "outline", Ext: "outline.ngc", Long: "nominal outlines as a pen path, spindle off", Dialect: ngc, Program: pen},
		{Post: "dxf", Ext: "dxf", Long: "drawing exchange file, R2000", Draw: drawDXF(dxf.R2000)},
		{Post: "dxf-r12", Ext: "r12.dxf", Long: "drawing exchange file, R12", Draw: drawDXF(dxf.R12)},
		{Post: "svg", Ext: "svg", Long: "drawing at true size", Draw: drawSVG},
		{Post: sheetPost, Ext: "html", Long: "setup sheet to read and print", Draw: writeSheet},
	}
}

// PostNames are the names under which writers are asked for.
func PostNames() []string {
	var out []string
	for _, w := range Writers() {
		if len(out) == 0 || out[len(out)-1] != w.Post {
			out = append(out, w.Post)
		}
	}
	return out
}

// writersFor are the writers of the named posts, all without names.
func writersFor(posts []string) ([]Writer, error) {
	all := Writers()
	if len(posts) == 0 {
		return all, nil
	}
	var out []Writer
	for _, name := range posts {
		n := len(out)
		for _, w := range all {
			if w.Post == name {
				out = append(out, w)
			}
		}
		if len(out) == n {
			return nil, fmt.Errorf("unknown post %q; want one of %s", name, strings.Join(PostNames(), ", "))
		}
	}
	return out, nil
}

// drawDXF writes the layers of a fixture.
func drawDXF(v dxf.Version) func(io.Writer, *Fixture) error {
	return func(w io.Writer, f *Fixture) error {
		d, err := drawing(f)
		if err != nil {
			return err
		}
		return dxf.Write(w, d, v)
	}
}

func drawing(f *Fixture) (*dxf.Drawing, error) {
	d := dxf.New()
	for _, c := range f.Plates {
		d.Draw("OUTLINE", c.Outline...)
		d.Draw("WALL", c.Wall...)
		if err := d.DrawCircles("DRILL", c.Drill...); err != nil {
			return nil, err
		}
		for _, k := range c.Floors {
			d.DrawAt("POCKET", -k.Depth, k.Floor...)
		}
		d.Draw("ENGRAVE", c.Engrave...)
		d.Draw("SEAT", c.Kept...)
		d.Draw("CUTTER", c.Ghost...)
	}
	if len(f.rough) > 0 {
		d.Draw(roughLayer, f.rough...)
	}
	s := sheetBound(f.Sheet)
	d.Draw("SHEET", geom.Rect(s.Min[0], s.Min[1], s.Max[0], s.Max[1]))
	return d, nil
}

func sheetBound(s shop.Sheet) orb.Bound {
	return orb.Bound{Max: orb.Point{s.Width, s.Height}}
}

// drawSVG writes the drawing for people.
func drawSVG(w io.Writer, f *Fixture) error {
	_, err := w.Write(draw(pictureOf(f)).Bytes())
	return err
}

// pictureOf is what the drawings of a fixture are made from.
func pictureOf(f *Fixture) picture {
	s := f.Request.Shop
	p := picture{
		ID: f.ID, Title: titleWith(f.Title, f.Request.Stock, inUnit(f.Request.Stock.MM, f.Request.Stock.Unit)), Units: s.Units, Stock: f.Pass.Stock, Setting: f.Made, Pass: f.Request.Pass,
		Table: s.Table, Sheet: f.Sheet, Mill: f.Diameter,
	}
	if c := f.Request.corrected(); c != "" {
		p.Rows = append(p.Rows, [2]string{"Corrected", c + ", by a test cut"})
	}
	if f.Contact != nil {
		p.Contact = *f.Contact
	}
	for i, c := range f.Fitted {
		p.Parts = append(p.Parts, part{Cut: c, At: f.At[i]})
	}
	return p
}

// sheetPost is the name under which the setup sheet is asked for.
const sheetPost = "sheet"
