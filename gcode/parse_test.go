package gcode

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// run parses and runs a program in the dialect and returns moves and findings.
func run(t testing.TB, d *Dialect, text string) ([]Move, []Finding) {
	t.Helper()
	p, found := Parse("test.ngc", []byte(text))
	var ms []Move
	found = append(found, p.Run(d, func(m *Move) { ms = append(ms, *m) })...)
	return ms, found
}

// The numbers of a line, however they are written.
func TestParseNumbers(t *testing.T) {
	for _, tt := range []struct {
		name, in string
		want     float64
		code     string
	}{
		{"whole", "X12", 12, ""},
		{"lower case", "x12", 12, ""},
		{"no zero before the point", "X.5", 0.5, ""},
		{"no digit behind the point", "X5.", 5, ""},
		{"plus", "X+5.25", 5.25, ""},
		{"minus", "X-0.0001", -0.0001, ""},
		{"leading zeros", "X0005.2500", 5.25, ""},
		{"blanks within", "X - 1 2 . 5 0", -12.5, ""},
		{"tab within", "X\t1\t2", 12, ""},
		{"blanks behind", "X12   ", 12, ""},
		{"fifteen digits", "X0.12345678901234", 0.12345678901234, ""},
		{"twenty digits", "X1.2345678901234567890", 1.2345678901234567890, ""},
		{"tenth", "X0.1", 0.1, ""},
		{"two points", "X1.2.3", 0, BadNumber},
		{"two signs", "X--1", 0, BadNumber},
		{"sign within", "X1-2", 0, BadNumber},
		{"point alone", "X.", 0, BadNumber},
		{"sign alone", "X-", 0, BadNumber},
		{"no number", "X", 0, BadNumber},
		{"exponent", "X1e5", 1, BadLetter},
		{"beyond every number", "X" + strings.Repeat("9", 250), 0, ""},
		{"parameter", "X#1", 0, Expression},
		{"expression", "X[1+2]", 0, Expression},
		{"function", "Xsin[30]", 0, Expression},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p, found := Parse("test.ngc", []byte(tt.in+"\nM2\n"))
			if tt.code != "" {
				require.Len(t, found, 1)
				require.Equal(t, tt.code, found[0].Code)
				require.Equal(t, 1, found[0].Line)
				return
			}
			require.Empty(t, found)
			if tt.want != 0 {
				require.Equal(t, Word{Value: tt.want, Off: 0, Letter: 'X'}, p.Words[0])
			}
		})
	}
}

// NISTIR 6556, 3.5.3.2: from (7, 7), G17 G2 X10 Y16 I3 J4 Z9 has its centre at
// (10, 11) and radius 5.
func TestWorkedArc(t *testing.T) {
	ms, found := run(t, RS274NGC(), "G21 G0 X7 Y7\nF100\nG17 G2 X10 Y16 I3 J4 Z9\nM2\n")
	require.Empty(t, found)
	arc := ms[len(ms)-1]
	require.Equal(t, CW, arc.Op)
	require.Equal(t, [2]float64{10, 11}, [2]float64(arc.Centre))
	require.Equal(t, [3]float64{10, 16, 9}, arc.To)
	require.InDelta(t, 5, arc.Radius(), 1e-12)
}
