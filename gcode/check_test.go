package gcode

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// checkCodes gives line:code of each finding of a check.
func checkCodes(t testing.TB, d *Dialect, s Setup, lines ...string) []string {
	t.Helper()
	p, found := Parse("x", []byte(strings.Join(lines, "\n")+"\nM2\n"))
	_, ran := p.Check(d, s, nil)
	var out []string
	for _, f := range append(found, ran...) {
		out = append(out, Number(float64(f.Line), 0)+":"+f.Code)
	}
	return out
}

// What a program is judged by beyond its own text: the sheet's top, the tool, the
// machine.
func TestCheckSetup(t *testing.T) {
	travel := &[2][3]float64{{0, 0, -50}, {300, 200, 60}}
	for _, tt := range []struct {
		name  string
		s     Setup
		lines []string
		want  []string
	}{
		{"table zero, above the top", Setup{Top: 6}, []string{"G21 G0 Z11", "G1 X5 F100", "G1 Z6", "G0 Z11"}, nil},
		{"table zero, spindle off", Setup{Top: 6}, []string{"G21 G0 Z11", "G1 Z5.9 F100"}, []string{"2:RS102"}},
		{"table zero, rapid across", Setup{Top: 6}, []string{"G21 G0 Z11 S9 M3", "G1 Z3 F100", "G0 X5"}, []string{"3:RS401"}},
		{"two steps are no depth", Setup{Top: 6}, []string{"G21 G0 Z11", "G1 Z5.9999 F100"}, nil},
		{"a mill the wrong way round", Setup{Mill: true}, []string{"G21 G0 Z5 S9 M4", "G1 Z-1 F100", "X5"}, []string{"2:RS105"}},
		{"any tool the other way round", Setup{}, []string{"G21 G0 Z5 S9 M4", "G1 Z-1 F100", "X5"}, nil},
		{"feed above the machine's", Setup{FeedMax: 1000}, []string{"G21 G0 Z5", "G1 X5 F1000", "X6 F1001", "X7", "X8 F900", "X9 F1001"}, []string{"3:RS106"}},
		{"within the travel", Setup{Travel: travel}, []string{"G21 G0 Z60", "G0 X300 Y200", "G1 X0 F9", "Y0", "Z-50 S1 M3"}, nil},
		{"beyond the travel, told once", Setup{Travel: travel}, []string{"G21 G0 Z60", "G0 X300.1", "G0 X301"}, []string{"2:RS301"}},
		{"an arc beyond the travel", Setup{Travel: travel}, []string{"G21 G0 X280 Y100", "G2 X280 Y60 J-20.0 F9", "G2 X280 Y10 J-25 F9"}, []string{"3:RS301"}},
		{"spindle stopped and told again", Setup{}, []string{"G21 G0 Z5", "G1 Z-1 F100", "M3 S100", "X5", "M5", "X6", "X7"}, []string{"2:RS102", "6:RS102"}},
		{"a second tool", Setup{Mill: true}, []string{"G21 T1 M6", "G0 Z5 S9 M3", "G1 Z-1 F100", "G0 Z5", "T2 M6"}, []string{"5:RS609"}},
		{"peck", Setup{}, []string{"G21 G0 Z5 S9 M3 F100", "G99 G83 X1 Y1 Z-9 R1 Q2", "X5"}, nil},
		{"plunge in another plane", Setup{}, []string{"G21 G0 Z1 F100", "G18 G2 X4 Z1 I2"}, []string{"2:RS102"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.Equal(t, tt.want, checkCodes(t, RS274NGC(), tt.s, tt.lines...))
		})
	}
}

// Places that grbl stores, and offsets set where the tool stands, are known.
func TestGrblPlaces(t *testing.T) {
	ms, found := run(t, Grbl(), "G21 G0 X10 Y20 Z5\nG28.1\nG0 X50 Z7\nG28\nG0 X1\nG28 Z30\nG10 L20 P1 X0\nG0 X3\nG10 L20 P0 Y0\nG0 Y2\nM30\n")
	require.Empty(t, found)
	var at [][3]float64
	for _, m := range ms {
		at = append(at, m.To)
	}
	require.Equal(t, [][3]float64{
		{10, 20, 5}, {50, 20, 7}, {10, 20, 5}, {1, 20, 5},
		{1, 20, 30}, {1, 20, 5}, // by way of Z30
		{4, 20, 5}, {4, 22, 5},
	}, at)
	_, found = run(t, RS274NGC(), "G21 G0 X10\nG10 L20 P1 X0\nM2\n")
	require.Equal(t, BadValue, found[0].Code, "L20 is grbl's")
}

// grbl moves fast without a motion code, as after its reset; its F has the units
// of its own line, that of N those in force before.
func TestDialectsDiffer(t *testing.T) {
	ms, found := run(t, Grbl(), "G21\nX5\nM30\n")
	require.Empty(t, found)
	require.Equal(t, Rapid, ms[0].Op)
	ms, _ = run(t, Grbl(), "G20 F10 G1 X1\nM30\n")
	require.Equal(t, 254.0, ms[0].Feed)
	ms, _ = run(t, RS274NGC(), "G20 F10 G1 X1\nM30\n")
	require.Equal(t, 10.0, ms[0].Feed)
	require.Equal(t, 25.4, ms[0].To[0])

	_, err := DialectNamed("other")
	require.EqualError(t, err, `dialect "other" is not known; want one of grbl, rs274ngc`)
	for _, name := range Dialects() {
		d, err := DialectNamed(name)
		require.NoError(t, err)
		require.Equal(t, name, d.Name)
		list := d.List()
		require.Len(t, list, len(d.Codes))
		require.Equal(t, "G0", list[0])
	}
}

// Inverse time: F is how many of the move fit in a minute.
func TestInverseTime(t *testing.T) {
	ms, found := run(t, RS274NGC(), "G21 G93 G1 X10 F6\nG3 X10 Y20 J10 F2\nM2\n")
	require.Empty(t, found)
	require.InDelta(t, 60, ms[0].Feed, 1e-12)
	require.InDelta(t, 2*ms[1].Length(), ms[1].Feed, 1e-9)
}

// A file that is no program at all does not fill the screen.
func TestFindingsEnd(t *testing.T) {
	_, found := Parse("x", []byte(strings.Repeat("@\n", 5000)))
	require.Len(t, found, mostFindings+1)
	require.Equal(t, TooMany, found[mostFindings].Code)
	p, _ := Parse("x", []byte("G21\n"+strings.Repeat("G7\n", 5000)+"M2\n"))
	found = p.Run(RS274NGC(), func(*Move) {})
	require.Len(t, found, mostFindings+1)
}
