package proof

import (
	"math"

	"blockwright/gcode"
)

// played says where the mill goes when the axes have the play of the rules: an axis
// that has moved on in one sense stands half its play behind, and when it turns it
// stands still until the whole play is taken up. With x commanded and p the play,
// the mill's own place X keeps x-p/2 ≤ X ≤ x+p/2 and moves no more than that needs.
//
// A feed move in the sheet must have its play taken up, or only take it up itself:
// else the mill leaves the commanded shape, and that is a finding. How the play lies
// before the first motion is not known; a way of the play's length tells.
func (h *holder) played(ms []gcode.Move) []gcode.Move {
	r := &h.part.Rules
	if r.Play == [2]float64{} {
		return ms
	}
	out := make([]gcode.Move, len(ms))
	tol := r.Limit
	var off [2]float64 // the mill's place less the commanded
	known := [2]bool{r.Play[0] == 0, r.Play[1] == 0}
	for i := range ms {
		m := ms[i]
		from, end := off, off
		late := false
		for k := range 2 {
			d := m.To[k] - m.From[k]
			half := r.Play[k] / 2
			end[k] = math.Max(-half, math.Min(half, off[k]-d))
			if math.Abs(d) >= r.Play[k]-tol {
				known[k] = true
			}
			late = late || math.Abs(end[k]-from[k]) > tol
		}
		o := m
		for k := range 2 {
			o.From[k] += from[k]
			o.To[k] += end[k]
			o.Centre[k] += end[k]
		}
		low := math.Min(m.From[2], m.To[2]) < h.part.Top
		switch {
		case !m.Cuts() || !low || m.Plane != gcode.PlaneXY:
		case !known[0] || !known[1]:
			h.find(i, NotTaken, "cuts at %s before both axes have moved by their play", spot(m.To))
		case late && (far(o.From, o.To) > tol || m.Arc()):
			h.find(i, NotTaken, "an axis turns on the way to %s before its play is taken up", spot(m.To))
		case late: // it only takes up play
		case m.Arc() && h.turns(&m, tol):
			h.find(i, NotTaken, "an axis turns on the arc to %s before its play is taken up", spot(m.To))
		}
		out[i], off = o, end
	}
	return out
}

// turns tells whether an axis with play turns on the arc.
func (h *holder) turns(m *gcode.Move, tol float64) bool {
	lo, hi := m.Bound()
	for k := range 2 {
		if h.part.Rules.Play[k] > 0 &&
			(lo[k] < math.Min(m.From[k], m.To[k])-tol || hi[k] > math.Max(m.From[k], m.To[k])+tol) {
			return true
		}
	}
	return false
}
