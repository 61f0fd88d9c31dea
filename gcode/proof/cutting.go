package proof

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/gcode"
)

// cutting checks the n-th stretch in the sheet: speed, feed, depth and place. What
// goes on from stretch to stretch is told once, until it changes.
func (h *holder) cutting(n int) {
	s := &h.cuts[n]
	i := int(s.move)
	m, p, r := &h.moves[i], h.part, &h.part.Rules
	rises := s.rapid && s.l == 0 && s.z1 > s.z0
	if h.news(gcode.SpindleOff, !s.live && !rises, m.RPM) {
		code := gcode.SpindleOff
		if m.RPM < 0 {
			code = gcode.SpindleBack
		}
		h.find(i, code, "in the sheet at %s, spindle at %.4g rpm; want it turning clockwise", spot(m.To), m.RPM)
	}
	if h.news(SpeedOff, s.live && (r.RPMLow > 0 && m.RPM < r.RPMLow-0.5 || r.RPMHigh > 0 && m.RPM > r.RPMHigh+0.5), m.RPM) {
		h.find(i, SpeedOff, "spindle at %.5g rpm in the sheet; want %.5g to %.5g", m.RPM, r.RPMLow, r.RPMHigh)
	}
	starts := h.stops[i].started
	if h.news(SpinUp, s.live && r.SpinUp > 0 && h.spun[i] < r.SpinUp-1e-6, float64(starts)) {
		h.find(i, SpinUp, "cuts %.3g s after the spindle starts; want a dwell of %.3g s", h.spun[i], r.SpinUp)
	}
	if h.news(NoPause, !h.stopped(i, false), float64(starts)) {
		h.find(i, NoPause, "cuts after %d pauses with the spindle at rest; want one before each of its %d starts by hand", h.stops[i].paused, starts)
	}
	if !s.rapid {
		h.feed(i, s, m)
	}
	low := s.low()
	if h.news(TooDeep, p.Thick > 0 && p.Kind == Milling && low < h.floor-depthSlack, low) {
		h.find(i, TooDeep, "Z %.4f is %.4g below the sheet; want at most %.4g", low, p.Top-p.Thick-low, r.Through)
	}
	if h.news(FluteShort, r.Flute > 0 && p.Top-low > r.Flute+depthSlack, low) {
		h.find(i, FluteShort, "Z %.4f is %.4g deep; the flutes are %.4g long", low, p.Top-low, r.Flute)
	}
	if !r.Own {
		h.place(i, s.box)
	}
}

// news tells whether a fault is there and was not on the stretch before, or not
// with this value.
func (h *holder) news(code string, there bool, value float64) bool {
	was, on := h.on[code]
	switch {
	case !there:
		if on {
			delete(h.on, code)
		}
		return false
	case on && was == value:
		return false
	}
	if h.on == nil {
		h.on = map[string]float64{}
	}
	h.on[code] = value
	return true
}

// place checks that the mill stays over the sheet on a way that lies in the box:
// clamps and fences stand beside it. A program of our own has to stay there wherever
// it is below the safe height, any other where it cuts.
func (h *holder) place(i int, way orb.Bound) {
	b, g := h.part.Sheet, h.mill/2
	if !(b.Max[0] > b.Min[0] && b.Max[1] > b.Min[1]) {
		return
	}
	if way = way.Pad(g); way.Min[0] < b.Min[0]-depthSlack || way.Max[0] > b.Max[0]+depthSlack ||
		way.Min[1] < b.Min[1]-depthSlack || way.Max[1] > b.Max[1]+depthSlack {
		h.find(i, OffSheet, "the mill goes from (%.4g, %.4g) to (%.4g, %.4g) below the safe height; the sheet ends at (%.4g, %.4g) and (%.4g, %.4g)",
			way.Min[0], way.Min[1], way.Max[0], way.Max[1], b.Min[0], b.Min[1], b.Max[0], b.Max[1])
	}
}

// feed checks how fast a stretch is cut.
func (h *holder) feed(i int, s *stretch, m *gcode.Move) {
	r := &h.part.Rules
	if h.news(gcode.NoFeed, !(m.Feed > 0) || bad(m.Feed), 0) {
		h.find(i, gcode.NoFeed, "feed %.4g; want mm/min above 0", m.Feed)
	}
	if h.news(FeedHigh, r.Feed > 0 && m.Feed > r.Feed*1.001+0.5, m.Feed) {
		h.find(i, FeedHigh, "feed %.4g in the sheet; want at most %.4g", m.Feed, r.Feed)
	}
	falls := m.Feed * s.slope()
	if h.news(FallFast, r.Descend > 0 && s.z1 < s.z0 && falls > r.Descend*1.001+0.5, falls) {
		h.find(i, FallFast, "goes down at %.4g mm/min; want at most %.4g", falls, r.Descend)
	}
	if h.news(FeedLow, r.FeedLow > 0 && m.Feed > 0 && m.Feed < r.FeedLow*0.999-0.5 && s.slope() < 0.5, m.Feed) {
		h.find(i, FeedLow, "feed %.4g in the sheet; want at least %.4g", m.Feed, r.FeedLow)
	}
}

// slope is the share of the way that goes down or up, 0 to 1.
func (s *stretch) slope() float64 {
	dz := math.Abs(s.z1 - s.z0)
	if dz == 0 {
		return 0
	}
	return dz / math.Hypot(dz, s.l)
}

// steep is the angle in radians at which the stretch goes down; negative upwards.
func (s *stretch) steep() float64 { return math.Atan2(s.z0-s.z1, s.l) }
