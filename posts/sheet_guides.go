package posts

import (
	"fmt"
	"strings"

	"blockwright/gcode"
	"blockwright/jig/joint"
	"blockwright/posts/sheet"
)

// layersOf is of how many layers the strip of a pass is glued up.
func (f *Fixture) layersOf(p joint.Pass) int {
	n := 0
	for _, c := range f.Fitted {
		if strings.HasPrefix(c.Part, p.Name+" ") {
			n++
		}
	}
	return n
}

// stripSteps say how guide strips are put on, pass by pass.
func (m sheetMaker) stripSteps() []sheet.Step {
	var names, glue []string
	for _, p := range m.f.Setting.Passes {
		names = append(names, p.Name)
		if n := m.f.layersOf(p); n > 1 {
			glue = append(glue, fmt.Sprintf("%s %d", p.Name, n))
		}
	}
	text := "by the pass that is engraved on them: " + strings.Join(names, " and ") + "."
	if len(names) == 1 {
		text = "if more than one cutter has them."
	}
	steps := []sheet.Step{{Title: "Sort the strips", Text: text}}
	if len(glue) > 0 {
		steps = append(steps, sheet.Step{Title: "Glue the layers", Text: "of a pass face to face to one strip (layers: " + strings.Join(glue, ", ") + "), their riding edges pressed level on a flat. Plane nothing off the riding edges."})
	}
	end, beyond := "end", "an equal length beyond each side of the board"
	if !m.acrossGrain() {
		end, beyond = "edge", "an equal length beyond each end of the board"
	}
	for i, p := range m.f.Setting.Passes {
		face := boardFace(m.f.Setting, p)
		s := sheet.Step{Title: upperFirst(p.Name + " pass:")}
		switch {
		case p.Lies == joint.Upright:
			s.Text = "the board on its end, " + face + ". Tape the strip along the outside face, its riding edge down and level with the board's end, " + beyond + ". It bridges the insert opening, so that the tip cannot drop in."
		case p.Name == "turned":
			s.Text = "turn the board over, " + face + ". Tape the strip that is marked TURNED on the face that is up now, its riding edge at the board's " + end + ", " + beyond + "."
		default:
			if face != "" {
				face = ", " + face
			}
			s.Text = "the board flat on the table" + face + ". Tape the strip on the face that is up, its riding edge at the board's " + end + ", " + beyond + "."
			if i == 0 {
				s.Text += " It rides the fence where the cut leaves the board no land."
			}
		}
		steps = append(steps, s)
	}
	return append(steps,
		sheet.Step{Title: "Check the tape", Text: "before every pass: double-sided tape, firm along the whole strip, hands never in the cutter's line."},
		sheet.Step{Title: "Rout in stages.", Text: "The cutter cuts into the strip and leaves its shape there: a strip serves one setting. Strips are wood or another material that routes, never metal."})
}

// facingSteps say how a facing gets between fence and board: the fence goes back by
// exactly the facing's thickness, by offcuts of the facing's own sheet.
func (m sheetMaker) facingSteps() []sheet.Step {
	f := m.f.Facing
	if f == nil {
		return nil
	}
	thick := m.both(f.Thick)
	axis := "the spindle's axis is " + m.length(f.Fence) + " behind the bare fence's face"
	switch {
	case f.Fence < -5e-4:
		axis = "the spindle's axis is " + m.length(-f.Fence) + " in front of the bare fence's face"
	case f.Fence < 5e-4:
		axis = "the spindle's axis is level with the bare fence's face"
	}
	back := "the engraved face"
	if f.Lip < f.Thick {
		back = "the engraved face with the pocket " + m.near(f.Thick-f.Lip) + " deep"
	}
	return []sheet.Step{
		{Title: "Disconnect the power.", Text: "Set height and fence with the block or the gauge at the bare fence, as without a facing. Lock both."},
		{Title: "Move the fence back by " + thick + ",", Text: "the facing's thickness. Clamp a stop behind each end of the fence, with an offcut of the facing's own sheet between stop and fence. Take both offcuts out, unlock the fence, push it back against the stops, lock it. Now " + axis + "."},
		{Title: "Put the facing on from the front,", Text: back + " against the fence, its lower edge on the table, its engraved line at the spindle's middle. Clamp or screw it to both halves of the fence, well outside the cutter's reach, heads sunk."},
		{Title: "Turn the cutter by hand", Text: fmt.Sprintf("a full turn, backwards: it touches nowhere. The facing stands %s clear of it all round, and %s beside the widest land.", m.near(f.Clear), m.near(f.Gap))},
		{Title: "Check the fence again", Text: "with block or gauge against the facing's face. Take them and the wrench out before the power goes on."},
		{Title: "Take the facing off", Text: "before the height is changed: its opening fits this height. Farther forward the fence may stand, as in fence stages; not farther back. Facings are wood or another material that routes, never metal."},
	}
}

// near is a length that need not be exact, in the shop's units.
func (m sheetMaker) near(mm float64) string {
	if m.units == "in" {
		return Fixed(mm/InchMM, 3) + " in"
	}
	return gcode.Number(mm, 1) + " mm"
}
