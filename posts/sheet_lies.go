package posts

import (
	"blockwright/jig/joint"
	"blockwright/posts/sheet"
)

// boardFace says which face of a board is where in the pass, "" where the joint does
// not care. Common practice: what will be inside the corner is the reference.
func boardFace(s *joint.Setting, p joint.Pass) string {
	switch {
	case p.Lies == joint.Upright:
		return "inside face against the fence"
	case s.Joint == "edge":
		return ""
	case s.Joint == "matched":
		return "good face down"
	case s.Joint == "edge-glue":
		if p.Name == s.Passes[0].Name {
			return "good face down"
		}
		return "good face up"
	}
	return "inside face down"
}

// lies are the facts that say how the boards go past the cutter: those of the
// fixture's own pass, or of every pass where it serves them all.
func (m sheetMaker) lies() []sheet.Fact {
	var out []sheet.Fact
	for _, p := range m.f.Made.Passes {
		own := m.f.Kind == "block" || m.f.Kind == "gauge" || m.f.Kind == "facing"
		if own && !samePlace(p, m.f.Pass) {
			continue
		}
		text := boardFace(m.f.Setting, p)
		switch {
		case p.Lies == joint.Upright:
			text = "on its end, " + text
		case text == "":
			text = "flat on the table, the face down that the edge is measured from"
		default:
			text += ", flat on the table"
		}
		name := upperFirst(p.Name) + " pass, board"
		switch {
		case len(m.f.Made.Passes) == 1:
			name = "Board"
		case m.f.Setting.Joint == "drawer-lock":
			name = upperFirst(p.Name) + " pass, " + map[bool]string{false: "front and back", true: "sides"}[p.Lies == joint.Upright]
		}
		out = append(out, sheet.Fact{Name: name, Text: text})
	}
	return out
}

// acrossGrain tells whether the joint is one of boards' ends; else it is one of their
// long edges.
func (m sheetMaker) acrossGrain() bool {
	ps := m.f.Setting.Passes
	return ps[len(ps)-1].Lies == joint.Upright
}
