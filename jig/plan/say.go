package plan

import (
	"blockwright/jig/joint"
)

// say is a sentence with a length in mm for each %s; %% is a per cent sign.
func say(text string, mm ...float64) joint.Message { return joint.Message{Text: text, Lengths: mm} }

// NotPossible is the error of sizes that a joint does not allow, or that make no
// sense.
type NotPossible struct{ Why joint.Message }

// Message is the error as a sentence for any unit.
func (e *NotPossible) Message() joint.Message { return e.Why }

func (e *NotPossible) Error() string { return e.Why.String() }

func refuse(text string, mm ...float64) error { return &NotPossible{say(text, mm...)} }

// size is a length that was asked for, and what it may be.
type size struct {
	name       string
	mm         float64
	least, top float64
}

// within refuses the first size that is out of its limits; no number is.
func within(sizes ...size) error {
	for _, v := range sizes {
		if !(v.mm >= v.least && v.mm <= v.top) {
			return refuse(v.name+": %s; want %s to %s", v.mm, v.least, v.top)
		}
	}
	return nil
}
