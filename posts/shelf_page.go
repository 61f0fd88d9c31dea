package posts

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"net/url"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/shelf"
	"blockwright/posts/dxf"
	"blockwright/posts/page"
	"blockwright/posts/svg"
)

// A Shelved is a fixture as the page of the shelf shows it.
type Shelved struct {
	ID      string
	Record  *shelf.Record // nil where it cannot be read
	State   string        // whole, stale, broken, retired
	Why     string        // why it is not whole
	Cutter  string        // name of the cutter, or cutters; "" = their handles
	Drawing []byte        // its drawing exchange file, nil without one
	Last    string        // what was measured last, in words
}

// SortShelved orders fixtures as the page shows them: by cutter, thin boards before
// thick ones, by kind; those that cannot be read come last.
func SortShelved(all []Shelved) {
	slices.SortStableFunc(all, func(a, b Shelved) int {
		if a.Record == nil || b.Record == nil {
			return cmp.Or(unread(a)-unread(b), cmp.Compare(a.ID, b.ID))
		}
		p, q := a.Record.Inputs, b.Record.Inputs
		return cmp.Or(cmp.Compare(p.Cutter, q.Cutter), cmp.Compare(p.With, q.With), cmp.Compare(p.Stock, q.Stock), cmp.Compare(p.Kind, q.Kind), cmp.Compare(a.ID, b.ID))
	})
}

func unread(s Shelved) int {
	if s.Record == nil {
		return 1
	}
	return 0
}

// WriteShelfPage writes the page of a shelf with the cards in their order.
func WriteShelfPage(w io.Writer, title string, cards []page.Card, version string) error {
	return page.Write(w, page.Page{
		Title: title, Lead: "Every fixture on the shelf, with its state and what was measured with it last.", Version: version, Cards: cards,
	})
}

// CardOf is a fixture's card, the i-th on the page. What cannot be read of it says so.
// Lengths are lettered in the units, mm or in; dir leads from the page to the folder
// of fixtures and is "" where the page lies in it.
func CardOf(s Shelved, i int, units, dir string) page.Card {
	c := page.Card{ID: s.ID, Title: s.ID, State: s.State, Why: s.Why, Last: s.Last}
	r := s.Record
	if r == nil {
		return c
	}
	stock := Measure{MM: r.Inputs.Stock, Unit: r.Inputs.Unit}
	spaced := strings.TrimSuffix(stock.String(), stock.Unit) + " " + stock.Unit
	c.Title, c.Kind, c.Cutter = titleWith(r.Title, stock, spaced), r.Inputs.Kind, s.Cutter
	if c.Cutter == "" {
		c.Cutter = r.Inputs.Cutter
		if r.Inputs.With != "" {
			c.Cutter += " with " + r.Inputs.With
		}
	}
	c.Stock = spaced
	if r.Inputs.Kind != "trial" {
		c.Facts = settingFacts(r, sheetMaker{units: units})
	}
	c.Facts = append(c.Facts, page.Fact{Name: "Made", Text: r.Made})
	for _, l := range []struct{ ext, text string }{{"html", "Setup sheet"}, {"svg", "Drawing"}} {
		if _, ok := r.File(l.ext); ok {
			c.Links = append(c.Links, page.Link{Text: l.text, Href: dir + url.PathEscape(r.ID) + "/" + url.PathEscape(r.ID+"."+l.ext)})
		}
	}
	if s.Drawing != nil {
		c.Drawing, _ = thumbnail(fmt.Sprintf("t%d", i+1), r.Title, s.Drawing) // one that cannot be read is left out
	}
	return c
}

// settingFacts say what a fixture is made for: the joint, its boards, and the place of
// cutter and fence where the fixture is for one.
func settingFacts(r *shelf.Record, m sheetMaker) []page.Fact {
	own := r.Inputs.Kind == "block" || r.Inputs.Kind == "gauge" || r.Inputs.Kind == "facing"
	apart := r.Setting.Joint == "drawer-lock" || r.Setting.Joint == "matched" // the passes want different places
	name := strings.ReplaceAll(r.Setting.Joint, "-", " ")
	if own && apart {
		name += ", " + r.Setting.Pass + " pass"
	}
	out := []page.Fact{{Name: "Joint", Text: name}}
	if o := r.Inputs.Side; o > 0 && o != r.Inputs.Stock {
		out = append(out, page.Fact{Name: map[bool]string{true: "Sides", false: "Upright board"}[r.Setting.Joint == "drawer-lock"], Text: m.short(o)})
	}
	if w := r.Inputs.Width; w > 0 && r.Inputs.Kind == "strip" {
		out = append(out, page.Fact{Name: "Board's width", Text: m.short(w)})
	}
	if own || !apart {
		out = append(out, page.Fact{Name: "Height", Text: m.known(r.Setting.Height, !r.Setting.HeightUnknown)},
			page.Fact{Name: "Fence", Text: m.known(r.Setting.Fence, !r.Setting.FenceUnknown)})
	}
	return out
}

// known is a length, or that it is not known.
func (m sheetMaker) known(mm float64, is bool) string {
	if !is {
		return "not known"
	}
	return m.length(mm)
}

// Sizes of a small drawing in mm.
const thumbWide, thumbHigh = 84.0, 48.0

// thumbnail is a small drawing of a fixture from its drawing exchange file: walls,
// bores and seats, as large as there is room, lying where the sheet is higher than
// wide.
func thumbnail(id, title string, drawing []byte) ([]byte, error) {
	d, err := dxf.Read(id, drawing)
	if err != nil {
		return nil, err
	}
	walls, err := d.Region("WALL", id)
	if err != nil {
		return nil, err
	}
	turn := geom.Shift(0, 0)
	b := walls.Bound()
	if b.Max[1]-b.Min[1] > b.Max[0]-b.Min[0] {
		turn = geom.Turn(-math.Pi/2, orb.Point{})
		walls = walls.Move(turn)
		b = walls.Bound()
	}
	w, h := b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]
	if !(w > 0 && h > 0) {
		return nil, fmt.Errorf("the walls enclose nothing")
	}
	k := math.Min((thumbWide-2)/w, (thumbHigh-2)/h)
	c := svg.New(id, thumbWide, math.Ceil(k*h+2), title, "Small drawing of the plates, not to scale.")
	_, high := c.Size()
	at := svg.View{At: orb.Point{(thumbWide-k*w)/2 - k*b.Min[0], (high-k*h)/2 - k*b.Min[1]}, Scale: k}
	style := plateStyle
	style.Width = 0.35
	c.Paths(style, at.Paths(walls...)...)
	for _, l := range []struct {
		name  string
		style svg.Style
	}{{"DRILL", svg.Style{Stroke: svg.Ink, Width: 0.3, Fill: svg.Paper}}, {"SEAT", svg.Style{Stroke: svg.Brick, Width: 0.9}}} {
		if layer := d.Layer(l.name); layer != nil {
			c.Paths(l.style, at.Paths(geom.MoveAll(layer.All(), turn)...)...)
		}
	}
	return c.Bytes(), nil
}
