package route

import (
	"fmt"
	"math"
)

// Caps is what the machine allows; 0 is no limit.
type Caps struct {
	FeedXY, FeedZ           float64 // mm/min
	SpindleLow, SpindleHigh float64 // rpm
}

// Rates is how fast a mill is turned and moved.
type Rates struct {
	RPM     float64
	Feed    float64 // mm/min
	Plunge  float64 // mm/min: a third of the feed, or what the machine allows. Common practice, no source
	Chip    float64 // mm per tooth that this gives
	Limited string  // what held the figures down, or ""
}

// Feeds gives feed and plunge for a spindle speed, flutes, the table's chip load
// in mm per tooth and the share of it to use; factor 0 counts as 0.5, which
// suits small gantries (common practice, no source).
//
//	feed = rpm × teeth × chip load
//
// Source: SME, Useful formulas for machining.
func Feeds(rpm float64, flutes int, chipLoad, factor float64, caps Caps) (Rates, error) {
	if factor == 0 {
		factor = 0.5
	}
	switch {
	case !(rpm > 0 && rpm <= 1e6):
		return Rates{}, fmt.Errorf("route: spindle speed %g rpm; want more than 0", rpm)
	case flutes < 1 || flutes > 20:
		return Rates{}, fmt.Errorf("route: %d flutes; want 1 to 20", flutes)
	case !(chipLoad > 0 && chipLoad <= 5):
		return Rates{}, fmt.Errorf("route: chip load %g mm per tooth; want more than 0, at most 5", chipLoad)
	case !(factor > 0 && factor <= 1):
		return Rates{}, fmt.Errorf("route: share of the table feed %g; want more than 0, at most 1", factor)
	case !(caps.FeedXY >= 0 && caps.FeedZ >= 0 && caps.SpindleLow >= 0 && caps.SpindleHigh >= 0):
		return Rates{}, fmt.Errorf("route: a machine limit is below 0 or no number")
	}
	r := Rates{RPM: rpm}
	if caps.SpindleHigh > 0 && r.RPM > caps.SpindleHigh {
		r.RPM, r.Limited = caps.SpindleHigh, "spindle's highest speed"
	}
	if r.RPM < caps.SpindleLow {
		r.RPM, r.Limited = caps.SpindleLow, "spindle's lowest speed"
	}
	r.Feed = r.RPM * float64(flutes) * chipLoad * factor
	if caps.FeedXY > 0 && r.Feed > caps.FeedXY {
		r.Feed, r.Limited = caps.FeedXY, "machine's feed"
	}
	r.Plunge = r.Feed / 3
	if caps.FeedZ > 0 && r.Plunge > caps.FeedZ {
		r.Plunge = caps.FeedZ
	}
	r.Chip = r.Feed / (r.RPM * float64(flutes))
	return r, nil
}

// ChipThickness is the greatest thickness in mm of the chip that a tooth cuts
// at the given feed per tooth and width of cut. From half the diameter on it is
// the feed per tooth itself; below, with x = width/D,
//
//	h = 2·f·√(x(1 − x))
func ChipThickness(perTooth, width, diameter float64) float64 {
	x := width / diameter
	if !(x > 0) {
		return 0
	}
	if x >= 0.5 {
		return perTooth
	}
	return 2 * perTooth * math.Sqrt(x*(1-x))
}
