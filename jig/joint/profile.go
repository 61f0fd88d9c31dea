package joint

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// The plain edge: round-over, chamfer, cove, rebate. One pass, the board flat, and
// no second board; a point of the profile lands where it is asked to, H = z - h and
// D = r - x. What stands for the second board is the edge as it is wanted.

// A Landing is where a point of a profile is wanted.
type Landing struct {
	Profile orb.Point // (r, h), cutter's frame
	Table   orb.Point // (x, z), table's frame
}

func (l *Landing) check() error {
	for _, v := range []float64{l.Profile[0], l.Profile[1], l.Table[0], l.Table[1]} {
		if !(math.Abs(v) <= longest) {
			return &BadRequest{"at", lengthy("%s", v), lengthy("lengths within %s", longest)}
		}
	}
	return nil
}

func inPlace(orb.Point) geom.Iso { return geom.Shift(0, 0) }

func atOrigin(*Setting) orb.Point { return orb.Point{} }

func edgeFit(s *Setting) error { return nil }

// edgeLimits: a cut can be made on any stock. The whole profile shows on a board
// that reaches above it.
func edgeLimits(s *Setting) {
	s.Range = [2]float64{0, longest}
	s.Usable = s.Range
	if at := s.Request.At; at != nil {
		p := s.Request.Cutter.Profile.Merge().Move(geom.Shift(at.Table[0]-at.Profile[0], at.Table[1]-at.Profile[1]))
		if q, ok := highest(p, 0); ok && q[1] > 0 {
			s.Usable[0] = math.Min(q[1], longest)
		}
	}
}

func edgeProfile(s *Setting) error {
	r, c := s.Request, s.Request.Cutter
	at := r.At
	if at == nil {
		return &BadRequest{"at", plainly("none"), plainly("the point of the profile and where it lands, r,h=x,z: height and fence follow from it")}
	}
	for _, l := range []struct {
		key  string
		v    float64
		want string
	}{
		{"other", r.Other, "none: this pass takes one board"}, {"land", r.Land, "none: this joint has no tips"},
	} {
		if l.v > 0 {
			return &BadRequest{l.key, lengthy("%s", l.v), plainly(l.want)}
		}
	}
	p := newPass("flat", Flat, c, r.Stock, at.Table[1]-at.Profile[1], at.Profile[0]-at.Table[0])
	most := math.Inf(-1)
	for _, v := range extremes(p.CutLine) {
		most = math.Max(most, v.Point[0])
	}
	if !(most > geom.Tol) {
		return &BadRequest{"at", lengthy("(%s, %s)", at.Table[0], at.Table[1]), plainly("a landing at which the cutter meets the board")}
	}
	s.Passes = []Pass{p}
	if n := c.Profile.Nearest(at.Profile); n.Dist > closeFit {
		s.warn("the point (%s, %s) lies %s off the profile; the nearest point on it is (%s, %s)",
			at.Profile[0], at.Profile[1], n.Dist, n.At[0], n.At[1])
	}
	if t := r.Stock; t < s.Usable[0]-geom.Tol {
		s.warn("stock %s: the profile reaches %s above the table, so its upper part misses the board", t, s.Usable[0])
	}
	if lo, _ := heights(p.Profile()); lo > geom.Tol {
		s.warn("the cutting edge begins %s above the table: what is below it stays, and meets the cutter's shank", lo)
	}
	return nil
}

// edgeGap holds the board as it was cut against the edge as it is wanted: a gap is
// wood taken too much, interference wood left too much.
func (s *Setting) edgeGap(w *Setting) Gap {
	have, want := w.Passes[0], s.Passes[0]
	want = newPass(want.Name, want.Lies, want.Cutter, have.Stock, want.Height, want.Fence)
	a, b := have.end(), want.end()
	by := have.Stock + longest
	return gapOf(a, prolong(a, by), b, prolong(b, by))
}
