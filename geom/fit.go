package geom

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// A LineFit is the straight line nearest to points.
type LineFit struct {
	At  orb.Point // the points' centre of mass, on the line
	Dir orb.Point // unit vector, the way from the first point to the last
	RMS float64   // mm, root mean square of the normal distances
	Max float64   // mm, the greatest of them
}

// FitLine finds the line with the least sum of squared normal distances: through
// the centre of mass, along the principal axis of the points' moments. Exact, not
// iterated. It fails if the points are all one.
//
// Source: K. Pearson, "On lines and planes of closest fit to systems of points in
// space", Philosophical Magazine 2 (1901) 559-572.
func FitLine(q []orb.Point) (LineFit, error) {
	var m moments
	m.o = centroid(q)
	for _, p := range q {
		m.add(p)
	}
	if !(m.xx+m.yy > 0) || math.IsInf(m.xx+m.yy, 0) {
		return LineFit{}, fmt.Errorf("geom: %d points, all in one place: no line fits best", len(q))
	}
	f := LineFit{At: m.o, Dir: m.axis()}
	if u := sub(q[len(q)-1], q[0]); dot(u, f.Dir) < 0 {
		f.Dir = orb.Point{-f.Dir[0], -f.Dir[1]}
	}
	sum := 0.0
	for _, p := range q {
		d := cross(f.Dir, sub(p, f.At))
		sum += d * d
		f.Max = math.Max(f.Max, math.Abs(d))
	}
	f.RMS = math.Sqrt(sum / float64(len(q)))
	return f, nil
}

// A CircleFit is the circle nearest to points.
type CircleFit struct {
	Centre orb.Point
	Radius float64
	RMS    float64 // mm, root mean square of the distances from the circle
	Max    float64 // mm, the greatest of them
}

// FitCircle finds the circle with the least sum of squared distances of the points
// from it. Taubin's algebraic fit gives the start, Gauss-Newton with Levenberg's
// and Marquardt's damping the least squares. It fails with less than three
// different points and on points of a line.
//
// Sources: G. Taubin, "Estimation of planar curves…", IEEE Trans. Pattern Analysis
// 13 (1991) 1115-1138; N. Chernov, C. Lesort, "Least squares fitting of circles",
// J. Math. Imaging and Vision 23 (2005) 239-252.
func FitCircle(q []orb.Point) (CircleFit, error) {
	var m moments
	m.o = centroid(q)
	for _, p := range q {
		m.add(p)
	}
	c, r, ok := m.circle()
	if !ok || len(q) < 3 {
		return CircleFit{}, fmt.Errorf("geom: %d points on a line or in one place: no circle fits best", len(q))
	}
	c, r = leastCircle(q, c, r)
	f := CircleFit{Centre: c, Radius: r}
	sum := 0.0
	for _, p := range q {
		d := dist(p, c) - r
		sum += d * d
		f.Max = math.Max(f.Max, math.Abs(d))
	}
	f.RMS = math.Sqrt(sum / float64(len(q)))
	return f, nil
}

// leastCircle improves a circle until the sum of squares falls no more.
func leastCircle(q []orb.Point, c orb.Point, r float64) (orb.Point, float64) {
	cost := func(c orb.Point, r float64) float64 {
		s := 0.0
		for _, p := range q {
			d := dist(p, c) - r
			s += d * d
		}
		return s
	}
	n := float64(len(q))
	old, lambda := cost(c, r), 1e-4
	for range 100 {
		// d = |p-c| - r; with u the unit vector from c to p the derivatives by
		// (c, r) are (-u, -1).
		var uu, uv, vv, su, sv, du, dv, sd float64
		for _, p := range q {
			x, y := p[0]-c[0], p[1]-c[1]
			l := math.Hypot(x, y)
			if l == 0 {
				continue
			}
			x, y = x/l, y/l
			d := l - r
			uu, uv, vv = uu+x*x, uv+x*y, vv+y*y
			su, sv = su+x, sv+y
			du, dv, sd = du+d*x, dv+d*y, sd+d
		}
		moved := false
		for range 20 {
			step, ok := solve3([3][4]float64{
				{uu * (1 + lambda), uv, su, du},
				{uv, vv * (1 + lambda), sv, dv},
				{su, sv, n * (1 + lambda), sd},
			})
			if !ok {
				return c, r
			}
			c1, r1 := orb.Point{c[0] + step[0], c[1] + step[1]}, r+step[2]
			if s := cost(c1, r1); s <= old && r1 > 0 {
				small := math.Abs(step[0])+math.Abs(step[1])+math.Abs(step[2]) < 1e-13*(1+r1)
				moved = !small && s < old
				c, r, old = c1, r1, s
				lambda /= 10
				break
			}
			lambda *= 10
		}
		if !moved {
			break
		}
	}
	return c, r
}

// solve3 solves three linear equations by elimination with pivots.
func solve3(m [3][4]float64) (x [3]float64, ok bool) {
	for i := range 3 {
		p := i
		for k := i + 1; k < 3; k++ {
			if math.Abs(m[k][i]) > math.Abs(m[p][i]) {
				p = k
			}
		}
		m[i], m[p] = m[p], m[i]
		if m[i][i] == 0 || math.IsNaN(m[i][i]) {
			return x, false
		}
		for k := i + 1; k < 3; k++ {
			f := m[k][i] / m[i][i]
			for j := i; j < 4; j++ {
				m[k][j] -= f * m[i][j]
			}
		}
	}
	for i := 2; i >= 0; i-- {
		x[i] = m[i][3]
		for j := i + 1; j < 3; j++ {
			x[i] -= m[i][j] * x[j]
		}
		x[i] /= m[i][i]
	}
	return x, true
}

