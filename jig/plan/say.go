package plan

import (
	"blockwright/jig/joint"
)

// say is a sentence with a length in mm for each %s.
func say(text string, mm ...float64) joint.Message { return joint.Message{Text: text, Lengths: mm} }

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
			return joint.Refuse("%s: %s; want %s to %s", v.name, v.mm, v.least, v.top)
		}
	}
	return nil
}
