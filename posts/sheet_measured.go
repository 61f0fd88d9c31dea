package posts

import (
	"strings"

	"blockwright/jig/plate"
	"blockwright/posts/sheet"
)

// twoPrograms leads through the milling of a measured fixture: first program, witness,
// 'blockwright finish', second program, and what must not be touched until the end.
func (m sheetMaker) twoPrograms() sheet.Section {
	w := m.f.Witness
	if w == nil {
		return sheet.Section{}
	}
	s := sheet.Section{Name: "two-programs", Title: "Milled in two programs, measured between them", Below: true}
	s.Text = []string{"From the first step to the last the sheet stays clamped, the end mill stays in the collet, and the zero of X, Y and Z stays as it is. If one of them is lost, mill the fixture anew from a fresh piece."}
	zero := "X and Y at the sheet's lower left corner, Z " + m.zero() + "."
	engraved := ""
	if m.f.Engraving != nil {
		engraved = " Engrave first, with the engraving tool's own Z zero on the sheet's top; then fit the " + m.f.Mill.Name + " end mill and set its Z zero."
	}
	x, y := m.typedLength(w.X), m.typedLength(w.Y)
	lettersX, lettersY := m.witnessLetters()
	s.Steps = []sheet.Step{
		{Title: "Clamp and zero.", Text: zero + engraved + " Run the frame program: it traces the extents, spindle off."},
		{Title: "First program:", Text: m.programNames(false) + ". It leaves " + m.short(w.Left) + " on every wall of the plates and mills the witness, a rectangle beside them."},
		{Title: "Take the power from the spindle.", Text: "Loosen nothing. Jog the mill up and aside if it is in the way; set no zero, and leave the controller on: it would forget the zero."},
		{Title: "Measure the witness", Text: "where it lies, its edges brushed free of fuzz: across X" + lettersX + " and across Y" + lettersY + ", in the middle of the flats, three times each, no force. Write the middle reading into the table."},
		{Title: "Ask for the second program", Text: "with your two sizes in place of these:", Ask: "blockwright finish " + m.f.ID + " --witness " + x + "," + y},
		{Title: "Second program:", Text: m.programNames(true) + ", which this command writes beside the first. Same sheet, same end mill, same zero. It mills all walls to their size, with the diameter that the mill truly cuts and the motion that the axes lose."},
		{Title: "Measure the witness again.", Text: "It must measure " + m.short(plate.WitnessX) + " and " + m.short(plate.WitnessY) + " now. If it does, break the plates out; if not, 'blockwright finish' lists what decides between the causes."},
	}
	s.Tables = []sheet.Table{{
		Caption: "Sizes of the witness (" + m.unit() + ")", Head: []string{"", "a perfect mill leaves", "measured", "in the end", "measured"},
		Rows: [][]string{
			{"across X" + lettersX, m.bare(w.X), "", m.bare(plate.WitnessX), ""},
			{"across Y" + lettersY, m.bare(w.Y), "", m.bare(plate.WitnessY), ""},
		},
	}}
	return s
}

// witnessLetters are the letters of the flats that span X and Y, in brackets.
func (m sheetMaker) witnessLetters() (x, y string) {
	var on [2][]string
	for _, n := range m.names {
		if m.pic.Parts[n.part].Kind != "witness" {
			continue
		}
		e := n.seat.Path.Edge(0).Direction(0)
		k := 0 // a flat that runs along Y spans X
		if e[0]*e[0] > e[1]*e[1] {
			k = 1
		}
		on[k] = append(on[k], n.letter)
	}
	in := func(l []string) string {
		if len(l) == 0 {
			return ""
		}
		return " (" + strings.Join(l, " to ") + ")"
	}
	return in(on[0]), in(on[1])
}

// programNames are the files of the first or the second milling program.
func (m sheetMaker) programNames(second bool) string {
	var out []string
	for _, w := range m.writers {
		if w.Dialect == nil {
			continue
		}
		if after := strings.HasPrefix(w.Ext, "finish."); after && second || !after && !second && w.Program(m.f) == &m.f.Milling {
			out = append(out, m.f.ID+"."+w.Ext)
		}
	}
	if len(out) == 0 {
		return "the milling program"
	}
	return strings.Join(out, " or ")
}
