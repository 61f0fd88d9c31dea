package proof

import (
	"fmt"

	"blockwright/gcode"
)

// frame checks that a frame program only travels, above the sheet and at rest. A
// spindle that turns while the mill stands is found too: hands guide the sheet.
func (h *holder) frame() {
	safe := h.part.Top + h.part.Rules.Safe - depthSlack
	moved := false
	for i := range h.moves {
		m := &h.moves[i]
		if !h.ok[i] {
			continue
		}
		if m.RPM != 0 {
			h.find(i, FrameSpin, "spindle at %.4g rpm; want it at rest", m.RPM)
		}
		if m.From == m.To {
			continue
		}
		if moved && min(m.From[2], m.To[2]) < safe || m.To[2] < safe {
			h.find(i, FrameLow, "frame goes to %s; want Z %.4g or higher", spot(m.To), h.part.Top+h.part.Rules.Safe)
		}
		moved = true
	}
}

// spins finds the words of a frame program that start the spindle, also where no
// move comes after.
func spins(p *gcode.Program) []gcode.Finding {
	var found []gcode.Finding
	for i := range p.Blocks {
		b := &p.Blocks[i]
		for _, w := range p.Words[b.First:b.End] {
			if w.Letter == 'M' && (w.Value == 3 || w.Value == 4) {
				found = append(found, gcode.Finding{
					File: p.Name, Line: int(b.Line), Column: int(w.Off-b.Off) + 1, Code: FrameSpin,
					Text: fmt.Sprintf("M%g starts the spindle; want it at rest", w.Value),
				})
			}
		}
	}
	return found
}
