package sheet

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"math"
	"strconv"
	"strings"
	"sync"
)

// The greatest size in mm of a drawing that A4 and Letter both take, with room for
// its caption.
const (
	MaxWidth  = 184.0
	MaxHeight = 230.0
)

// A Sheet is what is printed about one fixture.
type Sheet struct {
	ID      string
	Kicker  string // what kind of paper it is
	Title   string
	Lead    string // what it is and for which board, in a sentence
	Facts   []Fact
	Places  []Place // where cutter and fence have to stand
	Version string  // of the program
	// Sections follow in this order.
	Sections []Section
}

// A Fact is a line of the sheet's head.
type Fact struct{ Name, Text string }

// A Place is a figure of the setting.
type Place struct {
	Name string // height, fence
	For  string // the pass; empty where there is but one place
	MM   float64
	Text string // the length in the shop's units
	Also string // the same in the other units
	Says string // where it is measured
	None bool   // not known: Says says why
}

// A Section is a part of the sheet under a title. Steps and tables stand beside each
// other where there is room.
type Section struct {
	Name    string // identifier on the page
	Title   string
	Text    []string // paragraphs
	Ask     []string // commands that answer, after the paragraphs
	Keys    []Fact   // letters of the drawings, with what they stand for
	Steps   []Step
	List    []string
	Tables  []Table
	Figures []Figure
	Below   bool // tables stand below the steps, not beside them
	Inset   bool // figures flow in columns with the tables
	Small   bool // the list is set small, in columns
	Care    bool // cautions: set apart
	Page    bool // begins a new page on paper
}

// A Step is one of a numbered row of things to do.
type Step struct {
	Title string // may be empty
	Text  string
	Ask   string // a command to type, after the text; may be empty
}

// A Table has a head and rows; the first cell of a row names it.
type Table struct {
	Caption string
	Head    []string
	Rows    [][]string
	Note    string
	Text    bool // cells are words, set to the left
}

// A Figure is a drawing.
type Figure struct {
	Title, Note string
	// SVG is a drawing that stands for itself, as package svg writes it, its texts
	// escaped already.
	SVG           []byte
	Width, Height float64 // mm
	Row           bool    // begins a row of its own
}

//go:embed sheet.html
var page string

//go:embed sheet.css
var style string

var tmpl = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("sheet").Funcs(template.FuncMap{
		"css":   func() template.CSS { return template.CSS(style) },       //nolint:gosec // ours
		"svg":   func(b []byte) template.HTML { return template.HTML(b) }, //nolint:gosec // escaped by package svg
		"value": func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) },
		"words": strings.Fields,
		"sides": func(s Section) bool { return len(s.Steps) > 0 && len(s.Tables) > 0 && !s.Below },
	}).Parse(page))
})

// Write writes the sheet. It fails on a drawing that no paper takes, or whose size is
// no size.
func Write(w io.Writer, s Sheet) error {
	for _, sec := range s.Sections {
		for _, f := range sec.Figures {
			if !(f.Width > 0 && f.Width <= MaxWidth+0.01) || !(f.Height > 0 && f.Height <= MaxHeight+0.01) {
				return fmt.Errorf("sheet: drawing %q is %.1f × %.1f mm; want at most %g × %g", f.Title, f.Width, f.Height, MaxWidth, MaxHeight)
			}
		}
	}
	for _, p := range s.Places {
		if math.IsNaN(p.MM) || math.IsInf(p.MM, 0) {
			return fmt.Errorf("sheet: %s is no length", p.Name)
		}
	}
	return tmpl().Execute(w, s)
}
