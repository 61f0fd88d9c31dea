package trace

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// This file answers how sharp a board's edges are.

// sharpen reads the mean rise of brightness across the faces and finds from it the
// curve of brightness and the blur: the standard deviation in mm of the rise, half the
// way from 16 to 84 hundredths of it.
func (b *board) sharpen() {
	const reach = 10
	pitch := b.r.pitch()
	v := make([]float64, 4*reach+1)
	s, c := math.Sincos(b.angle)
	var rises [2][]float64
	for side := range rises {
		z, out := 0.0, orb.Point{s, -c}
		if side == 1 {
			z, out = b.thick, orb.Point{-s, c}
		}
		all := make([][]float64, len(v))
		var on []orb.Point
		for i := range b.line {
			if q := b.into(b.line[i]); math.Abs(q[1]-z) < 0.6*pitch { // else rough there, or not on the face
				on = append(on, q)
			}
		}
		for i, q := range on {
			// About the mean of its neighbours: a face a little bent blurs nothing, and
			// the noise by which a single point is off goes into no curve.
			const half = 8
			near := on[max(0, i-half):min(len(on), i+half+1)]
			q[1] = 0
			for _, p := range near {
				q[1] += p[1] / float64(len(near))
			}
			b.r.section(b.out(q), out, 2*reach, pitch/2, 0, pitch, v)
			for k := range all {
				all[k] = append(all[k], v[k])
			}
		}
		if len(on) > 30 {
			rise := make([]float64, len(v))
			for k := range rise {
				rise[k] = middleMean(all[k])
			}
			rises[side] = rise
		}
	}
	var known [][]float64
	for _, r := range rises {
		if r != nil {
			known = append(known, r)
		}
	}
	if b.blur == 0 { // once: edges found by one curve look like that curve's
		b.curve, b.doubt = curveOf(known, b.curve)
		b.doubt *= pitch / 2
	}
	blur := 0.0
	for _, r := range known {
		if k, ok := fitRise(r, b.curve, 1, 1); ok {
			blur = math.Max(blur, k.wide*pitch/2)
		}
	}
	if blur == 0 {
		blur = pitch
	}
	b.blur = math.Max(blur, pitch/4)
}

// middleMean is the mean of the middle half of the values: dirt does not count.
func middleMean(v []float64) float64 {
	slices.Sort(v)
	v = v[len(v)/4 : len(v)-len(v)/4]
	s := 0.0
	for _, x := range v {
		s += x
	}
	return s / float64(len(v))
}

func quantile(v []float64, f float64) float64 {
	if len(v) == 0 {
		return 0
	}
	s := slices.Clone(v)
	slices.Sort(s)
	return s[min(len(s)-1, int(f*float64(len(s))))]
}
