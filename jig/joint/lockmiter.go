package joint

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// The lock miter: one setting, the first board flat, the second upright, the
// boards at a right angle. The profile's centre stands on the centre line of the
// stock, both ways: H = T/2 - hc, D = rc - T/2, and X(z) + X(T - z) = T. A land l
// on both tips is set as for T - l. Of two unequal boards the thicker decides; the
// thinner one's outside face then stands back, but nothing gapes.

func (r Request) other() float64 {
	if r.Other > 0 {
		return r.Other
	}
	return r.Stock
}

func miterWindow(r Request) float64 { return math.Max(r.Stock, r.other()) - r.Land }

func miterSpan(r Request, p geom.Path) span { return fixedSpan(miterWindow(r), p) }

// fixedSpan is that of a cut line of the given height, wherever it lies.
func fixedSpan(window float64, p geom.Path) span {
	lo, hi := heights(p)
	s := span{half: func(float64) float64 { return window / 2 }, from: lo + window/2, to: hi - window/2}
	if s.from > s.to { // the whole edge, but for rounding
		s.from, s.to = (lo+hi)/2, (lo+hi)/2
	}
	return s
}

func miterCentred(r Request, _ geom.Path, c orb.Point) (height, fence float64) {
	half := miterWindow(r) / 2
	return half - c[1], c[0] - half
}

func miterFlush(s *Setting) orb.Point {
	l := s.Request.Land
	return orb.Point{s.Passes[1].Stock - l, s.Passes[0].Stock - l}
}

// spread is how many standard deviations a measured point may stray and still be
// on its flank: of ten thousand points none strays farther by both coordinates.
const spread = 6

func miterLimits(s *Setting) {
	r, c := s.Request, s.Request.Cutter
	s.Range, s.Usable = limits(c.Profile.Merge(), c.Body, s.Centre, s.Residual+spread*s.noise, r.Web)
	for _, lim := range []*[2]float64{&s.Range, &s.Usable} {
		lim[0], lim[1] = lim[0]+r.Land, lim[1]+r.Land
	}
}

func lockMiter(s *Setting) error {
	r, c := s.Request, s.Request.Cutter
	if miterWindow(r) <= 0 {
		return &BadRequest{"land", lengthy("%s", r.Land), lengthy("less than the stock, %s", math.Max(r.Stock, r.other()))}
	}
	for _, t := range []float64{r.Stock, r.other()} {
		if t < s.Range[0]-geom.Tol || t > s.Range[1]+geom.Tol {
			return &OutOfRange{Cutter: c.Handle, Joint: s.Joint, Stock: t, Range: s.Range, Usable: s.Usable}
		}
	}
	h, d := miterCentred(r, c.Profile, s.Centre)
	s.Passes = []Pass{
		newPass("flat", Flat, c, r.Stock, h, d),
		newPass("upright", Upright, c, r.other(), h, d),
	}
	s.warnOfRange()
	if r.other() != r.Stock {
		s.warn("boards of %s and %s: set for the thicker; the thinner one's outside face stands %s back",
			r.Stock, r.other(), math.Abs(r.other()-r.Stock))
	}
	return nil
}
