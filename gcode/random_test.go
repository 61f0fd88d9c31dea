package gcode

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
)

// oddWriter writes random programs that are right and look odd: any case, blanks
// in numbers, words in any order, comments anywhere, both units, relative and
// absolute, shifted, in three planes, arcs in both forms, cycles. It keeps its own
// account of where the tool stands.
type oddWriter struct {
	r     *rand.Rand
	b     strings.Builder
	at    [3]float64 // mm
	shift [3]float64
	saved [3]float64
	inch  bool
	rel   bool
	inv   bool
	plane int
	plain bool // no cycles, no inverse time: what survives printing exactly
}

func oddProgram(seed uint64, lines int) string {
	w := &oddWriter{r: rand.New(rand.NewPCG(seed, 77))}
	percent := w.r.IntN(4) == 0
	if percent {
		w.b.WriteString([]string{"%\n", "\n  %\t\n", "% \r\n"}[w.r.IntN(3)])
	}
	w.line("G21", "G17", "G90")
	w.line("G0", w.word('Z', 5))
	w.at[2] = 5
	w.line(w.word('S', float64(1000+w.r.IntN(20000))), "M3")
	w.line(w.word('F', float64(100+w.r.IntN(900))))
	for range lines {
		w.step()
	}
	w.line([]string{"M2", "M30", "m 3 0", "M02"}[w.r.IntN(4)])
	if percent {
		w.b.WriteString("%\nleftovers after the end ((\n")
	}
	return w.b.String()
}

// number writes v in one of the ways the standard allows.
func (w *oddWriter) number(v float64) string {
	s := fmt.Sprintf("%.*f", 4+w.r.IntN(2)*2, v)
	if strings.Contains(s, ".") && w.r.IntN(3) > 0 {
		s = strings.TrimRight(s, "0")
		if w.r.IntN(2) == 0 {
			s = strings.TrimSuffix(s, ".")
		}
	}
	neg := strings.HasPrefix(s, "-")
	s = strings.TrimPrefix(s, "-")
	switch w.r.IntN(8) {
	case 0:
		s = "00" + s
	case 1:
		if strings.HasPrefix(s, "0.") && len(s) > 2 {
			s = s[1:]
		}
	}
	switch {
	case neg:
		s = "-" + s
	case w.r.IntN(10) == 0:
		s = "+" + s
	}
	if w.r.IntN(8) == 0 {
		k := w.r.IntN(len(s) + 1)
		s = s[:k] + []string{" ", "\t", "  "}[w.r.IntN(3)] + s[k:]
	}
	return s
}

func (w *oddWriter) word(letter byte, v float64) string { return string(letter) + w.number(v) }

// line writes words in any order.
func (w *oddWriter) line(words ...string) {
	w.r.Shuffle(len(words), func(i, j int) { words[i], words[j] = words[j], words[i] })
	if w.r.IntN(15) == 0 {
		w.b.WriteByte('/')
	}
	if w.r.IntN(4) == 0 {
		fmt.Fprintf(&w.b, "N%d ", w.r.IntN(100000))
	}
	for _, s := range words {
		if w.r.IntN(3) == 0 {
			s = strings.ToLower(s)
		}
		w.b.WriteString(s)
		switch w.r.IntN(12) {
		case 0:
			w.b.WriteString("  ")
		case 1:
			w.b.WriteString("\t")
		case 2:
			w.b.WriteString("(a note, x1 y2; % #5)")
		default:
			w.b.WriteString([]string{"", " "}[w.r.IntN(2)])
		}
	}
	w.b.WriteString([]string{"\n", "\n", "\n", "\r\n", "\n\n", "\n(only a note)\n", " \n"}[w.r.IntN(7)])
}

func (w *oddWriter) unit() float64 {
	if w.inch {
		return 25.4
	}
	return 1
}

// axis gives the word for an axis to go to about mm, rounded as written, and where
// it truly goes.
func (w *oddWriter) axis(k int, mm float64) (string, float64) {
	u := w.unit()
	v := (mm - w.shift[k]) / u
	if w.rel {
		v = (mm - w.at[k]) / u
	}
	v = math.Round(v*1e4) / 1e4
	s := string(rune('X'+k)) + strings.TrimPrefix(w.number(v), "")
	if w.rel {
		return s, w.at[k] + v*u
	}
	return s, v*u + w.shift[k]
}

func (w *oddWriter) place() float64 { return float64(w.r.IntN(4000000))/1e4 - 200 }

func (w *oddWriter) step() {
	switch w.r.IntN(20) {
	case 0:
		w.inch = !w.inch
		w.line([]string{"G21", "G20"}[b2i(w.inch)])
		w.line(w.word('F', float64(10+w.r.IntN(500))))
	case 1:
		w.rel = !w.rel
		w.line([]string{"G90", "g9 1"}[b2i(w.rel)])
	case 2:
		w.plane = w.r.IntN(3)
		w.line(fmt.Sprintf("G%d", 17+w.plane))
	case 3:
		w.line("G4", w.word('P', float64(w.r.IntN(30))/10))
	case 4:
		switch w.r.IntN(4) {
		case 0:
			s, _ := w.axis(w.r.IntN(3), w.place())
			k := int(s[0] - 'X')
			v := parseWord(s)
			w.line("G92", s)
			w.shift[k] = w.at[k] - v*w.unit()
			w.saved = w.shift
		case 1:
			w.line("G92.1")
			w.shift, w.saved = [3]float64{}, [3]float64{}
		case 2:
			w.line("G92.2")
			w.shift = [3]float64{}
		case 3:
			w.line("G92.3")
			w.shift = w.saved
		}
	case 5:
		w.line([]string{"M7", "M8", "M9", "T1", "G61", "G64", "G61.1", "G40", "G49", "G17 G18 G19"[4*w.plane:][:3], "M48", "G43 H1", "G80", "M0", "M1", "M60"}[w.r.IntN(16)])
	case 6:
		if !w.plain {
			w.holes()
		}
	case 7:
		if !w.plain {
			s, v := w.axis(0, w.place())
			w.line("G93", "G1", s, w.word('F', 2.5))
			w.at[0] = v
			w.line("G94", w.word('F', float64(20+w.r.IntN(500))))
		}
	case 8, 9, 10, 11, 12:
		w.arc()
	default:
		var words []string
		op := w.r.IntN(2)
		words = append(words, []string{"G0", "G1", "G00", "G01"}[op+2*w.r.IntN(2)])
		to := w.at
		first := w.r.IntN(3)
		for k := range 3 {
			if k == first || w.r.IntN(2) == 0 {
				s, v := w.axis(k, w.place())
				words, to[k] = append(words, s), v
			}
		}
		if w.r.IntN(4) == 0 {
			words = append(words, w.word('F', float64(20+w.r.IntN(900))))
		}
		w.line(words...)
		w.at = to
	}
}

func parseWord(s string) float64 {
	p, _ := Parse("", []byte(s))
	return p.Words[0].Value
}

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

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}
