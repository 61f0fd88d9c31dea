package posts

import (
	"fmt"
	"math"

	"blockwright/jig/joint"
	"blockwright/posts/sheet"
)

// measures says what calipers and a straightedge read at the table: height and fence
// themselves cannot be measured there.
func (m sheetMaker) measures() sheet.Section {
	s := sheet.Section{Name: "measure", Title: "To measure at the table"}
	for i, p := range m.f.Made.Passes {
		if m.f.Kind == "trial" || !m.states(i) {
			continue
		}
		r := m.f.Made.Read(i)
		t := sheet.Table{Head: []string{"", "mm", "inch", "nearest 64th"}}
		if m.differ() {
			t.Caption = "Set for the " + p.Name + " pass"
		}
		add := func(known bool, what string, mm float64) {
			if known {
				ruler := m.ruler(mm)
				if ruler == "" {
					ruler = "0"
				}
				t.Rows = append(t.Rows, []string{what, minus(Fixed(mm, 3)), minus(Fixed(mm/InchMM, 4)), ruler})
			}
		}
		h, d := p.Cutter.Known[1], p.Cutter.Known[0]
		add(h && r.Top != 0, "top of the cutting edge above the table", r.Top)
		if r.BodyTop > 0 {
			add(h, "top of the cutter's body above the table", r.BodyTop)
		}
		if l := r.Land; l != nil {
			add(d, "widest land out of the fence", l.Out)
			add(h, "that land begins above the table", l.From)
			add(h, "and ends above the table", l.To)
		}
		if k := r.Kiss; k != nil {
			add(true, "a bar on a piece of the stock, slid to the fence, touches the cutter at the height", k.Height)
			if math.Abs(k.Out) >= 5e-4 {
				add(d, "where the cutter stands out of the fence", k.Out)
			}
		}
		if len(t.Rows) > 0 {
			s.Tables = append(s.Tables, t)
		}
	}
	if len(s.Tables) > 0 {
		s.Tables[len(s.Tables)-1].Note = fmt.Sprintf("Stock that this cutter joins: %s; better stay within: %s. Turn the cutter by hand, power disconnected, to find its highest and widest reach.",
			joint.Between(m.f.Setting.Range).Say(m.short), joint.Between(m.f.Setting.Usable).Say(m.short))
	}
	for _, w := range m.f.Setting.Warnings {
		if m.f.Kind != "trial" {
			s.Text = append(s.Text, "Note: "+w.Say(m.short)+".")
		}
	}
	return s
}

// states tells whether the sheet states the place of the setting's pass.
func (m sheetMaker) states(i int) bool {
	p := m.f.Made.Passes[i]
	if m.f.Kind == "block" || m.f.Kind == "gauge" || m.f.Kind == "facing" {
		return i == m.f.Request.Pass
	}
	for _, q := range m.f.Made.Passes[:i] {
		if samePlace(p, q) {
			return false
		}
	}
	return true
}
