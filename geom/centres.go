package geom

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// mostly is the share of a path's length that has to match where a few places of it
// may be wrong.
const mostly = 0.9

// Centres are the places about which a half turn carries nine tenths of a rising path's
// length onto it to within tol, as far as it shares heights with itself, from the one
// nearest the middle of its height on: that shares the most. Teeth of one pitch have
// several. Of places nearer to one another than apart only the one is given that the
// path holds the most firmly. A place that shares less than twice the part least of the
// height is left out, and so is one where the half turn may slide, as in [Centre].
//
// Unlike Centre it fits nothing: a path of measured points has no centres.
func Centres(p Path, tol, apart, least float64) ([]orb.Point, error) {
	for i, v := range p.V {
		if !(math.Abs(v.X()) < 1e9 && math.Abs(v.Y()) < 1e9 && math.Abs(v.Bulge) <= 1) {
			return nil, fmt.Errorf("geom: vertex %d (%g, %g, bulge %g); want numbers below 1e9 mm and a bulge within 1", i, v.X(), v.Y(), v.Bulge)
		}
	}
	m := Path{V: p.V}.Merge()
	if m.Edges() == 0 || m.measured() {
		return nil, nil
	}
	t := newTurning(m)
	if !(t.hi-t.lo > Tol) {
		return nil, nil
	}
	type judged struct {
		c    orb.Point
		hold float64
	}
	var all []judged
	for _, c := range t.candidates() {
		if t.overlap(c) < least*(t.hi-t.lo) {
			continue
		}
		if h := t.hold(c, 48); h >= 1e-3*(t.hi-t.lo) {
			all = append(all, judged{c, h})
		}
	}
	slices.SortStableFunc(all, func(a, b judged) int { return cmp.Compare(b.hold, a.hold) })
	var out []orb.Point
	near := func(c orb.Point, q []orb.Point) bool {
		return slices.ContainsFunc(q, func(o orb.Point) bool { return math.Hypot(o[0]-c[0], o[1]-c[1]) < apart })
	}
	var tried []orb.Point
	for _, j := range all {
		if near(j.c, tried) {
			continue
		}
		tried = append(tried, j.c)
		if t.share(j.c, math.Max(4*tol, t.scale), 60) < mostly-0.3 {
			continue // refining takes long, and moves it but little
		}
		c := t.refine(j.c)
		if !near(c, out) && t.overlap(c) >= least*(t.hi-t.lo) && t.share(c, tol, 400) >= mostly {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(a, b orb.Point) int { return cmp.Compare(t.overlap(b), t.overlap(a)) })
	return out, nil
}

// share is the part of the length that lies within tol of the path turned, by about n
// points.
func (t *turning) share(c orb.Point, tol float64, n int) float64 {
	in, all := 0.0, 0.0
	for _, s := range t.samples(c, n) {
		all += s.length
		if _, d := t.nearest(orb.Point{2*c[0] - s.at[0], 2*c[1] - s.at[1]}); d <= tol+join {
			in += s.length
		}
	}
	if all == 0 {
		return 0
	}
	return in / all
}
