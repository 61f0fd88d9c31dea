package trace

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"blockwright/geom"
)

// This file answers which lines and arcs make the profile.

// A profile is the lines and arcs fitted to one or more cuts.
type profile struct {
	cuts    []*cut
	pieces  []*piece
	thick   float64 // mm, of the cuts the greatest
	path    geom.Path
	pitch   float64 // mm, of a pixel
	blur    float64 // mm
	noise   float64 // mm, of one point
	tau     float64 // points that go together
	wave    float64 // mm, by which the outline departs from lines a millimetre long
	bridged int     // places where something was left out
	carried float64 // mm by which a chipped tip was carried on
}

// smallest is the length in mm under which what stands out of a straight line, or is
// missing from it, is dirt or a chip and no part of the profile. Derived here: a
// router cutter has no such teeth.
const smallest = 0.8

// fitProfile fits the profile to the first cut, then to all of them together.
func fitProfile(cuts []*cut) (*profile, *Refusal) {
	f, why := fitCuts(cuts)
	if why != nil && why.Reason == Undercut && !slices.ContainsFunc(cuts, func(c *cut) bool { return c.undercut(smallest / 3) }) {
		// Only the pieces fall: blur or dirt at a corner, not the cut.
		why.Reason, why.Want = Unclear, "a sharper, cleaner scan: brush the cut, wipe the glass, scan at 1200 pixels an inch"
		why.Have = strings.Replace(why.Have, "the outline is undercut", "blur or dirt hides how the outline runs", 1)
	}
	return f, why
}

func fitCuts(cuts []*cut) (*profile, *Refusal) {
	c := cuts[0]
	f := &profile{cuts: cuts, pitch: c.b.r.pitch(), blur: c.b.blur}
	for _, k := range cuts {
		f.thick = math.Max(f.thick, k.thick)
	}
	if why := f.first(c); why != nil {
		return nil, why
	}
	if err := f.assemble(c.thick); err != nil {
		return nil, err
	}
	if len(cuts) > 1 {
		if why := f.register(); why != nil {
			return nil, why
		}
	}
	for range 2 {
		f.refine()
		f.merge()
		f.clear()
		f.sharpen()
		f.unbend()
		if err := f.assemble(f.thick); err != nil {
			return nil, err
		}
	}
	f.refine()
	if why := f.assemble(f.thick); why != nil {
		return nil, why
	}
	if why := f.confirm(); why != nil {
		return nil, why
	}
	return f, nil
}

// confirm holds the profile against the outline as it was first found: where that
// departs over more than dirt or a chip is long, the profile is not stated at all.
func (f *profile) confirm() *Refusal {
	x := geom.NewIndex(f.path)
	limit := math.Max(0.06, math.Max(3*f.pitch, 6*f.noise))
	for _, c := range f.cuts {
		q := c.between(math.Max(0.1, 3*f.blur))
		run := 0.0
		for i := 1; i < len(q); i++ {
			if x.Nearest(q[i]).Dist < limit {
				run = 0
				continue
			}
			// near a face a chip may be larger
			most := smallest
			if z := q[i][1]; z < chipped || z > c.thick-chipped {
				most = 2 * chipped
			}
			if run += dist(q[i-1], q[i]); run > most {
				return refuse(Unclear, "a cut clean of dirt, hair and splinters there: brush it, wipe the glass and scan again, or scan another piece",
					"no profile of lines and arcs fits the cut near x %.2f mm, z %.2f mm", q[i][0], q[i][1])
			}
		}
	}
	return nil
}

func (f *profile) String() string {
	return fmt.Sprintf("%d pieces, noise %.4f, tau %.1f", len(f.pieces), f.noise, f.tau)
}
