package trace

import "fmt"

// A Reason is why a scan is refused.
type Reason string

// The reasons.
const (
	Unreadable Reason = "unreadable"    // no PNG or JPEG picture
	TooLarge   Reason = "too-large"     // more pixels than memory allows
	NoDensity  Reason = "no-density"    // neither file nor user says how large a pixel is
	TooCoarse  Reason = "too-coarse"    // pixels too large to measure by
	NoBoard    Reason = "no-board"      // nothing with two straight parallel faces
	TooDark    Reason = "too-dark"      // too little light
	Saturated  Reason = "saturated"     // board as white as the scanner can tell
	Faint      Reason = "faint"         // board hardly differs from what is behind it
	Clipped    Reason = "clipped"       // the cut runs out of the picture
	Tilted     Reason = "tilted"        // turned too far
	Upright    Reason = "upright"       // faces run up and down in the picture
	Blurred    Reason = "blurred"       // out of focus
	Askew      Reason = "askew"         // faces not parallel
	NoCut      Reason = "no-cut"        // both ends square
	Undercut   Reason = "undercut"      // no straight pass leaves such a cut
	Unclear    Reason = "unclear"       // the outline cannot be followed
	Different  Reason = "different"     // the pieces do not show one profile
	Size       Reason = "implausible"   // no board has that thickness
	NoCentre   Reason = "no-centre"     // the profile has no centre of symmetry
	BadSize    Reason = "contradiction" // a caliper size contradicts the scan
)

// A Refusal is the error of a scan that cannot be used.
type Refusal struct {
	Scan   string // name of the scan, "" where it concerns all
	Reason Reason
	Have   string // what is there
	Want   string // what is wanted
}

// Error is the refusal in one line.
func (r *Refusal) Error() string {
	s := r.Have
	if r.Want != "" {
		s += "; want " + r.Want
	}
	if r.Scan != "" {
		s = r.Scan + ": " + s
	}
	return s
}

// refuse makes a refusal; the scan's name is filled in later.
func refuse(why Reason, want, have string, args ...any) *Refusal {
	return &Refusal{Reason: why, Have: fmt.Sprintf(have, args...), Want: want}
}
