package trace

import (
	"math"
	"slices"
)

// This file answers where the pieces in a picture are, roughly.

// A segmentation is a picture divided in board and background.
type segmentation struct {
	o        *overview
	weights  []float64 // the mixture of channels in which both differ most
	mask     []bool    // board
	contrast float64   // between the means of both, 0 to 1
	noise    float64   // of the background in the overview
	ground   float64   // mean of the background
}

// segment divides the overview. What lies behind the board is what most of the
// picture's rim shows; its lighting is fitted and taken out, so that a slope of
// brightness across the glass divides nothing. Board is what differs.
func (o *overview) segment() (*segmentation, *Refusal) {
	n := o.w * o.h
	ring := max(2, min(o.w, o.h)/60)
	onRing := func(i int) bool {
		x, y := i%o.w, i/o.w
		return x < ring || y < ring || x >= o.w-ring || y >= o.h-ring
	}
	var flats []plane
	var levels []float64
	for c := range o.n {
		p := o.channel(c)
		l := p.fitLighting(2, onRing)
		levels = append(levels, l.at(o.w/2, o.h/2))
		flats = append(flats, p.flat(&l, bright(&l)))
	}
	// Distance from the background in all channels, then the direction of the mean
	// difference.
	d := make([]float32, n)
	for i := range d {
		s := float32(0)
		for _, f := range flats {
			s += f.v[i] * f.v[i]
		}
		d[i] = float32(math.Sqrt(float64(s)))
	}
	t, _, _ := split(d)
	s := &segmentation{o: o, weights: make([]float64, o.n)}
	var means [2][4]float64
	var count [2]float64
	for i := range d {
		k := 0
		if float64(d[i]) > t {
			k = 1
		}
		count[k]++
		for c := range o.n {
			means[k][c] += float64(o.pix[i*o.n+c])
		}
	}
	if count[0] == 0 || count[1] == 0 {
		return nil, o.nothing(levels)
	}
	length := 0.0
	for c := range o.n {
		s.weights[c] = means[1][c]/count[1] - means[0][c]/count[0]
		length += s.weights[c] * s.weights[c]
	}
	if length = math.Sqrt(length); length < 1e-4 {
		return nil, o.nothing(levels)
	}
	for c := range o.n {
		s.weights[c] /= length
	}
	mixed := plane{o.w, o.h, make([]float32, n)}
	for i := range mixed.v {
		v := float32(0)
		for c, w := range s.weights {
			v += float32(w) * o.pix[i*o.n+c]
		}
		mixed.v[i] = v
	}
	use := onRing
	var flat plane
	var cut float64
	for round := range 3 {
		l := mixed.fitLighting(min(2+round, 3), use)
		flat = mixed.flat(&l, bright(&l))
		cut, _, _ = split(flat.v)
		near := float32(cut / 2)
		use = func(i int) bool { return flat.v[i] < near }
	}
	s.mask = make([]bool, n)
	var ground, board, rest []float64
	step := max(1, n/100000)
	for i := range flat.v {
		s.mask[i] = float64(flat.v[i]) > cut
		if i%step == 0 {
			if s.mask[i] {
				board = append(board, float64(mixed.v[i]))
			} else {
				ground = append(ground, float64(mixed.v[i]))
				rest = append(rest, float64(flat.v[i]))
			}
		}
	}
	if len(ground) == 0 || len(board) == 0 {
		return nil, o.nothing(levels)
	}
	s.contrast = math.Abs(median(board) - median(ground))
	mid := median(rest)
	for i := range rest {
		rest[i] = math.Abs(rest[i] - mid)
	}
	s.noise = 1.4826 * median(rest)
	s.ground = median(ground)
	if s.contrast < 0.035 || math.Abs(cut) < 3*s.noise {
		return nil, o.nothing(levels)
	}
	return s, nil
}

