package joint

import (
	"github.com/paulmach/orb"

	"blockwright/geom"
)

// The drawer lock: one height, two fences, the front flat, the side upright, the
// front overlapping the side's outside face by the overlay o. The side is cut by
// the tooth only, so its fence stands at the plain land below the tooth:
// D_s = r_plain, and D_f = r_tooth - T_s - o, with r_plain + r_tooth = 2·rc. The
// height is not free: the side's end must meet the cutter's top,
// H = h_top - 2·hc, and the lip that stays on the front is T_f - (H + h_top).

// drawerDepth is the height above the table that the cutter reaches, with the
// profile's centre at c: 2(h_top - hc).
func drawerDepth(p geom.Path, c orb.Point) float64 {
	_, hi := heights(p)
	return 2 * (hi - c[1])
}

func drawerSpan(_ Request, p geom.Path) span {
	lo, hi := heights(p)
	return span{
		half: func(h float64) float64 { return hi - h },
		from: (lo + hi) / 2,
		to:   hi - 0.01*(hi-lo),
	}
}

func drawerCentred(r Request, p geom.Path, c orb.Point) (height, fence float64) {
	_, hi := heights(p)
	return hi - 2*c[1], toothRadius(p, c) - r.other() - r.Overlay
}

// toothRadius is the greatest radius above the centre's counterpart of the table.
func toothRadius(p geom.Path, c orb.Point) float64 {
	_, hi := heights(p)
	at, _ := p.MostX(2*c[1]-hi, hi)
	return at[0]
}

// drawerFlush holds the side's outside face back by the overlay, its end against
// the lip as it is meant to be.
func drawerFlush(s *Setting) orb.Point {
	p := s.Request.Cutter.Profile.Merge()
	return orb.Point{s.Passes[1].Stock + s.Request.Overlay, drawerDepth(p, s.Centre)}
}

// drawerLimits are those of the front: the lip that stays on it is not negative,
// better at least a web. Upward nothing limits it.
func drawerLimits(s *Setting) {
	depth := drawerDepth(s.Request.Cutter.Profile, s.Centre)
	s.Range = [2]float64{depth, longest}
	s.Usable = [2]float64{depth + s.Request.Web, longest}
}

func drawerLock(s *Setting) error {
	r, c := s.Request, s.Request.Cutter
	if r.Land > 0 {
		return &BadRequest{"land", lengthy("%s", r.Land), plainly("none: this joint has no tips")}
	}
	p := c.Profile.Merge()
	lo, hi := heights(p)
	depth := drawerDepth(p, s.Centre)
	tooth := toothRadius(p, s.Centre)
	plain := 2*s.Centre[0] - tooth
	if 2*s.Centre[1]-hi < lo-geom.Tol || tooth-plain < geom.Tol {
		return &BadRequest{"cutter", plainly("no plain land below a tooth of the same height"), plainly("a drawer-lock profile: a plain land, then the tooth at the top")}
	}
	refuse := func(stock float64, limits, better [2]float64) error {
		return &OutOfRange{Cutter: c.Handle, Joint: s.Joint, Stock: stock, Range: limits, Usable: better}
	}
	if r.Stock < s.Range[0]-geom.Tol {
		return refuse(r.Stock, s.Range, s.Usable)
	}
	if r.other() < tooth-plain-geom.Tol { // the groove would cut the side through
		return refuse(r.other(), [2]float64{tooth - plain, longest}, [2]float64{tooth - plain + r.Web, longest})
	}
	h, d := drawerCentred(r, p, s.Centre)
	s.Passes = []Pass{
		newPass("flat", Flat, c, r.Stock, h, d),
		newPass("upright", Upright, c, r.other(), h, plain),
	}
	if r.Stock < s.Usable[0]-geom.Tol {
		s.warn("front %s: the lip is only %s; better %s or more", r.Stock, r.Stock-depth, s.Usable[0])
	}
	if t := r.other(); t < tooth-plain+r.Web-geom.Tol {
		s.warn("side %s: only %s of wood stays behind the groove; better %s or more", t, t-(tooth-plain), tooth-plain+r.Web)
	}
	return nil
}
