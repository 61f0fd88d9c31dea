package joint

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// The matched set: tongue and groove, cope and stick. Two cutters, both boards
// flat with the same face down, the second laid against the first by a mirror.
// The key's centre line of the first cutter stands on the centre line of the
// stock, or a point of its profile where it was asked to land; the second follows
// from the first, H_B = H_A - rise. The fence of each is set from its own depth:
// the least depth of cut over the thickness is the skim. A groove that is deeper
// than the tongue is right: that is the set's clearance.
//
// The second cutter is set to match the first, so an error of the setting is one
// of the second pass.

// mirrored lays a board against another with the same face down.
func mirrored(to orb.Point) geom.Iso {
	return geom.MirrorX(to[0] / 2).Then(geom.Shift(0, to[1]))
}

// cutsMeet is where the second frame's origin goes with the cuts in each other.
func cutsMeet(s *Setting) orb.Point {
	a, b := s.Passes[0], s.Passes[1]
	return orb.Point{s.mate.sum - a.Fence - b.Fence, a.Height - s.mate.rise - b.Height}
}

// facesLevel is the same with both boards' lower faces in one plane.
func facesLevel(s *Setting) orb.Point { return orb.Point{cutsMeet(s)[0], 0} }

// matchedFit finds the key and how the two profiles go together.
func matchedFit(s *Setting) error {
	a, b := s.Request.Cutter.Profile.Merge(), s.Request.With.Profile.Merge()
	k, ok := keyOf(a)
	j, too := keyOf(b)
	if !ok || !too {
		c := s.Request.Cutter.Handle
		if ok {
			c = s.Request.With.Handle
		}
		return &NoMate{s.Request.Cutter.Handle, s.Request.With.Handle, plainly("the profile of " + c + " leaves neither tongue nor groove")}
	}
	if k.tongue == j.tongue {
		leave := map[bool]string{true: "a tongue", false: "a groove"}[k.tongue]
		return &NoMate{s.Request.Cutter.Handle, s.Request.With.Handle, plainly("both leave " + leave)}
	}
	s.key = k
	s.Centre = orb.Point{(2*k.tip + map[bool]float64{true: 1, false: -1}[k.tongue]*k.depth) / 2, k.mid}
	// For the range the second cutter's key stands level with the first one's.
	s.mate.rise = j.mid - k.mid
	return nil
}

// window is the stretch of the first profile that meets the stock.
func (s *Setting) window() (w [2]float64, height float64) {
	height = s.thickest()/2 - s.Centre[1]
	if at := s.Request.At; at != nil {
		height = at.Table[1] - at.Profile[1]
	}
	return [2]float64{-height, s.thickest() - height}, height
}

func (s *Setting) thickest() float64 { return math.Max(s.Request.Stock, s.Request.other()) }

// matchedLimits: both edges cover the stock, which holds the key; better with a
// web on each side of it.
func matchedLimits(s *Setting) {
	lo, hi := heights(s.Request.Cutter.Profile)
	from, to := heights(s.Request.With.Profile)
	lo, hi = math.Max(lo, from-s.mate.rise), math.Min(hi, to-s.mate.rise)
	k := s.key
	if at := s.Request.At; at != nil {
		h := at.Table[1] - at.Profile[1]
		s.Range = [2]float64{k.base[1] + h, hi + h}
		s.Usable = [2]float64{math.Min(s.Range[0]+s.Request.Web, s.Range[1]), s.Range[1]}
		if k.base[0]+h < -geom.Tol || lo+h > geom.Tol {
			s.Range = [2]float64{s.Range[1], 0} // the lower face is not in the edge's reach
			s.Usable = s.Range
		}
		return
	}
	half := math.Max(k.base[1]-k.mid, k.mid-k.base[0])
	s.Range = [2]float64{2 * half, 2 * math.Min(k.mid-lo, hi-k.mid)}
	s.Usable = [2]float64{math.Min(s.Range[0]+2*s.Request.Web, s.Range[1]), s.Range[1]}
}

func matched(s *Setting) error {
	r := s.Request
	if r.Land > 0 {
		return &BadRequest{"land", lengthy("%s", r.Land), plainly("none: this joint has no tips")}
	}
	if r.At != nil && r.Skim > 0 {
		return &BadRequest{"skim", lengthy("%s", r.Skim), plainly("none beside a landing: the fence follows from it")}
	}
	for _, t := range []float64{r.Stock, r.other()} {
		if t < s.Range[0]-geom.Tol || t > s.Range[1]+geom.Tol {
			return &OutOfRange{Cutter: r.Cutter.Handle, Joint: s.Joint, Stock: t, Range: s.Range, Usable: s.Usable}
		}
	}
	a, b := r.Cutter.Profile.Merge(), r.With.Profile.Merge()
	w, height := s.window()
	m, ok := mateOf(a, b, w)
	if !ok {
		return &NoMate{r.Cutter.Handle, r.With.Handle, lengthy("the second cutter's edge does not cover stock of %s", s.thickest())}
	}
	s.mate = m
	depth := leastRadius(a.Between(w[0], w[1])) - r.Skim
	if r.At != nil {
		depth = r.At.Profile[0] - r.At.Table[0]
	}
	s.Passes = []Pass{
		newPass("flat", Flat, r.Cutter, r.Stock, height, depth),
		newPass("second", Flat, r.With, r.other(), height-m.rise, leastRadius(b.Between(w[0]+m.rise, w[1]+m.rise))-r.Skim),
	}
	g := s.gap(s.Nested())
	s.Residual = g.Normal
	if g.Normal > s.key.depth/2 {
		return &NoMate{r.Cutter.Handle, r.With.Handle, lengthy("tongue and groove do not enter each other: %s stay open", g.Normal)}
	}
	open := math.Inf(1) // at the nearer of the two faces
	first, second := s.Passes[0], s.Passes[1]
	to := cutsMeet(s)[0]
	for _, z := range [2]float64{0, math.Min(first.Stock, second.Stock)} {
		open = math.Min(open, first.X(z)+second.X(z)-to)
	}
	if open > closeFit {
		s.warn("the tongue bears on the bottom of the groove: the faces stay open by %s", open)
	}
	s.warnOfThin("key")
	if r.other() != r.Stock {
		s.warn("boards of %s and %s: the lower faces are level, the upper ones %s apart", r.Stock, r.other(), math.Abs(r.other()-r.Stock))
	}
	return nil
}

// A Groove is what the first cutter of a matched set leaves when the second leaves
// the tongue: how deep it goes from the board's own edge, and between which heights
// above the table its bottom lies.
type Groove struct{ Deep, From, To float64 }

// Groove is the groove of the first board; false where it has the tongue, or where
// the joint is no matched set.
func (s *Setting) Groove() (Groove, bool) {
	if s.kind == nil || !s.kind.mates || s.key.tongue || len(s.Passes) == 0 {
		return Groove{}, false
	}
	p := s.Passes[0]
	g := Groove{s.key.tip - p.Fence, s.key.base[0] + p.Height, s.key.base[1] + p.Height}
	if l := p.widestLand(); l != nil && math.Abs(l.Out-g.Deep) < seam {
		g.From, g.To = l.From, l.To
	}
	return g, true
}

// warnOfThin warns of stock that is thinner than better.
func (s *Setting) warnOfThin(what string) {
	if t := math.Min(s.Request.Stock, s.Request.other()); t < s.Usable[0]-geom.Tol {
		s.warn("stock %s is thin for this cutter: less than %s of wood stays beside the "+what+"; better %s or more",
			t, s.Request.Web, s.Usable[0])
	}
}