// bright tells whether a lighting is bright enough throughout to divide by.
func bright(l *lighting) bool {
	least := math.Inf(1)
	for _, x := range [3]int{0, int(l.w) / 2, int(l.w) - 1} {
		for _, y := range [3]int{0, int(l.h) / 2, int(l.h) - 1} {
			least = math.Min(least, math.Abs(l.at(x, y)))
		}
	}
	return least > 0.25
}

// nothing says what a picture without a board looks like instead.
func (o *overview) nothing(levels []float64) *Refusal {
	most, least, sum := float32(0), float32(1), 0.0
	for _, v := range o.pix {
		most, least = max(most, v), min(least, v)
		sum += float64(v)
	}
	mean := sum / float64(len(o.pix))
	const want = "a board that is clearly darker or lighter than what lies behind it: lay black cloth or white paper over it"
	switch {
	case mean < 0.08 && most < 0.25:
		return refuse(TooDark, "more light, or the lid closed", "the picture is too dark: mean brightness %.0f of 255", mean*255)
	case mean > 0.97:
		return refuse(Saturated, "less exposure, no large part as white as white can be: turn the scanner's brightness down", "the picture is saturated: mean brightness %.0f of 255", mean*255)
	case most-least < 0.06:
		return refuse(NoBoard, want, "no board: the picture is of one brightness, %.0f to %.0f of 255", least*255, most*255)
	}
	return refuse(Faint, want, "no board stands out from what lies behind it")
}

// tidy fills gaps of the mask that are thinner than 2r+1 and removes what stands out and
// is as thin: specks and hairs. With wedges, what runs out level from a thicker part
// stays, or upright if the board is: a flank may leave so thin a wedge beside a face.
func tidy(mask []bool, w, h, r int, upright, wedges bool) []bool {
	m := slices.Clone(mask)
	for _, on := range [2]bool{true, false} {
		m = spread(m, w, h, r, on)
	}
	full := m
	for _, on := range [2]bool{false, true} {
		m = spread(m, w, h, r, on)
	}
	if !wedges {
		return m
	}
	n, long, step, stride := h, w, 1, w
	if upright {
		n, long, step, stride = w, h, w, 1
	}
	for k := range n {
		line := func(i int) int { return k*stride + i*step }
		for _, back := range [2]bool{false, true} {
			out := -1 // how far out of the thick part; -1: of none
			for i := range long {
				j := line(i)
				if back {
					j = line(long - 1 - i)
				}
				switch {
				case !full[j]:
					out = -1
				case m[j]:
					out = 0
				case out >= 0 && out < wedge:
					out++
					m[j] = true
				}
			}
		}
	}
	return m
}

// wedge is how far such a wedge may stand out, in pixels of the overview.
const wedge = 40

// spread lets the pixels of the value on grow by r in a square.
func spread(m []bool, w, h, r int, on bool) []bool {
	out := make([]bool, len(m))
	for y := range h {
		row, to := m[y*w:(y+1)*w], out[y*w:(y+1)*w]
		last := -r - 1
		for x := range w {
			to[x] = !on
			if row[x] == on {
				last = x
			}
			if x-last <= r {
				to[x] = on
			}
		}
		last = w + r + 1
		for x := w - 1; x >= 0; x-- {
			if row[x] == on {
				last = x
			}
			if last-x <= r {
				to[x] = on
			}
		}
	}
	down := make([]bool, len(m))
	last := make([]int, w)
	for x := range last {
		last[x] = -r - 1
	}
	for y := range h {
		for x := range w {
			i := y*w + x
			down[i] = !on
			if out[i] == on {
				last[x] = y
			}
			if y-last[x] <= r {
				down[i] = on
			}
		}
	}
	for x := range last {
		last[x] = h + r + 1
	}
	for y := h - 1; y >= 0; y-- {
		for x := range w {
			i := y*w + x
			if out[i] == on {
				last[x] = y
			}
			if last[x]-y <= r {
				down[i] = on
			}
		}
	}
	return down
}
