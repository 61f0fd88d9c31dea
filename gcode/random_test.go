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

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}
