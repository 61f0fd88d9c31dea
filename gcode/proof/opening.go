package proof

import (
	"bytes"
	"slices"
	"strconv"

	"blockwright/gcode"
)

// modes are the G codes that a program has to state before its first motion, with
// what goes wrong otherwise. Of each, those the dialect lacks are not wanted.
var modes = []struct {
	code float64
	risk string
}{
	{17, "arcs could lie in another plane"},
	{90, "coordinates could be steps"},
	{94, "F could be an inverse time"},
	{54, "the zero could be another part's"},
	{40, "the path could be shifted by a cutter radius"},
	{49, "Z could be shifted by a tool's length"},
	{80, "a drilling cycle could be in force"},
	{61, "corners could be cut by blending"},
}

// shifting are the codes that would move a program's zero away from that of its
// frame program, or change its tool. The moves alone do not tell.
var shifting = map[byte][]float64{
	'G': {10, 28, 28.1, 30, 30.1, 43, 43.1, 53, 55, 56, 57, 58, 59, 59.1, 59.2, 59.3, 92, 92.1, 92.2, 92.3},
	'M': {6},
}

// Opening checks the words of a program of our own that its moves do not show. What
// the words before the first motion leave unsaid would be inherited from whatever ran
// before; of each mode, those the dialect lacks are not wanted; nil is a dialect that
// has all. Nowhere may a word move the zero, change the tool or let corners be cut, nor
// a slash make a line depend on a switch; nothing may stand behind the end. In
// a frame program no word may start the spindle.
func Opening(p *gcode.Program, d *gcode.Dialect, kind Kind) []gcode.Finding {
	found := append(append(unsaid(p, d), shifts(p)...), after(p)...)
	if kind == Frame {
		found = append(found, spins(p)...)
	}
	return found
}

// shifts finds the words that no program of our own has anywhere.
func shifts(p *gcode.Program) []gcode.Finding {
	var found []gcode.Finding
	for i := range p.Blocks {
		b := &p.Blocks[i]
		if b.Skip {
			found = append(found, gcode.Finding{
				File: p.Name, Line: int(b.Line), Column: 1, Code: Slashed,
				Text: "a slash lets a switch on the machine leave the line out; want every line to count",
			})
		}
		for _, w := range p.Words[b.First:b.End] {
			if w.Letter == 'G' && w.Value == 64 {
				found = append(found, gcode.Finding{
					File: p.Name, Line: int(b.Line), Column: int(w.Off-b.Off) + 1, Code: Blends,
					Text: "G64 lets the machine cut corners by more than any limit; want G61 to stay in force",
				})
			}
			if w.Letter == 'T' || slices.Contains(shifting[w.Letter], w.Value) {
				name := string(w.Letter) + strconv.FormatFloat(w.Value, 'f', -1, 64)
				found = append(found, gcode.Finding{
					File: p.Name, Line: int(b.Line), Column: int(w.Off-b.Off) + 1, Code: Shifts,
					Text: name + " moves the zero or changes the tool; a program of this kind has one tool and the zero of G54",
				})
			}
		}
	}
	return found
}

func unsaid(p *gcode.Program, d *gcode.Dialect) []gcode.Finding {
	said := map[float64]bool{}
	var first *gcode.Block
	for i := range p.Blocks {
		b := &p.Blocks[i]
		moves := false
		for _, w := range p.Words[b.First:b.End] {
			switch w.Letter {
			case 'G':
				said[w.Value] = true
			case 'X', 'Y', 'Z':
				moves = true
			}
		}
		if moves {
			first = b
			break
		}
	}
	if first == nil {
		return nil
	}
	var found []gcode.Finding
	say := func(code, text string) {
		found = append(found, gcode.Finding{File: p.Name, Line: int(first.Line), Column: 1, Code: code, Text: text})
	}
	if !said[20] && !said[21] {
		say(NoUnits, "no G20 or G21 before the first motion: its lengths could be inches or mm")
	}
	for _, m := range modes {
		name := "G" + strconv.FormatFloat(m.code, 'f', -1, 64)
		if !said[m.code] && (d == nil || d.Codes[name]) {
			say(Inherits, "no "+name+" before the first motion: "+m.risk)
		}
	}
	return found
}

// after finds the first line behind the block that ends the program, unless it is
// blank or a percent sign.
func after(p *gcode.Program) []gcode.Finding {
	if len(p.Blocks) == 0 {
		return nil
	}
	last := int(p.Blocks[len(p.Blocks)-1].Line)
	n := 0
	for text := range bytes.Lines(p.Text) {
		if n++; n <= last {
			continue
		}
		if t := bytes.TrimSpace(text); len(t) > 0 && string(t) != "%" {
			return []gcode.Finding{{
				File: p.Name, Line: n, Column: 1, Code: After,
				Text: "something stands behind the program's end, which a machine that is fed line by line still runs; want nothing there",
			}}
		}
	}
	return nil
}
