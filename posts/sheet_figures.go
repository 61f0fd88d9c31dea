package posts

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/posts/sheet"
	"blockwright/posts/svg"
)

// The bar below a drawing, by which a print is checked, mm.
const (
	barHigh = 11.0
	barWide = 106.0
)

// figure is a view as a drawing of its own.
func (m sheetMaker) figure(v view, title, note, name string) sheet.Figure {
	return m.drawing(v, title, note, name, false)
}

// barred is a view with the check bar below it.
func (m sheetMaker) barred(v view, title, note, name string) sheet.Figure {
	return m.drawing(v, title, note, name, true)
}

func (m sheetMaker) drawing(v view, title, note, name string, bar bool) sheet.Figure {
	const edge = 1.0
	w, h := v.size()
	low := 0.0
	if bar {
		w, low = math.Max(w, barWide), barHigh
	}
	w, h = math.Ceil(w+2*edge), math.Ceil(h+low+2*edge)
	c := svg.New(m.f.ID+"-"+name, w, h, title, note)
	v.picture(c, orb.Point{edge, h - edge})
	if bar {
		c.CheckBar(orb.Point{edge + 1, edge + 2}, checkBarText(m.units))
	}
	return sheet.Figure{Title: title, Note: note, SVG: c.Bytes(), Width: w, Height: h}
}

// onPaper shrinks a view that no sheet of paper takes, to a plain scale.
func onPaper(v view) view {
	for _, k := range []float64{v.times(), 0.5, 1.0 / 3, 0.25, 0.2, 0.1, 0.05, 0.02} {
		v.scale = math.Min(k, v.times())
		if w, h := v.size(); w+2 <= sheet.MaxWidth && h+barHigh+3 <= sheet.MaxHeight {
			break
		}
	}
	return v
}

// scaleWords says a view's scale.
func (m sheetMaker) scaleWords(k float64) string {
	switch {
	case k == 1:
		return "True size."
	case k > 1:
		return fmt.Sprintf("%g : 1.", k)
	}
	return fmt.Sprintf("Not true size: drawn 1 : %g to fit the paper.", math.Round(1/k))
}

// inPlace is the fixture as it stands in use, with the list of its seats.
func (m sheetMaker) inPlace() sheet.Section {
	s := sheet.Section{Name: "in-place", Title: "In place"}
	if v := m.pic.inUse(m.names); v.draw != nil {
		v = onPaper(v)
		fig := m.figure
		if v.times() == 1 {
			fig = m.barred
		}
		s.Figures = append(s.Figures, fig(v, v.title, plainNote(v)+" "+m.scaleWords(v.times()), "in-use"))
	}
	if v := m.pic.detail(m.names); v.draw != nil {
		v = onPaper(v)
		s.Figures = append(s.Figures, m.figure(v, v.title, plainNote(v), "detail"))
	}
	if len(s.Figures) > 0 && m.lettered() {
		s.Text = []string{"The thick lines are the seats, what must be right. Leave them as the mill left them."}
		s.Keys = m.seatKeys()
	}
	return s
}

// lettered tells whether the view in use has the seats' letters; else they stand on
// the plates alone.
func (m sheetMaker) lettered() bool { return m.f.Kind == "block" || m.f.Kind == "gauge" }

func (m sheetMaker) seatKeys() []sheet.Fact {
	var out []sheet.Fact
	own := slices.DeleteFunc(slices.Clone(m.names), func(n named) bool { return m.pic.Parts[n.part].Kind == "witness" }) // see twoPrograms
	for _, r := range seatRows(own) {
		out = append(out, sheet.Fact{Name: strings.Join(r.letters, " "), Text: r.name})
	}
	return out
}

// plainNote is a view's note as a sentence, without the scale that is said anyway.
func plainNote(v view) string {
	return upperFirst(strings.NewReplacer(", true size", "", ", 1 : 2", "").Replace(v.note)) + "."
}

// plates are the plates as they are cut.
func (m sheetMaker) plates() sheet.Section {
	s := sheet.Section{Name: "plates", Title: "The plates"}
	v := m.pic.onSheet(m.names)
	if v.draw == nil {
		return s
	}
	v = onPaper(v)
	note := "Seen from above, in the program's coordinates: its zero is the sheet's lower left corner. "
	if !m.lettered() {
		s.Text = []string{"The thick lines are the seats, what must be right. Leave them as the mill left them."}
		s.Keys = m.seatKeys()
	}
	var parts []sheet.Figure
	if v.times() < 1 {
		for i, q := range m.pic.Parts {
			if q.Kind == "witness" || m.pic.sizedAlready(i) {
				continue
			}
			note := m.scaleWords(1)
			if i+1 < len(m.pic.Parts) && m.pic.sizedAlready(i+1) {
				note += " All layers as long are alike."
			}
			if one := m.pic.onePart(i, m.names); one.draw != nil && onPaper(one).times() == 1 {
				parts = append(parts, m.barred(one, one.title, note, fmt.Sprintf("part-%d", i+1)))
			}
		}
	}
	fig := m.barred
	if len(parts) > 0 {
		fig = m.figure
	}
	s.Figures = append([]sheet.Figure{fig(v, v.title, note+m.scaleWords(v.times()), "on-sheet")}, parts...)
	return s
}
