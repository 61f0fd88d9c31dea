package proof

import (
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

// Opening checks the words before the first motion of a program of our own: what
// they leave unsaid would be inherited from whatever ran before. Of each mode,
// those the dialect lacks are not wanted; nil is a dialect that has all.
func Opening(p *gcode.Program, d *gcode.Dialect) []gcode.Finding {
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
