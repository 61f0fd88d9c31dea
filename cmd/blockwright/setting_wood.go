package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"blockwright/jig/joint"
	"blockwright/jig/wood"
)

// A moistureFlag is a pair of moisture contents in per cent, from and to.
type moistureFlag struct {
	from, to float64
	set      bool
}

func (m *moistureFlag) String() string {
	if !m.set {
		return ""
	}
	return fmt.Sprintf("%g,%g", m.from, m.to)
}
func (m *moistureFlag) Type() string { return "percents" }

func (m *moistureFlag) Set(s string) error {
	a, b, two := strings.Cut(s, ",")
	from, err1 := strconv.ParseFloat(strings.TrimSpace(a), 64)
	to, err2 := strconv.ParseFloat(strings.TrimSpace(b), 64)
	if !two || err1 != nil || err2 != nil {
		return errors.New("want two moisture contents in per cent, as in 8,11")
	}
	for _, v := range []float64{from, to} {
		if !(v >= wood.Driest && v <= wood.Wettest) {
			return fmt.Errorf("moisture content %g %%; the equation holds for %g to %g %%", v, wood.Driest, wood.Wettest)
		}
	}
	m.from, m.to, m.set = from, to, true
	return nil
}

// A woodView is what a change of moisture does to the stock, as JSON.
type woodView struct {
	Species     string  `json:"species"`
	From        float64 `json:"from_percent"`
	To          float64 `json:"to_percent"`
	Flatsawn    float64 `json:"flatsawn_mm"`    // change of a flatsawn board's thickness
	Quartersawn float64 `json:"quartersawn_mm"` // change of a quartersawn one's
	Source      string  `json:"source"`
}

// moves is what the moisture does to the setting's flat board; nil where it was not
// asked for.
func (f *settingFlags) moves(set *joint.Setting) (*woodView, error) {
	if f.species.text == "" {
		return nil, nil
	}
	s, err := wood.Find(f.species.text)
	if err != nil {
		return nil, err
	}
	v := &woodView{Species: s.Name, From: f.moisture.from, To: f.moisture.to, Source: wood.Source}
	if s.Memory {
		v.Source = wood.FromMemory
	}
	v.Flatsawn, v.Quartersawn, err = s.Thickness(set.Request.Stock, f.moisture.from, f.moisture.to)
	return v, err
}

// wood says what the moisture does to the boards and to the joint.
func (t *settingText) wood(v *woodView) {
	if v == nil {
		return
	}
	t.line("Wood moves")
	t.line("  %s from %g to %g %% moisture: a flatsawn board of this thickness changes by %s,", v.Species, v.From, v.To, t.signed(v.Flatsawn))
	t.line("  a quartersawn one by %s. Source: %s.", t.signed(v.Quartersawn), v.Source)
	f := t.set.Thicker(v.Quartersawn)
	switch {
	case v.Quartersawn == 0:
	case t.set.Joint == "edge":
		t.line("  The profile keeps its place from the face that lay on the table.")
	case f.Corner == nil:
		t.line("  At this setting the faces of the closed joint then miss each other by up to %s.", t.short(abs(v.Quartersawn)))
	case v.Quartersawn > 0:
		t.line("  At this setting a thicker board keeps a land of up to %s on its tips and the corner", t.short(abs(f.Tips[0].Short)))
		t.line("  is open by as much. So set for the thickest board, on the day you rout.")
	default:
		t.line("  At this setting a thinner board loses up to %s at each tip; the corner stays", t.short(abs(f.Tips[0].Short)))
		t.line("  sharp and closed, and the box is only smaller by that.")
	}
	t.line("")
}

func abs(v float64) float64 { return max(v, -v) }
