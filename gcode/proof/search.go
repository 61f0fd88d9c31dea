package proof

import (
	"math"

	"github.com/paulmach/orb"
)

// Certain is the accuracy in mm to which gouge and leftover are certified: no
// point of any move, or of the wall, is worse than the figure by more.
const Certain = 1e-6

// A scan looks for the point of a curve that lies farthest from a set of curves,
// by branch and bound: a piece is dropped once its bound cannot beat the best
// point seen by more than half of Certain, and is parted otherwise where the
// feet change from one feature to the next, so that both halves have their bound
// exactly.
type scan struct {
	c     []curve
	arena []int32 // candidates of the pieces in hand, a stack
	left  int     // pieces that may still be parted
}

// budget is how often one proof may part pieces. Sound programs need a few
// thousand. When it is spent, bounds stand in for figures: never too small.
const budget = 2_000_000

// A peak is the best point so far.
type peak struct {
	d    float64
	at   orb.Point
	stop float64 // enough is known once d exceeds this
}

func (w *peak) see(d float64, q orb.Point) {
	if d > w.d {
		w.d, w.at = d, q
	}
}

func (w *peak) done() bool { return w.d > w.stop }

// among raises w to the greatest distance from p to the curves named in cands.
func (s *scan) among(p *curve, cands []int32, w *peak) {
	if len(cands) == 0 {
		w.see(math.Inf(1), p.A)
		return
	}
	s.part(p, cands, w)
}

func (s *scan) part(p *curve, cands []int32, w *peak) {
	b := s.bound(p, cands)
	w.see(b.a, p.A)
	w.see(b.b, p.B)
	if b.ub <= w.d+Certain/2 || w.done() {
		return
	}
	if s.left <= 0 {
		w.see(b.ub, p.A)
		return
	}
	s.left--
	t := parting(p, &s.c[b.k])
	one, two := p.between(0, t), p.between(t, 1)
	mark := len(s.arena)
	s.part(&one, s.narrow(&one, cands, b.ub), w)
	s.arena = s.arena[:mark]
	s.part(&two, s.narrow(&two, cands, b.ub), w)
	s.arena = s.arena[:mark]
}

// bounds are what is known of a piece: the distances of its ends, an upper bound
// over all its points, and the curve that gives it.
type bounds struct {
	a, b, ub, l float64
	k           int32
}

func (s *scan) bound(p *curve, cands []int32) bounds {
	o := bounds{a: math.Inf(1), b: math.Inf(1), ub: math.Inf(1), l: p.l, k: cands[0]}
	for _, i := range cands {
		f := &s.c[i]
		a, b := f.dist(p.A), f.dist(p.B)
		o.a, o.b = min(o.a, a), min(o.b, b)
		if max(a, b) >= o.ub {
			continue // its bound is no better
		}
		if x := farthest(p, f, a, b, o.l); x < o.ub {
			o.ub, o.k = x, i
		}
	}
	o.ub = min(o.ub, (o.a+o.b+o.l)/2)
	return o
}

// narrow leaves the candidates within d of the piece; the rest are nowhere its
// nearest.
func (s *scan) narrow(p *curve, cands []int32, d float64) []int32 {
	from := len(s.arena)
	d2 := d * d * (1 + 1e-12)
	for _, i := range cands {
		if apart2(&p.box, &s.c[i].box) <= d2 {
			s.arena = append(s.arena, i)
		}
	}
	if len(s.arena) == from { // rounding at the rim
		s.arena = append(s.arena, cands...)
	}
	return s.arena[from:len(s.arena):len(s.arena)]
}

// candidates appends to the arena every curve of f that can be nearest to a
// point of p.
func (s *scan) candidates(f *field, p *curve) []int32 {
	a, k := f.distance(p.A)
	if k < 0 {
		return nil
	}
	b := f.c[k].dist(p.B)
	ub := farthest(p, &f.c[k], a, b, p.l)
	from := len(s.arena)
	// What digits may lose of a bound near zero must not lose the nearest curve.
	s.arena = f.reach(s.arena, p.box, ub+Certain/8)
	return s.arena[from:len(s.arena):len(s.arena)]
}

// over raises w to the greatest distance from p to the field.
func (s *scan) over(f *field, p *curve, w *peak) {
	mark := len(s.arena)
	s.among(p, s.candidates(f, p), w)
	s.arena = s.arena[:mark]
}

// beyond tells whether some point of p is farther than d from the curves. When
// in doubt it says yes.
func (s *scan) beyond(p *curve, cands []int32, d float64) bool {
	if len(cands) == 0 {
		return true
	}
	w := peak{d: d - Certain/2, stop: d}
	s.part(p, cands, &w)
	return w.d > d
}
