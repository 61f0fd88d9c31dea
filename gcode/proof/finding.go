package proof

import (
	"fmt"
	"sort"

	"blockwright/gcode"
)

// find adds a finding about a move. Consecutive equal ones about one block are one.
func (h *holder) find(move int, code, format string, args ...any) {
	f := gcode.Finding{Code: code, Text: fmt.Sprintf(format, args...)}
	if move >= 0 && move < len(h.moves) {
		f.Text = fmt.Sprintf("move %d: ", move+1) + f.Text
		if g := h.part.Program; g != nil {
			f.File, f.Column = g.Name, 1
			if b := int(h.moves[move].Block); b < len(g.Blocks) {
				f.Line = int(g.Blocks[b].Line)
			}
		}
	} else if g := h.part.Program; g != nil {
		f.File = g.Name
	}
	if n := len(h.rep.Findings); n > 0 && h.rep.Findings[n-1] == f {
		return
	}
	h.rep.Findings = append(h.rep.Findings, f)
}

func (h *holder) findPart(format string, args ...any) { h.find(-1, PartUnfit, format, args...) }

// finish puts the findings in the program's order.
func (h *holder) finish() {
	sort.SliceStable(h.rep.Findings, func(a, b int) bool { return h.rep.Findings[a].Line < h.rep.Findings[b].Line })
}
