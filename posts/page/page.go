package page

import (
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"html/template"
	"io"
	"slices"
	"strings"
	"sync"
)

// A Page shows the fixtures of a shelf.
type Page struct {
	Title   string
	Lead    string // a sentence below the title
	Version string // of the program
	Cards   []Card // in the order in which they are shown
}

// A Card is one fixture.
type Card struct {
	ID      string
	Title   string
	Kind    string
	Cutter  string // name; filtered by
	Stock   string // thickness as its user wrote it; filtered by
	State   string // whole, stale, broken, retired
	Why     string // why it is not whole
	Facts   []Fact // more lines: joint, setting, mill
	Last    string // what was measured last; empty where nothing was
	Links   []Link
	Drawing []byte // one as package svg writes it; nil without one
}

// A Fact is a line of a card.
type Fact struct{ Name, Text string }

// A Link leads to a file beside the page.
type Link struct {
	Text string
	Href string // relative to the page
}

//go:embed page.html
var text string

//go:embed page.css
var style string

//go:embed page.js
var script string

// signs stand beside the states' names.
var signs = map[string]string{"whole": "●", "stale": "◐", "broken": "✕", "retired": "○"}

var tmpl = sync.OnceValue(func() *template.Template {
	sum := sha256.Sum256([]byte(script))
	return template.Must(template.New("page").Funcs(template.FuncMap{
		"css": func() template.CSS { return template.CSS(style) },
		"js":  func() template.JS { return template.JS(script) },
		"policy": func() string {
			return "default-src 'none'; style-src 'unsafe-inline'; script-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
		},
		"svg":    func(b []byte) template.HTML { return template.HTML(b) }, // escaped by package svg
		"sign":   func(state string) string { return signs[state] },
		"words":  words,
		"choose": choices,
	}).Parse(text))
})

// Write writes the page.
func Write(w io.Writer, p Page) error { return tmpl().Execute(w, p) }

// words are what a search looks through.
func words(c Card) string {
	parts := []string{c.ID, c.Title, c.Kind, c.Cutter, c.Stock, c.State, c.Why, c.Last}
	for _, f := range c.Facts {
		parts = append(parts, f.Text)
	}
	return strings.ToLower(strings.Join(parts, " "))
}

// A choice is one filter: a select with its values.
type choice struct {
	Name, Label string
	Values      []string
}

// choices are the filters that the cards allow, each with what occurs, in order.
func choices(cards []Card) []choice {
	all := []struct {
		choice
		of func(Card) string
	}{
		{choice{Name: "kind", Label: "Kind"}, func(c Card) string { return c.Kind }},
		{choice{Name: "cutter", Label: "Cutter"}, func(c Card) string { return c.Cutter }},
		{choice{Name: "stock", Label: "Thickness"}, func(c Card) string { return c.Stock }},
		{choice{Name: "state", Label: "State"}, func(c Card) string { return c.State }},
	}
	out := make([]choice, len(all))
	for i, a := range all {
		for _, c := range cards {
			if v := a.of(c); v != "" && !slices.Contains(a.Values, v) {
				a.Values = append(a.Values, v)
			}
		}
		if a.Name != "stock" { // those stand in the cards' order, thin before thick
			slices.Sort(a.Values)
		}
		out[i] = a.choice
	}
	return out
}
