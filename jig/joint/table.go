package joint

import (
	"math"

	"blockwright/jig/shop"
)

// Unreachable is the error of a setting that a router table cannot be brought to.
type Unreachable struct {
	Pass  string  // name of the pass
	Limit string  // what limits: insert opening, lift, fence opening width, fence opening height
	Wants string  // what of the setting wants it
	Need  float64 // mm
	Least float64 // what the table offers, mm; the lift's two ends, else 0 and the size
	Most  float64
}

// Message is the error as a sentence for any unit.
func (e *Unreachable) Message() Message {
	head := e.Pass + " pass: the " + e.Wants + " is %s; "
	if e.Limit == "lift" {
		return lengthy(head+"the table's lift goes from %s to %s", e.Need, e.Least, e.Most)
	}
	return lengthy(head+"the table's "+e.Limit+" is %s", e.Need, e.Most)
}

func (e *Unreachable) Error() string { return e.Message().String() }

// Fits tells whether a router table allows the setting: the insert opening passes
// the cutter, the lift reaches the height, the fence opening passes cutter and
// body in width and height. What the shop does not state, and what is not known
// of the cutter, limits nothing. The error is an *[Unreachable].
//
// The fence is taken as thick as need be: behind its face the opening must pass
// the widest chord of the cutter, which is the diameter where the axis stands
// behind the face and 2·√(r² - D²) where it stands in front.
func (s *Setting) Fits(t shop.Table) error {
	for _, p := range s.Passes {
		c := p.Cutter
		if need := 2 * c.MaxRadius(); c.Known[0] && t.InsertOpening > 0 && need > t.InsertOpening {
			return &Unreachable{p.Name, "insert opening", "cutter's diameter", need, 0, t.InsertOpening}
		}
		if (t.LiftLow != 0 || t.LiftHigh != 0) && c.Known[1] && (p.Height < t.LiftLow-seam || p.Height > t.LiftHigh+seam) {
			return &Unreachable{p.Name, "lift", "height", p.Height, t.LiftLow, t.LiftHigh}
		}
		w, h := p.opening()
		if c.Known[0] && t.FenceWidth > 0 && w > t.FenceWidth {
			return &Unreachable{p.Name, "fence opening width", "cutter's width in the fence", w, 0, t.FenceWidth}
		}
		if t.FenceHeight > 0 && h > t.FenceHeight {
			return &Unreachable{p.Name, "fence opening height", "cutter's top above the table", h, 0, t.FenceHeight}
		}
	}
	return nil
}

// opening is the width and the height that the fence must leave free for what of
// cutter and body stands above the table.
func (p Pass) opening() (width, height float64) {
	c := p.Cutter
	r, ok := c.MaxRadiusBetween(-p.Height, math.Inf(1))
	if !ok || r <= -p.Fence {
		return 0, 0 // all of it in front of the fence
	}
	width = 2 * r
	if p.Fence < 0 {
		width = 2 * math.Sqrt((r-p.Fence)*(r+p.Fence))
	}
	return width, c.Highest() + p.Height
}