func centroid(q []orb.Point) orb.Point {
	var c orb.Point
	for _, p := range q {
		c[0] += p[0]
		c[1] += p[1]
	}
	if n := float64(len(q)); n > 0 {
		c[0], c[1] = c[0]/n, c[1]/n
	}
	return c
}

// moments are sums over points about o, with z = x² + y².
type moments struct {
	o                               orb.Point
	n, x, y, xx, xy, yy, xz, yz, zz float64
}

func (m *moments) add(q orb.Point) {
	x, y := q[0]-m.o[0], q[1]-m.o[1]
	z := x*x + y*y
	m.n++
	m.x, m.y = m.x+x, m.y+y
	m.xx, m.xy, m.yy = m.xx+x*x, m.xy+x*y, m.yy+y*y
	m.xz, m.yz, m.zz = m.xz+x*z, m.yz+y*z, m.zz+z*z
}

// less is the moments of the points of m without those of k, about the same o.
func (m *moments) less(k *moments) moments {
	return moments{m.o, m.n - k.n, m.x - k.x, m.y - k.y, m.xx - k.xx, m.xy - k.xy, m.yy - k.yy,
		m.xz - k.xz, m.yz - k.yz, m.zz - k.zz}
}

// central is the same about the points' own centre of mass.
func (m *moments) central() moments {
	a, b, n := m.x/m.n, m.y/m.n, m.n
	xx, xy, yy := m.xx-n*a*a, m.xy-n*a*b, m.yy-n*b*b
	// With x = a + u: sums of u·w and v·w, w = u² + v², from z = w + 2au + 2bv + k.
	k := a*a + b*b
	// Σ x z = Σ (a+u)(w+2au+2bv+k)
	s := xx + yy // Σ w
	uw := m.xz - a*s - 2*a*xx - 2*b*xy - n*a*k
	vw := m.yz - b*s - 2*a*xy - 2*b*yy - n*b*k
	// Σ z² = Σ (w + 2au + 2bv + k)²
	ww := m.zz - 4*(a*uw+b*vw) - 2*k*s - 4*(a*a*xx+2*a*b*xy+b*b*yy) - n*k*k
	return moments{orb.Point{m.o[0] + a, m.o[1] + b}, n, 0, 0, xx, xy, yy, uw, vw, ww}
}

// axis is the unit vector of the greatest spread; m is central.
func (m *moments) axis() orb.Point {
	s, c := math.Sincos(math.Atan2(2*m.xy, m.xx-m.yy) / 2)
	return orb.Point{c, s}
}

// spread is the sum of squared distances from the best line; m is central.
func (m *moments) spread() float64 {
	t, d := m.xx+m.yy, m.xx*m.yy-m.xy*m.xy
	h := math.Sqrt(math.Max(0, t*t/4-d))
	if t/2+h <= 0 {
		return 0
	}
	return math.Max(0, d/(t/2+h))
}

// circle is Taubin's fit: of the circles A·z + B·x + C·y + D = 0 the one with the
// least Σ(A·z+B·x+C·y+D)²/Σ|gradient|². m is central; the smallest root of its
// characteristic equation is found by Newton from 0 (Chernov's scheme).
func (m *moments) circle() (c orb.Point, r float64, ok bool) {
	n := m.n
	xx, xy, yy, xz, yz, zz := m.xx/n, m.xy/n, m.yy/n, m.xz/n, m.yz/n, m.zz/n
	z := xx + yy
	if !(z > 0) {
		return c, 0, false
	}
	cov := xx*yy - xy*xy
	vz := zz - z*z
	a3 := 4 * z
	a2 := -3*z*z - zz
	a1 := vz*z + 4*cov*z - xz*xz - yz*yz
	a0 := xz*(xz*yy-yz*xy) + yz*(yz*xx-xz*xy) - vz*cov
	x, y := 0.0, a0
	for range 50 {
		dy := a1 + x*(2*a2+3*a3*x)
		t := x - y/dy
		if t == x || math.IsNaN(t) || math.IsInf(t, 0) {
			break
		}
		ty := a0 + t*(a1+t*(a2+t*a3))
		if math.Abs(ty) >= math.Abs(y) {
			break
		}
		x, y = t, ty
	}
	det := x*x - x*z + cov
	if math.Abs(det) <= 1e-14*z*z {
		return c, 0, false
	}
	cx := (xz*(yy-x) - yz*xy) / det / 2
	cy := (yz*(xx-x) - xz*xy) / det / 2
	return orb.Point{m.o[0] + cx, m.o[1] + cy}, math.Sqrt(cx*cx + cy*cy + z), true
}

// roundness is about the sum of squared distances from the circle of radius r about
// c: Σ(|p-c|² - r²)²/4r². m is central.
func (m *moments) roundness(c orb.Point, r float64) float64 {
	a, b := c[0]-m.o[0], c[1]-m.o[1]
	k := a*a + b*b - r*r
	// (w - 2au - 2bv + k)²
	s := m.zz - 4*(a*m.xz+b*m.yz) + 2*k*(m.xx+m.yy) + 4*(a*a*m.xx+2*a*b*m.xy+b*b*m.yy) + m.n*k*k
	return math.Max(0, s/(4*r*r))
}
