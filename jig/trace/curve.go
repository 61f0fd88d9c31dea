package trace

import "math"

// This file answers how a scanner's brightness follows the light.

// A curve is how a picture's brightness follows the light: as a power of it. Scanner
// and lens blur the light; where a file keeps the light's root, as most do, an edge
// half way between dark and bright in the file is not the edge half way in the light.
// The zero curve is a picture blurred as it is kept.
type curve struct {
	power    float64 // light = brightness to this power
	inverted bool    // the raster holds 1 - brightness
	whole    bool    // the raster holds a brightness at all, not a difference of colours
}

// light is proportional to the light at a value of the raster, rising with it.
func (c curve) light(v float64) float64 {
	if !c.whole || c.power <= 1 {
		return v
	}
	if c.inverted {
		return 1 - math.Pow(math.Max(1-v, 0), c.power)
	}
	return math.Pow(math.Max(v, 0), c.power)
}

// curveOf finds the power with which the mean rise of brightness across an edge, read
// at equal steps from the board outward, is alike on both sides of its middle. What
// blurs an edge does it alike; the power is held between 1 and 2.4 (IEC 61966-2-1 has
// about 2.2).
func curveOf(rise []float64, like curve) curve {
	best, least := like, math.Inf(1)
	for k := range 15 {
		c := like
		c.power = 1 + 0.1*float64(k)
		v := make([]float64, len(rise))
		for i, x := range rise {
			v[i] = c.light(x)
		}
		low, mid, high := crossing(v, 0.2), crossing(v, 0.5), crossing(v, 0.8)
		if math.IsNaN(low + mid + high) {
			return like
		}
		// a thousandth for each tenth, so that 1 stays where nothing tells
		if a := math.Abs(high+low-2*mid) + 0.002*float64(k); a < least {
			best, least = c, a
		}
	}
	return best
}

// crossing is the first place at which the values pass the share f of the way from
// their first four to their last four; not a number without one.
func crossing(v []float64, f float64) float64 {
	m := len(v)
	a, b := (v[0]+v[1]+v[2]+v[3])/4, (v[m-1]+v[m-2]+v[m-3]+v[m-4])/4
	t := a + f*(b-a)
	for k := 1; k < m; k++ {
		if (v[k-1]-t)*(v[k]-t) <= 0 && v[k-1] != v[k] {
			return float64(k-1) + (v[k-1]-t)/(v[k-1]-v[k])
		}
	}
	return math.NaN()
}
