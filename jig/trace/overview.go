package trace

import (
	"math"
	"slices"
)

// This file answers what is board and what is not, on a picture made small.

// overviewDPI is about how many pixels an inch the small picture has: fine enough for
// a tongue, coarse enough to average noise and grain.
const overviewDPI = 300

// An overview is the picture reduced by whole factors, n channels in turn.
type overview struct {
	w, h, n int
	k       [2]int // pixels of the picture that make one, across and down
	mm      [2]float64
	pix     []float32
}

// overviewOf reduces the picture, the right way up.
func (s *Scan) overviewOf(dpi [2]float64) *overview {
	src := readerOf(s.img)
	d := dpi
	if s.turn >= 5 {
		d = [2]float64{dpi[1], dpi[0]} // the file's own way round
	}
	kx, ky := max(1, int(math.Round(d[0]/overviewDPI))), max(1, int(math.Round(d[1]/overviewDPI)))
	w, h := src.w/kx, src.h/ky
	if w == 0 || h == 0 {
		return &overview{}
	}
	o := &overview{w: w, h: h, n: src.n, k: [2]int{kx, ky}}
	if s.turn >= 5 {
		o.w, o.h, o.k = h, w, [2]int{ky, kx}
	}
	o.mm = [2]float64{float64(o.k[0]) * 25.4 / dpi[0], float64(o.k[1]) * 25.4 / dpi[1]}
	o.pix = make([]float32, w*h*src.n)
	row := make([]float32, src.w*src.n)
	sum := make([]float32, w*src.n)
	scale := 1 / float32(kx*ky)
	for y := range h {
		clear(sum)
		for j := range ky {
			src.read(y*ky+j, row)
			i := 0
			for x := range w {
				for range kx {
					for c := range src.n {
						sum[x*src.n+c] += row[i]
						i++
					}
				}
			}
		}
		for x := range w {
			i, j := turned(s.turn, x, y, w, h)
			for c := range src.n {
				o.pix[(j*o.w+i)*src.n+c] = sum[x*src.n+c] * scale
			}
		}
	}
	return o
}

// A plane is a picture of one channel, as wide and high as the overview.
type plane struct {
	w, h int
	v    []float32
}

func (o *overview) channel(c int) plane {
	p := plane{o.w, o.h, make([]float32, o.w*o.h)}
	for i := range p.v {
		p.v[i] = o.pix[i*o.n+c]
	}
	return p
}

// A lighting is a smooth surface through what lies behind the board: a polynomial of
// third degree in the place.
type lighting struct {
	w, h float64
	a    [10]float64
}

func terms(u, v float64, deg int) []float64 {
	t := [10]float64{1, u, v, u * u, u * v, v * v, u * u * u, u * u * v, u * v * v, v * v * v}
	return t[:[4]int{1, 3, 6, 10}[deg]]
}

func (l *lighting) at(x, y int) float64 {
	u, v, a := 2*float64(x)/l.w-1, 2*float64(y)/l.h-1, &l.a
	return a[0] + u*(a[1]+u*(a[3]+u*a[6])+v*(a[4]+u*a[7])) + v*(a[2]+v*(a[5]+v*a[9])+v*u*a[8])
}

// fitLighting fits a surface of the degree to the pixels of the plane that use lets
// pass, by least squares reweighted so that what departs far does not count (A. E.
// Beaton, J. W. Tukey, Technometrics 16 (1974) 147-185).
func (p plane) fitLighting(deg int, use func(i int) bool) lighting {
	type point struct{ u, v, f float64 }
	l := lighting{w: float64(p.w), h: float64(p.h)}
	var at []int
	for i := range p.v {
		if use(i) {
			at = append(at, i)
		}
	}
	if len(at) == 0 {
		return l
	}
	step := max(1, len(at)/20000)
	var q []point
	var fs []float64
	for k := 0; k < len(at); k += step {
		i := at[k]
		q = append(q, point{2*float64(i%p.w)/l.w - 1, 2*float64(i/p.w)/l.h - 1, float64(p.v[i])})
		fs = append(fs, float64(p.v[i]))
	}
	l.a[0] = median(fs)
	off := make([]float64, len(q))
	for range 8 {
		for i, s := range q {
			e := s.f
			for k, t := range terms(s.u, s.v, 3) {
				e -= l.a[k] * t
			}
			off[i] = math.Abs(e)
		}
		cut := 6*median(off) + 0.004
		n := len(terms(0, 0, deg))
		m := newNormal(n)
		for i, s := range q {
			if off[i] < cut {
				w := 1 - off[i]*off[i]/(cut*cut)
				m.add(terms(s.u, s.v, deg), s.f, w*w)
			}
		}
		a, _, ok := m.solve()
		if !ok {
			break
		}
		clear(l.a[:])
		copy(l.a[:], a)
	}
	return l
}

// flat is the plane without its lighting: the ratio to it less one where the
// background is bright, as light acts, the difference where it is dark.
func (p plane) flat(l *lighting, ratio bool) plane {
	out := plane{p.w, p.h, make([]float32, len(p.v))}
	for y := range p.h {
		for x := range p.w {
			i := y*p.w + x
			b := l.at(x, y)
			d := float64(p.v[i]) - b
			if ratio {
				d /= math.Max(math.Abs(b), 0.02)
			}
			out.v[i] = float32(d)
		}
	}
	return out
}

// split finds the threshold that parts the values in two classes with the greatest
// variance between them (N. Otsu, IEEE Trans. Systems, Man and Cybernetics 9 (1979)
// 62-66), and the means of both.
func split(v []float32) (t, lo, hi float64) {
	a, b := float32(math.Inf(1)), float32(math.Inf(-1))
	for _, x := range v {
		a, b = min(a, x), max(b, x)
	}
	if !(b > a) {
		return float64(a), float64(a), float64(a)
	}
	const bins = 512
	var count, sum [bins]float64
	f := bins / float64(b-a)
	for _, x := range v {
		k := min(bins-1, int(float64(x-a)*f))
		count[k]++
		sum[k] += float64(x)
	}
	n, all := 0.0, 0.0
	for k := range bins {
		n, all = n+count[k], all+sum[k]
	}
	n0, s0, best := 0.0, 0.0, -1.0
	for k := range bins - 1 {
		n0, s0 = n0+count[k], s0+sum[k]
		if n0 == 0 || n0 == n {
			continue
		}
		m0, m1 := s0/n0, (all-s0)/(n-n0)
		if w := n0 * (n - n0) * (m1 - m0) * (m1 - m0); w > best {
			best, t, lo, hi = w, float64(a)+float64(k+1)/f, m0, m1
		}
	}
	return t, lo, hi
}

func median(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	s, k := slices.Clone(v), len(v)/2
	m := nth(s, k)
	if len(s)%2 == 0 {
		return (slices.Max(s[:k]) + m) / 2
	}
	return m
}

// nth is what would stand at k if s were sorted. It orders s so far that nothing before k
// is greater and nothing behind it less (C. A. R. Hoare, Communications of the ACM 4
// (1961) 321).
func nth(s []float64, k int) float64 {
	for lo, hi := 0, len(s)-1; lo < hi; {
		p := s[(lo+hi)/2]
		i, j := lo, hi
		for i <= j {
			for s[i] < p {
				i++
			}
			for s[j] > p {
				j--
			}
			if i <= j {
				s[i], s[j] = s[j], s[i]
				i, j = i+1, j-1
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return s[k]
		}
	}
	return s[k]
}
