package gcode

import (
	"bytes"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
)

// The text of a small program, whole, in both dialects: what stands at the top,
// when the spindle starts, how comments look, how a circle is parted.
func TestPrintText(t *testing.T) {
	ms := []Move{
		{Op: Rapid, To: [3]float64{0, 0, 11}},
		{Op: Rapid, From: [3]float64{0, 0, 11}, To: [3]float64{10, 10, 11}, RPM: 18000},
		{Op: Line, From: [3]float64{10, 10, 11}, To: [3]float64{10, 10, 6}, Feed: 300, RPM: 18000},
		{Op: CCW, From: [3]float64{10, 10, 6}, To: [3]float64{10, 10, 5.5}, Centre: orb.Point{13, 10}, Feed: 900, RPM: 18000},
		{Op: Line, From: [3]float64{10, 10, 5.5}, To: [3]float64{10.00004, 10, 5.5}, Feed: 900, RPM: 18000}, // too short
		{Op: Rapid, From: [3]float64{10.00004, 10, 5.5}, To: [3]float64{10, 10, 11}, RPM: 18000},
		{Op: Pause, From: [3]float64{10, 10, 11}, To: [3]float64{10, 10, 11}},
		{Op: Rapid, From: [3]float64{10, 10, 11}, To: [3]float64{50, 10, 11}, RPM: 12000},
		{Op: Dwell, Feed: 0.25, From: [3]float64{50, 10, 11}, To: [3]float64{50, 10, 11}, RPM: 12000},
		{Op: Line, From: [3]float64{50, 10, 11}, To: [3]float64{50, 10, 6}, Feed: 300, RPM: 12000},
		{Op: Line, From: [3]float64{50, 10, 6}, To: [3]float64{60, 10, 6}, Feed: 900, RPM: 9000},
		{Op: Rapid, From: [3]float64{60, 10, 6}, To: [3]float64{60, 10, 11}, RPM: 9000},
	}
	l := Listing{
		Head:  Head{Zero: "table", Thickness: 6, Mill: 3.175}.Comment(),
		Notes: map[int]string{2: "bore 1, ½\" — (é!)", 6: "screw through both bores", 12: "end"},
		Moves: ms, Dwell: 3,
	}
	top := "(units mm, zero table, sheet 6 mm, mill 3.175 mm)\nG21 G17 G90\nG40 G49 G94 G80\nG54 G61\nG0 Z11\n"
	body := `S18000 M3
G4 P3
G0 X10 Y10
(bore 1, 1/2" - <e.>)
G1 Z6 F300
G3 X14.5 Y7.4019 Z5.8333 I3 J0 F900
G3 X14.5 Y12.5981 Z5.6667 I-1.5 J2.5981
G3 X10 Y10 Z5.5 I-1.5 J-2.5981
G0 Z11
(screw through both bores)
M5
M0
S12000 M3
G4 P3
G0 X50
G4 P0.25
G1 Z6 F300
S9000
G1 X60 F900
G0 Z11
(end)
M5
M30
`
	for _, name := range Dialects() {
		d, _ := DialectNamed(name)
		require.Equal(t, top+body, printed(t, d, l), name)
	}

	// A dial: the operator is asked, and S and M3 are written all the same. In
	// inches the words have five decimals.
	l.Dial, l.Inch, l.Notes = true, true, nil
	l.Moves = ms[:3]
	require.Equal(t, "(units mm, zero table, sheet 6 mm, mill 3.175 mm)\nG20 G17 G90\nG40 G49 G94 G80\nG54 G61\nG0 Z0.43307\n"+
		"(MSG, set the spindle to 18000 rpm, start it, then go on)\nM0\nS18000 M3\nG4 P3\nG0 X0.3937 Y0.3937\nG1 Z0.23622 F11.811\nM5\nM30\n",
		printed(t, RS274NGC(), l))

	// Moves that do not begin with a lift get one, and a first cut its place.
	require.Equal(t, "G21 G17 G90\nG40 G49 G94 G80\nG54 G61\nG0 Z3\nG0 X1 Y2\nG1 Z1 F50\nM5\nM30\n",
		printed(t, RS274NGC(), Listing{Moves: []Move{{Op: Line, From: [3]float64{1, 2, 3}, To: [3]float64{1, 2, 1}, Feed: 50}}}))
	require.Equal(t, "G21 G17 G90\nG40 G49 G94 G80\nG54 G61\nM5\nM30\n", printed(t, RS274NGC(), Listing{}))
}

// Comments of any text are comments that every controller reads, and no byte of
// them acts.
func TestPrintComments(t *testing.T) {
	var b bytes.Buffer
	l := Listing{Head: []string{"", "a (b) [c] ?!~%#;\t\x00\x7f\n°×±µ日本", "word-" + string(bytes.Repeat([]byte("x"), 200))}}
	require.NoError(t, Print(&b, Grbl(), l))
	for _, line := range bytes.Split(b.Bytes(), []byte("\n")) {
		require.LessOrEqual(t, len(line), 74)
	}
	for _, name := range Dialects() {
		d, _ := DialectNamed(name)
		_, found := run(t, d, b.String())
		require.Empty(t, found)
	}
	require.NotContains(t, b.String(), "?")
	require.NotContains(t, b.String(), "!")
	require.NotContains(t, b.String(), "~")
}

// Numbers are written in their shortest form, and read back as they were.
func TestNumber(t *testing.T) {
	for _, tt := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{0, 4, "0"}, {-0.00001, 4, "0"}, {1, 4, "1"}, {-1.5, 4, "-1.5"}, {0.0001, 4, "0.0001"}, {-0.0001, 4, "-0.0001"},
		{12.345651, 4, "12.3457"}, {100, 0, "100"}, {1.0 / 3, 5, "0.33333"}, {10, 4, "10"}, {9999.99999, 4, "10000"}, {1e12, 4, "?"},
	} {
		require.Equal(t, tt.want, Number(tt.v, tt.decimals))
	}
	require.Equal(t, "-9223372036854.775808", string(AppendNumber(nil, -1<<63, 6)))
}
