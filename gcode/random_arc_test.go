package gcode

import (
	"fmt"
	"math"
)

// arc writes an arc in the plane in force.
func (w *oddWriter) arc() {
	ax := planeAxes[w.plane]
	a, b, h := ax[0], ax[1], ax[2]
	u := w.unit()
	r := float64(w.r.IntN(500000))/1e4 + 0.5
	start := w.r.Float64() * 2 * math.Pi
	sweep := (w.r.Float64()*1.9 + 0.05) * math.Pi
	ccw := w.r.IntN(2) == 0
	full := w.r.IntN(6) == 0
	if full {
		sweep = 2 * math.Pi
	}
	if !ccw {
		sweep = -sweep
	}
	// The offsets as written decide the radius; the end is rounded to 1e-6 so
	// that it keeps within the rule.
	i := math.Round(-r*math.Cos(start)/u*1e4) / 1e4
	j := math.Round(-r*math.Sin(start)/u*1e4) / 1e4
	if math.Hypot(i, j)*u < 0.3 {
		return
	}
	ca, cb := w.at[a]+i*u, w.at[b]+j*u
	sin, cos := math.Sincos(sweep)
	ta := ca + cos*(w.at[a]-ca) - sin*(w.at[b]-cb)
	tb := cb + sin*(w.at[a]-ca) + cos*(w.at[b]-cb)
	word := func(k int, mm float64) (string, float64) {
		v := (mm - w.shift[k]) / u
		if w.rel {
			v = (mm - w.at[k]) / u
		}
		s := fmt.Sprintf("%c%.7f", 'X'+k, v)
		v = parseWord(s)
		if w.rel {
			return s, w.at[k] + v*u
		}
		return s, v*u + w.shift[k]
	}
	words := []string{[]string{"G2", "G3", "G02", "g3"}[b2i(ccw)+2*w.r.IntN(2)]}
	to := w.at
	if full {
		// The end is the start when both words are left as they are. In the
		// absolute mode it has to be written exactly: go there first.
		if !w.rel {
			sa, va := w.axis(a, w.at[a])
			sb, vb := w.axis(b, w.at[b])
			w.line("G0", sa, sb)
			w.at[a], w.at[b] = va, vb
			words = append(words, sa, sb)
		} else {
			words = append(words, fmt.Sprintf("%c0", 'X'+a))
		}
		to = w.at
	} else {
		sa, va := word(a, ta)
		sb, vb := word(b, tb)
		words = append(words, sa, sb)
		to[a], to[b] = va, vb
	}
	if w.r.IntN(3) == 0 {
		s, v := w.axis(h, w.place())
		words = append(words, s)
		to[h] = v
	}
	if !full && w.r.IntN(3) == 0 && math.Abs(math.Abs(sweep)-math.Pi) > 0.1 && math.Abs(sweep) < 1.8*math.Pi {
		r := math.Hypot(i, j)
		if math.Abs(sweep) > math.Pi {
			r = -r
		}
		words = append(words, fmt.Sprintf("R%.7f", r))
	} else {
		words = append(words, fmt.Sprintf("%c%.4f", 'I'+a, i), fmt.Sprintf("%c%.4f", 'I'+b, j))
	}
	w.line(words...)
	w.at = to
}

// holes writes a canned cycle.
func (w *oddWriter) holes() {
	ax := planeAxes[w.plane]
	a, b, h := ax[0], ax[1], ax[2]
	u := w.unit()
	code := []string{"G81", "G82", "G83", "G85", "G89"}[w.r.IntN(5)]
	back := []string{"G98", "G99"}[w.r.IntN(2)]
	r, z := float64(w.r.IntN(100))/10/u, -float64(w.r.IntN(100))/10/u
	if w.rel {
		z = -float64(w.r.IntN(100)) / 10 / u
	}
	r, z = math.Round(r*1e3)/1e3, math.Round(z*1e3)/1e3
	words := []string{code, back, fmt.Sprintf("%c%.3f", 'X'+h, z), fmt.Sprintf("R%.3f", r)}
	switch code {
	case "G82", "G89":
		words = append(words, "P0.5")
	case "G83":
		words = append(words, fmt.Sprintf("Q%.4f", 1.9371/u))
	}
	sa, va := w.axis(a, w.place())
	words = append(words, sa)
	n := 1
	if w.r.IntN(3) == 0 {
		n = 1 + w.r.IntN(3)
		words = append(words, fmt.Sprintf("L%d", n))
	}
	start := w.at
	w.line(words...)
	if w.rel {
		va = start[a] + float64(n)*(va-start[a])
	}
	w.at[a] = va
	rr := r*u + w.shift[h]
	if w.rel {
		rr = start[h] + r*u
	}
	end := rr
	if back == "G98" && start[h] > rr {
		end = start[h]
	}
	w.at[h] = end
	if !w.rel && w.r.IntN(2) == 0 {
		sb, vb := w.axis(b, w.place())
		w.line(sb)
		w.at[b] = vb
	}
	w.line("G80")
}
