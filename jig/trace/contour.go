package trace

import (
	"math"

	"github.com/paulmach/orb"
)

// This file answers where exactly the outline of a piece runs.

func sub(a, b orb.Point) orb.Point              { return orb.Point{a[0] - b[0], a[1] - b[1]} }
func dot(a, b orb.Point) float64                { return a[0]*b[0] + a[1]*b[1] }
func cross(a, b orb.Point) float64              { return a[0]*b[1] - a[1]*b[0] }
func along(a, u orb.Point, s float64) orb.Point { return orb.Point{a[0] + s*u[0], a[1] + s*u[1]} }
func dist(a, b orb.Point) float64               { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// A loop is a closed chain of points with the outward normal at each, the board on
// the left.
type loop struct {
	at, out []orb.Point
	step    float64 // mm between neighbours, about
}

// newLoop divides the closed chain in equal steps, smooths it over the length given
// and takes the normals across the same.
func newLoop(q []orb.Point, step, smooth float64) loop {
	n := len(q)
	s := make([]float64, n+1)
	for i := range q {
		s[i+1] = s[i] + dist(q[i], q[(i+1)%n])
	}
	total := s[n]
	m := max(16, int(total/step))
	step = total / float64(m)
	at := make([]orb.Point, m)
	k := 0
	for i := range at {
		t := float64(i) * step
		for k+1 < n && s[k+1] < t {
			k++
		}
		f := 0.0
		if s[k+1] > s[k] {
			f = (t - s[k]) / (s[k+1] - s[k])
		}
		a, b := q[k], q[(k+1)%n]
		at[i] = orb.Point{a[0] + f*(b[0]-a[0]), a[1] + f*(b[1]-a[1])}
	}
	l := loop{step: step}
	r := max(1, int(math.Round(smooth/step)))
	l.at = average(at, r)
	l.out = make([]orb.Point, m)
	for i := range at {
		d := sub(l.at[(i+r)%m], l.at[(i-r+r*m)%m])
		h := math.Hypot(d[0], d[1])
		if h == 0 {
			d, h = orb.Point{1, 0}, 1
		}
		l.out[i] = orb.Point{d[1] / h, -d[0] / h}
	}
	return l
}

// average is the moving average of a closed chain over 2r+1 points, weighted as a
// triangle.
func average(q []orb.Point, r int) []orb.Point {
	for range 2 {
		m := len(q)
		out := make([]orb.Point, m)
		h := max(1, r/2)
		for i := range q {
			var s orb.Point
			for k := -h; k <= h; k++ {
				p := q[((i+k)%m+m)%m]
				s[0], s[1] = s[0]+p[0], s[1]+p[1]
			}
			out[i] = orb.Point{s[0] / float64(2*h+1), s[1] / float64(2*h+1)}
		}
		q = out
	}
	return q
}

// section reads the brightness across the outline at a point: 2n+1 values step mm
// apart along the outward normal, each the mean over 2m+1 places along the outline
// wide mm apart.
func (r *raster) section(at, out orb.Point, n int, step float64, m int, wide float64, v []float64) {
	t := orb.Point{-out[1], out[0]}
	for i := range v {
		p := along(at, out, float64(i-n)*step)
		s := 0.0
		for k := -m; k <= m; k++ {
			q := along(p, t, float64(k)*wide)
			s += r.at(q[0], q[1])
		}
		v[i] = s / float64(2*m+1)
	}
}

// settle moves the outline onto the sharp step of brightness that it belongs to. A
// shadow ends softly and a threshold may follow its end; the board's edge is sharp.
// Across each point the sharp steps within reach are found; of these the chain is
// taken that jumps least, leaves out the fewest strong steps and strays least, by
// dynamic programming along the outline (R. Bellman, Communications of the ACM 4
// (1961) 284). sign is 1 if the board is the brighter side.
func (r *raster) settle(l loop, reach, sign float64) []orb.Point {
	pitch := r.pitch()
	n := int(math.Ceil(reach / pitch))
	v := make([]float64, 2*n+1)
	type choice struct{ off, gain float64 }
	all := make([][]choice, len(l.at))
	var strong []float64
	const half = 3 // pixels each side of a step
	for i := range l.at {
		r.section(l.at[i], l.out[i], n, pitch, 2, pitch, v)
		grad := make([]float64, len(v))
		for k := half; k+half < len(v); k++ {
			// the mean of three inside less that of three outside, one apart
			grad[k] = sign * (v[k-1] + v[k-2] + v[k-3] - v[k+1] - v[k+2] - v[k+3]) / 3
		}
		best := 0.0
		for k := half; k+half < len(v); k++ {
			if grad[k] > 0 && grad[k] >= grad[k-1] && grad[k] > grad[k+1] {
				all[i] = append(all[i], choice{float64(k-n) * pitch, grad[k]})
				best = math.Max(best, grad[k])
			}
		}
		strong = append(strong, best)
	}
	ref := median(strong)
	if ref <= 0 {
		return l.at
	}
	cost := make([][]float64, len(all))
	from := make([][]int, len(all))
	for i := range all {
		// weak steps are noise; none at all: stay
		kept := all[i][:0]
		for _, c := range all[i] {
			if c.gain > 0.2*ref {
				kept = append(kept, c)
			}
		}
		all[i] = append(kept, choice{0, 0})
		cost[i] = make([]float64, len(all[i]))
		from[i] = make([]int, len(all[i]))
		for j, c := range all[i] {
			own := 1 - math.Min(c.gain/ref, 1) + 0.15*math.Abs(c.off)/reach
			if c.gain == 0 {
				own = 1.2
			}
			if i == 0 {
				cost[i][j] = own
				continue
			}
			cost[i][j] = math.Inf(1)
			for k, d := range all[i-1] {
				jump := math.Abs(c.off-d.off) / l.step
				if t := cost[i-1][k] + math.Min(0.4*jump, 6); t < cost[i][j] {
					cost[i][j], from[i][j] = t, k
				}
			}
			cost[i][j] += own
		}
	}
	last := len(all) - 1
	j := 0
	for k := range cost[last] {
		if cost[last][k] < cost[last][j] {
			j = k
		}
	}
	out := make([]orb.Point, len(l.at))
	for i := last; i >= 0; i-- {
		out[i] = along(l.at[i], l.out[i], all[i][j].off)
		j = from[i][j]
	}
	return out
}

// A stepFinder finds the place of a step in brightness, to a fraction of a pixel.
type stepFinder struct {
	r     *raster
	sign  float64 // 1 if the board is the brighter side
	reach int     // pixels looked at on either side
	curve curve
	blur  float64 // mm, standard deviation of the step's rise; 0 if not known yet
	v, g  []float64
}

func (r *raster) finder(sign float64, reach int) *stepFinder {
	return &stepFinder{r: r, sign: sign, reach: reach, v: make([]float64, 4*reach+1)}
}

// find is how far along the normal, in mm, the brightness passes half way between the
// levels of board and background beside the step, or, once the blur is known, the
// middle of the blurred step that fits best. It is false where there is no such place,
// or the step is not at least least high.
func (f *stepFinder) find(at, out orb.Point, least float64) (off, height float64, ok bool) {
	n := 2 * f.reach // half pixels
	step := f.r.pitch() / 2
	f.r.section(at, out, n, step, 1, 2*step, f.v)
	if f.blur > 0 {
		f.g = f.g[:0]
		for _, v := range f.v {
			k := f.curve.steep(v)
			f.g = append(f.g, k*k)
		}
	}
	for i, v := range f.v {
		f.v[i] = f.curve.light(v)
	}
	m := max(3, n/3)
	in, ex := 0.0, 0.0
	for k := range m {
		in += f.v[k]
		ex += f.v[len(f.v)-1-k]
	}
	in, ex = in/float64(m), ex/float64(m)
	height = f.sign * (in - ex)
	if !(height > least) {
		return 0, height, false
	}
	mid := (in + ex) / 2
	best := math.Inf(1)
	for k := m / 2; k+1 < len(f.v)-m/2; k++ {
		a, b := f.sign*(f.v[k]-mid), f.sign*(f.v[k+1]-mid)
		if a > 0 && b <= 0 {
			o := (float64(k-n) + a/(a-b)) * step
			if math.Abs(o) < math.Abs(best) {
				best = o
			}
		}
	}
	if math.IsInf(best, 1) {
		return 0, height, false
	}
	if f.blur > 0 {
		if o, ok := f.fit(best/step, f.blur/step, in, ex); ok {
			return o * step, height, true
		}
	}
	return best, height, true
}

// sloped is the weight, in observations, by which the levels beside a step are
// believed not to slope. Derived here from drawn scans of grain and shadows.
const sloped = 0.2

// fit is the middle, in steps from the section's own, of the blurred step that fits
// the values best, between two levels that may each slope: grain along the edge and
// shadow beside it make them. Gauss and Newton's iteration from the place given.
func (f *stepFinder) fit(at, wide, in, ex float64) (float64, bool) {
	n := float64(len(f.v) / 2)
	reach := 3*wide + 3
	first := at
	row := make([]float64, 5)
	for range 4 {
		m := newNormal(5)
		from, to := max(0, int(math.Ceil(n+at-reach))), min(len(f.v)-1, int(n+at+reach))
		for i := from; i <= to; i++ {
			d := float64(i) - n - at
			q := 0.5 * math.Erfc(-d/wide/math.Sqrt2)
			row[0], row[1], row[2], row[3] = 1-q, q, (1-q)*d/reach, q*d/reach
			row[4] = -(ex - in) / wide / math.Sqrt(2*math.Pi) * math.Exp(-d*d/(2*wide*wide))
			m.add(row, f.v[i], f.g[i])
		}
		w := m.w / float64(to-from+1)
		m.add([]float64{0, 0, 1, 0, 0}, 0, sloped*w)
		m.add([]float64{0, 0, 0, 1, 0}, 0, sloped*w)
		p, _, ok := m.solve()
		if !ok {
			return 0, false
		}
		at += p[4]
		if !(math.Abs(at-first) < wide+2) || !(f.sign*(p[0]-p[1]) > 0) {
			return 0, false
		}
		in, ex = p[0], p[1]
		if math.Abs(p[4]) < 1e-3 {
			break
		}
	}
	return at, true
}
