package trace_test

import (
	"math"

	"github.com/paulmach/orb"
)

// This file answers how a drawn scan is shaded and blurred.

func blot(pix []float32, w, h int, x, y, r float64, to float32) {
	for j := int(y - r - 1); j <= int(y+r+1); j++ {
		for i := int(x - r - 1); i <= int(x+r+1); i++ {
			if i < 0 || j < 0 || i >= w || j >= h {
				continue
			}
			if c := float32(math.Min(1, math.Max(0, r+0.5-math.Hypot(float64(i)-x, float64(j)-y)))); c > 0 {
				pix[j*w+i] += c * (to - pix[j*w+i])
			}
		}
	}
}

// coverage is how much of each pixel the outline covers, by eight lines in each.
func coverage(q []orb.Point, w, h int) []float32 {
	cov := make([]float32, w*h)
	const lines = 8
	type hit struct {
		x   float64
		way float32
	}
	hits := make([][]hit, h*lines)
	for i := range q {
		a, b := q[i], q[(i+1)%len(q)]
		way := float32(1)
		if a[1] > b[1] {
			a, b, way = b, a, -1
		}
		for k := max(0, int(math.Ceil(a[1]*lines-0.5))); k < len(hits); k++ {
			y := (float64(k) + 0.5) / lines
			if y >= b[1] {
				break
			}
			hits[k] = append(hits[k], hit{a[0] + (y-a[1])/(b[1]-a[1])*(b[0]-a[0]), way})
		}
	}
	for k, hs := range hits {
		row := cov[k/lines*w : (k/lines+1)*w]
		for _, t := range hs {
			// right of the crossing everything counts, its own pixel in part
			x := min(max(t.x, 0), float64(w))
			i := int(x)
			if i < w {
				row[i] += t.way * float32(float64(i+1)-x) / lines
			}
			// summed up below
			for i++; i < w; i++ {
				row[i] += t.way / lines
			}
		}
	}
	for i, v := range cov {
		if v < 0 {
			cov[i] = -v
		}
	}
	return cov
}

func blurred(p []float32, w, h int, sd float64) {
	if sd <= 0 {
		return
	}
	r := int(math.Ceil(3.5 * sd))
	k := make([]float32, 2*r+1)
	sum := float32(0)
	for i := range k {
		k[i] = float32(math.Exp(-float64((i-r)*(i-r)) / (2 * sd * sd)))
		sum += k[i]
	}
	for i := range k {
		k[i] /= sum
	}
	row := make([]float32, max(w, h))
	for y := range h {
		line := p[y*w : (y+1)*w]
		copy(row, line)
		for x := range w {
			s := float32(0)
			for i, f := range k {
				s += f * row[min(max(x+i-r, 0), w-1)]
			}
			line[x] = s
		}
	}
	for x := range w {
		for y := range h {
			row[y] = p[y*w+x]
		}
		for y := range h {
			s := float32(0)
			for i, f := range k {
				s += f * row[min(max(y+i-r, 0), h-1)]
			}
			p[y*w+x] = s
		}
	}
}

// spreadOut is a soft halo of the width about what is covered, stronger below.
func spreadOut(cov []float32, w, h int, wide float64) []float32 {
	const k = 8
	sw, sh := w/k+1, h/k+1
	small := make([]float32, sw*sh)
	for y := range h {
		for x := range w {
			small[y/k*sw+x/k] += cov[y*w+x] / (k * k)
		}
	}
	blurred(small, sw, sh, wide/k)
	out := make([]float32, w*h)
	off := int(wide / 2)
	for y := range h {
		for x := range w {
			// bilinear, shifted: the light comes from above
			fx, fy := float64(x)/k-0.5, float64(max(y-off, 0))/k-0.5
			i, j := min(max(int(fx), 0), sw-2), min(max(int(fy), 0), sh-2)
			a, b := float32(math.Min(math.Max(fx-float64(i), 0), 1)), float32(math.Min(math.Max(fy-float64(j), 0), 1))
			s := small[j*sw+i:]
			out[y*w+x] = (s[0]*(1-a)+s[1]*a)*(1-b) + (s[sw]*(1-a)+s[sw+1]*a)*b
		}
	}
	return out
}
