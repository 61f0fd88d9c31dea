package posts

import (
	"math"

	"blockwright/gcode"
	"blockwright/gcode/proof"
)

// holdToPlan narrows the rules to the feeds and speeds that the plan has, so that
// a word lost on the way to the file shows: the fastest and slowest feed along the
// sheet, the fastest way down, the spindle's speeds. Rules stay within the
// machine's own.
func holdToPlan(r *proof.Rules, ms []gcode.Move) {
	most, least, down := 0.0, math.Inf(1), 0.0
	rpm := [2]float64{math.Inf(1), 0}
	for i := range ms {
		m := &ms[i]
		if !m.Cuts() {
			continue
		}
		if m.RPM > 0 {
			rpm[0], rpm[1] = min(rpm[0], m.RPM), max(rpm[1], m.RPM)
		}
		length := m.Length()
		if length == 0 {
			continue
		}
		slope := (m.From[2] - m.To[2]) / length
		most, down = max(most, m.Feed), max(down, m.Feed*slope)
		if math.Abs(slope) < 0.5 {
			least = min(least, m.Feed)
		}
	}
	if most > 0 {
		r.Feed = narrower(r.Feed, most)
	}
	if down > 0 {
		r.Descend = down
	}
	if !math.IsInf(least, 1) {
		r.FeedLow = least
	}
	if rpm[1] > 0 {
		r.RPMLow, r.RPMHigh = max(r.RPMLow, rpm[0]), narrower(r.RPMHigh, rpm[1])
	}
}

// narrower is the lower of two upper limits, of which have 0 is none.
func narrower(have, want float64) float64 {
	if have > 0 {
		return min(have, want)
	}
	return want
}
