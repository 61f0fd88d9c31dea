package svg

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
)

// A matrix carries (x, y) to (a·x + c·y + e, b·x + d·y + f) (SVG 1.1, 7.4).
type matrix struct{ a, b, c, d, e, f float64 }

var identity = matrix{1, 0, 0, 1, 0, 0}

// times is n first, then m.
func (m matrix) times(n matrix) matrix {
	return matrix{
		m.a*n.a + m.c*n.b, m.b*n.a + m.d*n.b,
		m.a*n.c + m.c*n.d, m.b*n.c + m.d*n.d,
		m.a*n.e + m.c*n.f + m.e, m.b*n.e + m.d*n.f + m.f,
	}
}

func (m matrix) at(q orb.Point) orb.Point {
	return orb.Point{m.a*q[0] + m.c*q[1] + m.e, m.b*q[0] + m.d*q[1] + m.f}
}

func (m matrix) det() float64 { return m.a*m.d - m.b*m.c }

// parseTransform reads a list of transforms (SVG 1.1, 7.6).
func parseTransform(s string) (matrix, error) {
	m := identity
	for {
		s = strings.Trim(s, " \t\r\n,")
		if s == "" {
			return m, nil
		}
		name, rest, ok := strings.Cut(s, "(")
		args, after, closed := strings.Cut(rest, ")")
		if !ok || !closed {
			return m, fmt.Errorf("%s; want a name and numbers in brackets", quote(s))
		}
		n, err := numberList(args)
		if err != nil {
			return m, err
		}
		own, err := transform(strings.TrimSpace(name), n)
		if err != nil {
			return m, err
		}
		m, s = m.times(own), after
	}
}

func transform(name string, n []float64) (matrix, error) {
	bad := func(want string) (matrix, error) {
		return identity, fmt.Errorf("%s with %d numbers; want %s", quote(name), len(n), want)
	}
	switch name {
	case "matrix":
		if len(n) != 6 {
			return bad("6")
		}
		return matrix{n[0], n[1], n[2], n[3], n[4], n[5]}, nil
	case "translate":
		switch len(n) {
		case 1:
			return matrix{1, 0, 0, 1, n[0], 0}, nil
		case 2:
			return matrix{1, 0, 0, 1, n[0], n[1]}, nil
		}
		return bad("1 or 2")
	case "scale":
		switch len(n) {
		case 1:
			return matrix{n[0], 0, 0, n[0], 0, 0}, nil
		case 2:
			return matrix{n[0], 0, 0, n[1], 0, 0}, nil
		}
		return bad("1 or 2")
	case "rotate":
		if len(n) != 1 && len(n) != 3 {
			return bad("1 or 3")
		}
		s, c := turned(n[0])
		m := matrix{c, s, -s, c, 0, 0}
		if len(n) == 3 {
			m = matrix{1, 0, 0, 1, n[1], n[2]}.times(m).times(matrix{1, 0, 0, 1, -n[1], -n[2]})
		}
		return m, nil
	case "skewX", "skewY":
		if len(n) != 1 {
			return bad("1")
		}
		t := math.Tan(n[0] * math.Pi / 180)
		if name == "skewX" {
			return matrix{1, 0, t, 1, 0, 0}, nil
		}
		return matrix{1, t, 0, 1, 0, 0}, nil
	}
	return identity, fmt.Errorf("%s; want matrix, translate, scale, rotate, skewX or skewY", quote(name))
}

// turned is sine and cosine of an angle in degrees, exact at quarter turns.
func turned(degrees float64) (s, c float64) {
	switch math.Mod(math.Mod(degrees, 360)+360, 360) {
	case 0:
		return 0, 1
	case 90:
		return 1, 0
	case 180:
		return 0, -1
	case 270:
		return -1, 0
	}
	return math.Sincos(degrees * math.Pi / 180)
}

// numberList reads numbers with blanks or commas between them.
func numberList(s string) ([]float64, error) {
	var out []float64
	for _, f := range strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune(" \t\r\n,", r) }) {
		v, err := strconv.ParseFloat(f, 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || strings.ContainsAny(f, "xX_pPiI") {
			return nil, fmt.Errorf("%s is no number", quote(f))
		}
		out = append(out, v)
	}
	return out, nil
}
