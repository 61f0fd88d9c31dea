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

// usual is the power of most files (IEC 61966-2-1, about 2.2).
const usual = 2.2

// A rise is how well a smooth step explains the mean rise of brightness across an edge.
type rise struct {
	at, wide float64 // middle and standard deviation, in steps
	miss     float64 // sum of squares of what is left
}

// fitRise fits a normal distribution's integral, in light, to brightness read at equal
// steps from the board outward.
func fitRise(v []float64, c curve) (rise, bool) {
	w := make([]float64, len(v))
	for i, x := range v {
		w[i] = c.light(x)
	}
	r := rise{at: crossing(w, 0.5), wide: (crossing(w, 0.84) - crossing(w, 0.16)) / 2}
	if !(r.wide > 0) || math.IsNaN(r.at) {
		return r, false
	}
	m := len(w)
	in, ex := (w[0]+w[1]+w[2]+w[3])/4, (w[m-1]+w[m-2]+w[m-3]+w[m-4])/4
	from, to := r.at-3.5*r.wide, r.at+3.5*r.wide
	miss := func(at, wide float64) float64 {
		s := 0.0
		for i, x := range v {
			if float64(i) < from || float64(i) > to {
				continue
			}
			d := (float64(i) - at) / wide
			e := c.value(in+(ex-in)*0.5*math.Erfc(-d/math.Sqrt2)) - x
			s += e * e
		}
		return s
	}
	r.miss = miss(r.at, r.wide)
	for step := 0.3 * r.wide; step > 1e-3*r.wide; step /= 2 {
		for moved := true; moved; {
			moved = false
			for _, d := range [4][2]float64{{step, 0}, {-step, 0}, {0, step}, {0, -step}} {
				if u := r.wide + d[1]; u > 0.2 && u < to-from && math.Abs(r.at+d[0]-(from+to)/2) < to-from {
					if e := miss(r.at+d[0], u); e < r.miss*(1-1e-9) {
						r.at, r.wide, r.miss, moved = r.at+d[0], u, e, true
					}
				}
			}
		}
	}
	return r, true
}

// value is the value of the raster at which there is so much light.
func (c curve) value(l float64) float64 {
	if !c.whole || c.power <= 1 {
		return l
	}
	if c.inverted {
		return 1 - math.Pow(math.Max(1-l, 0), 1/c.power)
	}
	return math.Pow(math.Max(l, 0), 1/c.power)
}

// curveOf decides from the rises across edges whether the picture was blurred as it is
// kept or as light, and gives, in steps, the standard deviation that the edges' place
// has by that: a tenth of what lies between the two if one explains the rises much
// better, else a third.
func curveOf(rises [][]float64, like curve) (curve, float64) {
	if !like.whole {
		return like, 0
	}
	plain, rooted := like, like
	plain.power, rooted.power = 1, usual
	var a, b, apart float64
	for _, v := range rises {
		p, ok := fitRise(v, plain)
		q, okQ := fitRise(v, rooted)
		if ok && okQ {
			a, b = a+p.miss, b+q.miss
			apart = math.Max(apart, math.Abs(p.at-q.at))
		}
	}
	switch {
	case b < 0.4*a:
		return rooted, 0.1 * apart
	case a < 0.4*b:
		return plain, 0.1 * apart
	case b < 0.7*a:
		return rooted, 0.35 * apart
	}
	return plain, 0.35 * apart
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
