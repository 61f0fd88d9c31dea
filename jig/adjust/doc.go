// Package adjust turns what a test cut or a trial piece measures into what to move
// and by how much.
//
// A joint's errors are those of package joint: dz, the cutter too high, and e, too
// much cutter out of the fence. A [Move] undoes them: its height is -dz, up
// positive; its fence is -e, positive where the fence has to travel back. The
// functions invert joint.Setting's own geometry, not the rules of thumb for 45°
// tips, so that for any cutter the measurements that a wrong setting shows lead
// back to the right one.
//
// Lengths are mm, angles radians. What cannot be, or cannot be told from what was
// measured, is a [*Refusal] that says why and what would help.
package adjust

import (
	"math"

	"blockwright/jig/joint"
)

// A Move is what to do at the router table.
type Move struct {
	Height float64 // mm, up positive
	Fence  float64 // mm, positive: the fence travels back, more cutter
	Knows  [2]bool // whether height and fence are known from what was measured
	Next   string  // what the next test must show
}

// A Refusal is the error of measurements that contradict each other, cannot be, or
// do not tell what was asked.
type Refusal struct{ Why joint.Message }

// Message is the error as a sentence for any unit.
func (r *Refusal) Message() joint.Message { return r.Why }

func (r *Refusal) Error() string { return r.Why.String() }

// refuse takes a %s for each word; a float64 is a length in mm.
func refuse(text string, words ...any) error { return &Refusal{joint.Saying(text, words...)} }

// sense is the difference in mm below which two readings of a caliper are one.
const sense = 0.005

// finite refuses what is no measurement.
func finite(name string, v float64) error {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return refuse("%s is no number", name)
	}
	return nil
}
