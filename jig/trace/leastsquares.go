package trace

import "math"

// A normal holds the normal equations of a linear least squares fit of n parameters.
type normal struct {
	n    int
	a    []float64 // n × n, symmetric
	b    []float64
	w, e float64 // sums of weights and of weighted squares
}

func newNormal(n int) *normal { return &normal{n: n, a: make([]float64, n*n), b: make([]float64, n)} }

// add adds an observation y = Σ p·row of the weight w.
func (m *normal) add(row []float64, y, w float64) {
	for i, r := range row {
		for j := range row {
			m.a[i*m.n+j] += w * r * row[j]
		}
		m.b[i] += w * r * y
	}
	m.w, m.e = m.w+w, m.e+w*y*y
}

// solve gives the parameters and the inverse of the matrix, by which the variance of
// an observation becomes that of the parameters. It is false where they are not
// determined.
func (m *normal) solve() (p []float64, inv []float64, ok bool) {
	n := m.n
	a := make([]float64, n*2*n) // beside the unit matrix, Gauss-Jordan with pivots
	for i := range n {
		copy(a[i*2*n:], m.a[i*n:(i+1)*n])
		a[i*2*n+n+i] = 1
	}
	for c := range n {
		k := c
		for i := c + 1; i < n; i++ {
			if math.Abs(a[i*2*n+c]) > math.Abs(a[k*2*n+c]) {
				k = i
			}
		}
		if !(math.Abs(a[k*2*n+c]) > 1e-12*(1+math.Abs(m.a[c*n+c]))) {
			return nil, nil, false
		}
		for j := range 2 * n {
			a[c*2*n+j], a[k*2*n+j] = a[k*2*n+j], a[c*2*n+j]
		}
		f := a[c*2*n+c]
		for j := range 2 * n {
			a[c*2*n+j] /= f
		}
		for i := range n {
			if g := a[i*2*n+c]; i != c && g != 0 {
				for j := range 2 * n {
					a[i*2*n+j] -= g * a[c*2*n+j]
				}
			}
		}
	}
	p, inv = make([]float64, n), make([]float64, n*n)
	for i := range n {
		for j := range n {
			inv[i*n+j] = a[i*2*n+n+j]
			p[i] += inv[i*n+j] * m.b[j]
		}
	}
	return p, inv, true
}
