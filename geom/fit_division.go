package geom

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// This file answers where points are best divided into pieces.

// A division looks for the best places to divide the points.
type division struct {
	q     []orb.Point
	sums  []moments // sums[i] over the first i points
	v     float64   // the noise's variance
	line  float64   // charge for a line
	arc   float64   // charge for an arc
	grain int       // places are looked for every so many points, then shifted
}

func newDivision(q []orb.Point) *division {
	d := &division{q: q, sums: make([]moments, len(q)+1)}
	m := moments{o: centroid(q)}
	d.sums[0] = m
	for i, p := range q {
		m.add(p)
		d.sums[i+1] = m
	}
	// Below a thousandth of a millimetre rounding in the sums would look like
	// structure.
	s := math.Max(noiseOf(q), 1e-3)
	d.v = s * s
	// Two parameters and a place for a line, one more for an arc; half as much
	// again, because the best of many places is taken.
	l := math.Log(float64(len(q)))
	d.line, d.arc = 4.5*l, 6*l
	d.grain = max(1, len(q)/400)
	return d
}

// noiseOf estimates the standard deviation of the points normal to their path from
// second differences, whose variance is six times that of a point; the median
// passes over corners.
func noiseOf(q []orb.Point) float64 {
	w := min(8, (len(q)-1)/2)
	var ds []float64
	for i := w; i+w < len(q); i++ {
		u := sub(q[i+w], q[i-w])
		l := math.Hypot(u[0], u[1])
		if l == 0 {
			continue
		}
		a, b := sub(q[i-1], q[i]), sub(q[i+1], q[i])
		ds = append(ds, math.Abs(cross(u, orb.Point{a[0] + b[0], a[1] + b[1]}))/l)
	}
	if len(ds) == 0 {
		return 0
	}
	slices.Sort(ds)
	return ds[len(ds)/2] * 1.4826 / math.Sqrt(6) // the median of |x| is 0.6745 σ
}

// cost of the points i to j-1 as one piece, and whether an arc is cheaper.
func (d *division) cost(i, j int) (c float64, round bool) {
	n := j - i
	if n < 3 {
		return math.Inf(1), false
	}
	m := d.sums[j].less(&d.sums[i])
	m = m.central()
	s := m.spread() / d.v
	c = s + d.line
	if n < 6 || s < float64(n) {
		return c, false
	}
	if o, r, ok := m.circle(); ok && r < 1e3*math.Sqrt(m.xx+m.yy) {
		if a := m.roundness(o, r)/d.v + d.arc; a < c {
			return a, true
		}
	}
	return c, false
}

// best finds the cheapest division: for every place the cheapest way to reach it,
// from the places before. A piece only gets dearer as it grows, so the search goes
// back no farther than a piece that costs more than the best way found.
func (d *division) best() []int {
	var at []int
	for i := 0; i < len(d.q)-d.grain/2; i += d.grain {
		at = append(at, i)
	}
	at = append(at, len(d.q))
	total := make([]float64, len(at))
	from := make([]int, len(at))
	for j := 1; j < len(at); j++ {
		total[j] = math.Inf(1)
		for i := j - 1; i >= 0; i-- {
			c, _ := d.cost(at[i], at[j])
			if t := total[i] + c; t < total[j] {
				total[j], from[j] = t, i
			}
			if c > total[j] && !math.IsInf(c, 1) {
				break
			}
		}
	}
	var cuts []int
	for j := len(at) - 1; ; j = from[j] {
		cuts = append(cuts, at[j])
		if j == 0 {
			break
		}
	}
	slices.Reverse(cuts)
	return cuts
}

// shift moves each place to the best point around it.
func (d *division) shift(cuts []int) {
	for range 3 {
		for k := 1; k+1 < len(cuts); k++ {
			best, where := math.Inf(1), cuts[k]
			for i := max(cuts[k-1]+3, cuts[k]-d.grain); i <= min(cuts[k+1]-3, cuts[k]+d.grain); i++ {
				a, _ := d.cost(cuts[k-1], i)
				b, _ := d.cost(i, cuts[k+1])
				if a+b < best {
					best, where = a+b, i
				}
			}
			cuts[k] = where
		}
	}
}

// prune leaves out short pieces that stand only because a place of division fell
// between two of those looked at: the neighbours take their points if that is
// cheaper.
func (d *division) prune(cuts []int) []int {
	for k := 1; k+2 < len(cuts); {
		i, j := cuts[k-1], cuts[k+2]
		if cuts[k+1]-cuts[k] > 4*d.grain+6 {
			k++
			continue
		}
		now := 0.0
		for m := k - 1; m <= k+1; m++ {
			c, _ := d.cost(cuts[m], cuts[m+1])
			now += c
		}
		best, where := now, -1
		for m := max(i+3, cuts[k]-d.grain); m <= min(j-3, cuts[k+1]+d.grain); m++ {
			a, _ := d.cost(i, m)
			b, _ := d.cost(m, j)
			if a+b < best {
				best, where = a+b, m
			}
		}
		if where < 0 {
			k++
			continue
		}
		cuts[k] = where
		cuts = slices.Delete(cuts, k+1, k+2)
		k = max(1, k-1)
	}
	return cuts
}
