package shelf

import (
	"math"
	"slices"

	"blockwright/jig/adjust"
	"blockwright/jig/joint"
)

// Offer is the correction that the fixture's history asks for: what the fixture was
// made with where nothing was measured. The newest flip test says the height, the
// newest tip the fence, each on top of the correction that the fixture had when it
// was measured. The height that the flip test found also says how far off the cutter
// stood when the tip was cut: a tip tells of both. Readings of another profile of the
// cutter do not count. s is the computed setting; the error is an [*adjust.Refusal].
func (r *Record) Offer(s *joint.Setting) (Correction, error) {
	c := r.Inputs.Applied
	flip, tip := r.newest(func(x Reading) bool { return x.Proud != "" }), r.newest(func(x Reading) bool { return x.Tips })
	if flip != nil {
		m, err := flip.height(s)
		if err != nil {
			return c, err
		}
		c.Height = rounded(flip.At.Height + m.Height)
	}
	if tip != nil {
		var off float64
		if flip != nil {
			off = tip.At.Height - c.Height
		}
		m, err := adjust.FromTipAtHeight(s, tip.tip(), off)
		if err != nil {
			return c, err
		}
		c.Fence = rounded(tip.At.Fence - m.Fence)
	}
	return c, nil
}

// Check tells what is wrong with a reading: an [*adjust.Refusal] where it cannot be,
// or does not tell anything of the joint.
func (x Reading) Check(s *joint.Setting) error {
	var m adjust.Move
	var err error
	if x.Proud != "" {
		m, err = x.height(s)
	}
	if err == nil && x.Tips {
		_, err = adjust.FromTipAtHeight(s, x.tip(), -m.Height)
	}
	return err
}

// height is the move that the flip test asks for.
func (x Reading) height(s *joint.Setting) (adjust.Move, error) {
	if len(s.Passes) > 1 && s.Passes[1].Lies == joint.Flat {
		return adjust.FromEdge(s, x.flip())
	}
	return adjust.FromFlip(s, x.flip())
}

func (x Reading) tip() adjust.Tip {
	return adjust.Tip{Short: math.Max(x.Tip, 0), Land: math.Max(-x.Tip, 0)}
}

func (x Reading) flip() adjust.Flip {
	return adjust.Flip{Step: x.Flip, Proud: adjust.Proud(x.Proud), Bottom: math.NaN()}
}

// newest is the newest reading of the profile that the fixture was made for and of
// which is holds.
func (r *Record) newest(is func(Reading) bool) *Reading {
	for _, x := range slices.Backward(r.History) {
		if is(x) && (len(r.Cutters) == 0 || x.Cutter == r.Cutters[0].Hash) {
			return &x
		}
	}
	return nil
}

// rounded is a correction in whole 0.0001 mm: calipers show less.
func rounded(mm float64) float64 { return math.Round(mm*1e4)/1e4 + 0 }
