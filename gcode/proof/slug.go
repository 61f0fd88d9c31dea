package proof

import (
	"math"

	"github.com/paulmach/orb"
)

// chip is how much in mm of waste may stand beside the cuts in a hole: what is no
// wider than twice that is a chip and no slug. Common practice, no source.
const chip = 0.5

// slug checks that nothing is cut loose in the i-th loop, a hole or a bore that is
// cut through all round: waste would lie free beside a running mill, which throws
// it or jams on it. All waste of the hole must be cut away, down through the sheet.
//
// The hole's box is quartered until each square is decided: cut, solid, or standing.
func (h *holder) slug(t *trimmer, i int) {
	r := &h.part.Rules
	if !r.Own || r.Loose || r.Hold == BySkin {
		return
	}
	if t.gone == nil {
		if t.gone = t.through; len(h.part.Before) > 0 {
			cs, _ := h.throughCuts(h.before())
			t.gone = newField(append(cs, t.through.c...))
		}
	}
	hole := t.s.loops[i].path
	b := hole.Bound()
	half := max(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]) / 2
	q, found := h.standing(t, i, orb.Point{(b.Min[0] + b.Max[0]) / 2, (b.Min[1] + b.Max[1]) / 2}, half)
	if found {
		h.find(h.moveAt(t, q), Slug, "waste at %s is cut loose and not milled away", place(q))
	}
}

// standing finds a place of the waste in the i-th loop, in the square about m, that
// is farther than chip from every cut through the sheet.
func (h *holder) standing(t *trimmer, i int, m orb.Point, half float64) (orb.Point, bool) {
	across := half * math.Sqrt2 // from the middle to a corner
	cut, _ := t.gone.distance(m)
	if cut+across <= t.radius+chip {
		return m, false
	}
	waste := t.s.loops[i].path.Winding(m) != 0 && !t.s.inside(m)
	if waste && cut > t.radius+chip {
		return m, true
	}
	if wall, _ := t.s.field.distance(m); !waste && wall > across || half < chip/8 {
		return m, false
	}
	for _, d := range [4]orb.Point{{-1, -1}, {1, -1}, {-1, 1}, {1, 1}} {
		if q, found := h.standing(t, i, orb.Point{m[0] + d[0]*half/2, m[1] + d[1]*half/2}, half/2); found {
			return q, true
		}
	}
	return m, false
}
