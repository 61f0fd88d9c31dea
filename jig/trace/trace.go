package trace

import (
	"errors"
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// Options say what cannot be seen.
type Options struct {
	DPI       float64 // pixels an inch, 0 to take the files' word
	Thickness float64 // of the board in mm by calipers, 0 if not measured; then it gives the scale
	Down      string  // the face in the picture that was down: bottom, top, left or right; bottom if ""
	Joint     string  // as in a cutter's file
}

// Downs are the words that Options.Down may be.
var Downs = []string{"bottom", "top", "left", "right"}

// A Corner is a point where two pieces of the profile meet.
type Corner struct {
	At   orb.Point
	Sure float64 // mm: with 95 % certainty it lies within so much of there
}

// A Result is a traced profile in the board's frame (x, z).
type Result struct {
	Board   float64    // mm, thickness
	Tilt    float64    // degrees, of the first piece against the picture's horizontal (vertical for left and right), counter-clockwise
	Profile geom.Path  // from z = 0 to the board's thickness; x = 0 is its outermost point
	Corners []Corner   // as many as vertices
	Centre  *orb.Point // of symmetry; nil for joints without
	Sure    Sure
	Pieces  int // cut ends measured
	DPI     [2]float64
	Noise   float64 // mm, of one point of the outline
	Blur    float64 // mm, standard deviation of the edge's rise
	Notes   []string
	cuts    []*cut
}

// Sure is how sure a result is: with 95 % certainty it is off by no more. The
// scanner's own error of scale is not in it.
type Sure struct {
	Centre  float64 // mm
	Profile float64 // mm, square to the profile, the worst piece of it
	Board   float64 // mm
}

// leastDPI is the coarsest picture that is measured by, pixels an inch: at 300 a pixel
// is 0.085 mm, and the centre sure to some hundredths. Derived here.
const leastDPI = 290

// mostTilt is how far a board may be turned in the picture, in degrees: up to there no
// doubt arises which face is the bottom one.
const mostTilt = 10

// Trace measures the profile that the scans show. The error is a *[Refusal].
func Trace(scans []*Scan, o Options) (*Result, error) {
	r, err := measure(scans, o, true)
	var why *Refusal
	if errors.As(err, &why) && slices.Contains(hairy, why.Reason) {
		// What stands out level may be a hair at the edge of the wood.
		if bare, err := measure(scans, o, false); err == nil {
			bare.Notes = append(bare.Notes, "what is thin and stands out level, as a hair does, was left out")
			return bare, nil
		}
	}
	return r, err
}

// hairy are the reasons of refusals that a hair at the edge of the wood can have.
var hairy = []Reason{NoBoard, Unclear, Undercut, Different, NoCentre}

// measure traces the scans, with or without the thin wedges that [tidy] tells of.
func measure(scans []*Scan, o Options, wedges bool) (*Result, error) {
	var cuts []*cut
	for _, s := range scans {
		cs, why := s.cuts(o, wedges)
		if why != nil {
			why.Scan = s.Name
			return nil, why
		}
		cuts = append(cuts, cs...)
	}
	if len(cuts) == 0 {
		return nil, refuse(NoBoard, "at least one scan", "no scan")
	}
	f, why := fitProfile(cuts)
	if why != nil {
		if len(scans) == 1 {
			why.Scan = scans[0].Name
		}
		return nil, why
	}
	r := &Result{Board: 0, Pieces: len(cuts), Noise: f.noise, Blur: f.blur, cuts: cuts, DPI: cuts[0].b.r.dpi}
	for _, c := range cuts {
		r.Board += c.thick / float64(len(cuts))
	}
	r.Tilt = cuts[0].b.tilt(o.Down)
	if why := r.judge(f, o.Joint); why != nil {
		if len(scans) == 1 {
			why.Scan = scans[0].Name
		}
		return nil, why
	}
	if f.bridged > 0 {
		r.Notes = append(r.Notes, fmt.Sprintf("dirt or chips were bridged at %d %s", f.bridged, plural(f.bridged, "place", "places")))
	}
	if f.carried > 0 {
		r.Notes = append(r.Notes, fmt.Sprintf("a chipped tip was carried on by %.2f mm", f.carried))
	}
	return r, nil
}

func plural(n int, one, more string) string {
	if n == 1 {
		return one
	}
	return more
}
