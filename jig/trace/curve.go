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
	at, wide float64    // middle and standard deviation, in steps
	miss     float64    // weighted sum of squares of what is left
	sides    [2]float64 // sum of squares of it on the board's side and beyond
}

// fitRise fits a normal distribution's integral, in light, between two levels that may
// each slope, to brightness read at equal steps from the board outward: grain that runs
// along the edge makes the board's level slope.
//
// The values on the board's side count by the weight inside, those beyond by the weight
// outside.
func fitRise(v []float64, c curve, inside, outside float64) (rise, bool) {
	w := make([]float64, len(v))
	for i, x := range v {
		w[i] = c.light(x)
	}
	r := rise{at: crossing(w, 0.5), wide: (crossing(w, 0.84) - crossing(w, 0.16)) / 2}
	if !(r.wide > 0) || math.IsNaN(r.at) {
		return r, false
	}
	reach := math.Max(3.5*r.wide, 8)
	from, to := max(0, int(math.Ceil(r.at-reach))), min(len(v)-1, int(r.at+reach))
	if to-from < 8 {
		return r, false
	}
	middle := r.at
	weight := func(i int) float64 {
		if float64(i) < middle {
			return inside
		}
		return outside
	}
	miss := func(at, wide float64) float64 {
		m := newNormal(4)
		row := func(i int) []float64 {
			d := float64(i) - at
			q := 0.5 * math.Erfc(-d/wide/math.Sqrt2)
			return []float64{1 - q, q, (1 - q) * d / reach, q * d / reach}
		}
		for i := from; i <= to; i++ {
			g := c.steep(v[i])
			m.add(row(i), w[i], weight(i)*g*g)
		}
		p, _, ok := m.solve()
		if !ok {
			return math.Inf(1)
		}
		s := 0.0
		r.sides = [2]float64{}
		for i := from; i <= to; i++ {
			e := w[i]
			for k, x := range row(i) {
				e -= p[k] * x
			}
			e *= c.steep(v[i])
			s += weight(i) * e * e
			if float64(i) < middle {
				r.sides[0] += e * e
			} else {
				r.sides[1] += e * e
			}
		}
		return s
	}
	start := r
	r.miss = math.Inf(1)
	for _, f := range [3]float64{0.7, 1, 1.4} { // the nearest minimum need not be the least
		at, wide := start.at, f*start.wide
		least := miss(at, wide)
		for step := 0.3 * wide; step > 1e-3*start.wide; step /= 2 {
			for moved := true; moved; {
				moved = false
				for _, d := range [4][2]float64{{step, 0}, {-step, 0}, {0, step}, {0, -step}} {
					if u := wide + d[1]; u > 0.2 && u < reach && math.Abs(at+d[0]-start.at) < reach {
						if e := miss(at+d[0], u); e < least*(1-1e-9) {
							at, wide, least, moved = at+d[0], u, e, true
						}
					}
				}
			}
		}
		if least < r.miss {
			r.at, r.wide, r.miss = at, wide, least
		}
	}
	miss(r.at, r.wide) // for the sides
	return r, !math.IsInf(r.miss, 1)
}

// steep is how much a value of the raster rises as its light does.
func (c curve) steep(v float64) float64 {
	if !c.whole || c.power <= 1 {
		return 1
	}
	if c.inverted {
		v = 1 - v
	}
	return math.Pow(math.Max(v, 0.03), 1-c.power) / c.power
}

// curveOf decides from the rises across edges whether the picture was blurred as it is
// kept or as light, and gives, in steps, the standard deviation that the edges' place
// has by that: a tenth of what lies between the two if one explains the rises much
// better, else a third. Without a clear answer it is blurred as it is kept.
func curveOf(rises [][]float64, like curve) (curve, float64) {
	if !like.whole {
		return like, 0
	}
	plain, rooted := like, like
	plain.power, rooted.power = 1, usual
	var better, n, apart float64 // the sum of the logarithms of how much better light does
	for _, v := range rises {
		p, ok := fitRise(v, plain, 1, 1)
		q, okQ := fitRise(v, rooted, 1, 1)
		if !ok || !okQ {
			continue
		}
		// Once more, each side weighed by how quiet it is: grain tells nothing.
		in, ex := math.Min(p.sides[0], q.sides[0])+1e-8, math.Min(p.sides[1], q.sides[1])+1e-8
		p, ok = fitRise(v, plain, 1/in, 1/ex)
		q, okQ = fitRise(v, rooted, 1/in, 1/ex)
		if ok && okQ {
			better, n = better+math.Min(math.Max(math.Log(p.miss/q.miss), -3), 3), n+1
			apart = math.Max(apart, math.Abs(p.at-q.at))
		}
	}
	switch better /= math.Max(n, 1); {
	case better > 1.2:
		return rooted, 0.1 * apart
	case better > 0.6:
		return rooted, 0.35 * apart
	case better > -0.9:
		return plain, 0.35 * apart
	}
	return plain, 0.1 * apart
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
