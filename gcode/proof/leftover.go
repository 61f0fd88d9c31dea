package proof

import (
	"math"

	"github.com/paulmach/orb"
)

// tabAt is the distance in mm beyond the mill's radius from which on uncut wall
// is a tab and no fault of the cut.
const tabAt = 0.5

// A span is a piece of a loop whose points all lie nearer than level to the
// through-cuts, or all farther.
type span struct {
	curve  int32 // in solid.all
	t0, t1 float64
	s0, s1 float64 // mm along the loop
	near   bool
	ub     float64 // upper bound of the distance to the through-cuts
}

// A run is a stretch of wall whose spans are all far.
type run struct {
	s0, s1 float64 // mm along the loop; s1 may run past the loop's length
	whole  bool    // the loop has no end: all of it is far
}

// A trimmer compares the loops of a part with what is cut through.
type trimmer struct {
	s       *solid
	scan    scan
	through *field
	moves   []int32 // of through's curves
	radius  float64
	out     []span
}

// classify appends the spans of the piece t0..t1 of curve k in order.
func (r *trimmer) classify(c *curve, k int32, t0, t1, level float64, cands []int32) {
	if len(cands) == 0 {
		r.out = append(r.out, span{curve: k, t0: t0, t1: t1, ub: math.Inf(1)})
		return
	}
	b := r.scan.bound(c, cands)
	if b.ub <= level {
		r.out = append(r.out, span{curve: k, t0: t0, t1: t1, near: true, ub: b.ub})
		return
	}
	if b.a > level && b.b > level && r.apart(c, level, cands) ||
		b.ub-max(b.a, b.b) < Certain/4 && b.l < Certain || b.l < Certain/10 || r.scan.left <= 0 {
		r.out = append(r.out, span{curve: k, t0: t0, t1: t1, ub: b.ub})
		return
	}
	r.scan.left--
	t := parting(c, &r.scan.c[b.k])
	one, two := c.between(0, t), c.between(t, 1)
	m := t0 + t*(t1-t0)
	mark := len(r.scan.arena)
	r.classify(&one, k, t0, m, level, r.scan.narrow(&one, cands, b.ub))
	r.scan.arena = r.scan.arena[:mark]
	r.classify(&two, k, m, t1, level, r.scan.narrow(&two, cands, b.ub))
	r.scan.arena = r.scan.arena[:mark]
}

// apart tells whether all of c is farther than level from the through-cuts.
func (r *trimmer) apart(c *curve, level float64, cands []int32) bool {
	r2 := level * level
	for _, i := range cands {
		f := &r.scan.c[i]
		if apart2(&c.box, &f.box) <= r2 && nearest(c, f) <= level {
			return false
		}
	}
	return true
}

// spans are the pieces of a loop from its start round to its start, with the
// loop's length.
func (r *trimmer) spans(i int, level float64) ([]span, float64) {
	l := &r.s.loops[i]
	r.out = r.out[:0]
	at := 0.0
	for k := l.from; k < l.to; k++ {
		c := &r.s.all[k]
		from := len(r.out)
		mark := len(r.scan.arena)
		r.classify(c, int32(k), 0, 1, level, r.scan.candidates(r.through, c))
		r.scan.arena = r.scan.arena[:mark]
		n := c.l
		for j := from; j < len(r.out); j++ {
			r.out[j].s0, r.out[j].s1 = at+r.out[j].t0*n, at+r.out[j].t1*n
		}
		at += n
	}
	return r.out, at
}

// runs joins far spans that follow each other, also over the loop's start.
func runs(spans []span, length float64) []run {
	var out []run
	for _, s := range spans {
		if s.near {
			continue
		}
		if n := len(out) - 1; n >= 0 && out[n].s1 == s.s0 {
			out[n].s1 = s.s1
			continue
		}
		out = append(out, run{s0: s.s0, s1: s.s1})
	}
	n := len(out) - 1
	switch {
	case n == 0 && out[0].s0 == 0 && out[0].s1 == length:
		out[0].whole = true
	case n > 0 && out[0].s0 == 0 && out[n].s1 == length:
		out[n].s1 += out[0].s1
		out = out[1:]
	}
	return out
}

// widen moves the ends of a tab, found where the wall is tabAt beyond the mill's
// reach, out to where the wall is nearest to the end of the through-cut beside
// it: on the way there it only tapers off. Wall beyond is no longer the tab,
// however ill it is cut.
func (r *trimmer) widen(i int, u *run, length float64) {
	u.s0 -= r.taper(i, u.s0, -1, length)
	u.s1 += r.taper(i, u.s1, 1, length)
}

// taper is the way from the place s along the loop, in the sense of dir, to the
// point nearest to the end of the through-cut that is nearest at s; not more than
// the mill's diameter and 1 mm.
func (r *trimmer) taper(loop int, s float64, dir, length float64) float64 {
	q := r.s.point(loop, s, length)
	d, k := r.through.distance(q)
	if k < 0 {
		return 0
	}
	f := &r.through.c[k]
	end := f.A
	if gap(q, f.B) < gap(q, f.A) {
		end = f.B
	}
	if gap(q, end) > d+2*Certain {
		return 0 // beside the cut, not past its end
	}
	// The distance to the end falls, then rises: step out, then halve.
	lo, hi := 0.0, 0.0
	at := func(x float64) float64 { return gap(end, r.s.point(loop, s+dir*x, length)) }
	most := 2*r.radius + 1
	step := most / 128
	last := d
	for hi < most {
		hi += step
		v := at(hi)
		if v >= last {
			break
		}
		lo, last = max(0, hi-step), v
	}
	for range 60 {
		a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
		if at(a) < at(b) {
			hi = b
		} else {
			lo = a
		}
	}
	return (lo + hi) / 2
}

// point of a loop at s mm along it, taken modulo its length.
func (s *solid) point(i int, at, length float64) orb.Point {
	at = math.Mod(at, length)
	if at < 0 {
		at += length
	}
	l := &s.loops[i]
	for k := l.from; k < l.to; k++ {
		n := s.all[k].l
		if at <= n && n > 0 {
			return s.all[k].At(at / n)
		}
		at -= n
	}
	return s.all[l.to-1].B
}

// rest raises w to the greatest distance of what is near, outside the tabs.
func (r *trimmer) rest(spans []span, tabs []run, length float64, w *peak) {
	for _, s := range spans {
		if s.near && s.ub > w.d+Certain/2 {
			r.clip(s, s.s0, s.s1, tabs, length, w)
		}
	}
}

// clip takes the tabs out of the piece s0..s1 of a span and measures what stays.
func (r *trimmer) clip(s span, s0, s1 float64, tabs []run, length float64, w *peak) {
	for i, u := range tabs {
		for _, shift := range [3]float64{-length, 0, length} {
			a, b := u.s0+shift, u.s1+shift
			if b <= s0 || a >= s1 {
				continue
			}
			if a > s0 {
				r.clip(s, s0, a, tabs[i+1:], length, w)
			}
			if b < s1 {
				r.clip(s, b, s1, tabs[i:], length, w)
			}
			return
		}
	}
	n := (s.s1 - s.s0) / (s.t1 - s.t0)
	c := r.s.all[s.curve].between(s.t0+(s0-s.s0)/n, s.t0+(s1-s.s0)/n)
	r.scan.over(r.through, &c, w)
}
