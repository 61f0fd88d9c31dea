package cutter

import "math"

// RimSpeed is how fast the widest point of the edge runs at the given speed of the
// spindle, in m/s: v = π·D·n. It is 0 where the radius is known up to a shift only.
func (c *Cutter) RimSpeed(rpm float64) float64 {
	if !c.Known[0] || !(rpm > 0) {
		return 0
	}
	return 2 * math.Pi * c.MaxRadius() / 1000 * rpm / 60
}

// commonSpeeds are highest speeds of router cutters up to a diameter in mm. Common
// practice; published tables differ, and the cutter's own marking comes first.
var commonSpeeds = []struct{ diameter, rpm float64 }{
	{25.4, 24000}, {50.8, 18000}, {63.5, 16000}, {88.9, 12000},
}

// CommonSpeed is the highest speed in rpm that common practice gives a cutter of
// this diameter; 0 where it gives none, or the radius is known up to a shift only.
func (c *Cutter) CommonSpeed() float64 {
	if !c.Known[0] {
		return 0
	}
	for _, s := range commonSpeeds {
		if 2*c.MaxRadius() <= s.diameter+1e-9 {
			return s.rpm
		}
	}
	return 0
}
