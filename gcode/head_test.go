package gcode

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"
)

// What a head states is found again in the printed program, in both units.
func TestHeadReadsBack(t *testing.T) {
	for _, h := range []Head{
		{},
		{Zero: "top"},
		{Zero: "table", Thickness: 6.02, Mill: 3.11, For: "milling"},
		{Inch: true, Zero: "table", Thickness: 6.35, Mill: 3.1114, For: "engraving"},
		{Zero: "table", Thickness: 6, Mill: 3.175, For: "milling", Limits: []Limit{
			{"through", 0.3}, {"safe", 5}, {"ramp", 3}, {"step", 1.5}, {"tab", 4}, {"tabhigh", 1.2}, {"flute", 15},
			{"feed", 1500}, {"feedlow", 120.5}, {"rpmlow", 8000}, {"rpmhigh", 24000}, {"spinup", 3}}},
	} {
		h.Lines = []string{"block for ridge-lock, 19 mm", "a line of more than seventy-two characters that will be broken somewhere about here"}
		var b bytes.Buffer
		require.NoError(t, Print(&b, Grbl(), Listing{Head: h.Comment(), Inch: h.Inch, Moves: randomMoves(1, 5)}))
		p, found := Parse("x", b.Bytes())
		require.Empty(t, found)
		got, ok := ParseHead(p)
		require.True(t, ok)
		require.Len(t, got.Lines, 3)
		require.Equal(t, h.Lines[0], got.Lines[0])
		require.InDelta(t, h.Mill, got.Mill, 2e-6)
		require.InDelta(t, h.Thickness, got.Thickness, 2e-6)
		got.Lines, got.Mill, got.Thickness = h.Lines, h.Mill, h.Thickness
		require.Equal(t, h, got)
	}
}

// Other programs have no such head, and rubbish in one is not taken for a value.
func TestHeadOfOthers(t *testing.T) {
	for _, text := range []string{
		"", "G21\n(units mm, zero top)\nM2\n", "(a block)\nM2\n", "(units yd, zero top)\nM2\n", "units mm, zero top\n", "(units mm zero top)\nM2\n",
	} {
		p, _ := Parse("x", []byte(text))
		_, ok := ParseHead(p)
		require.False(t, ok, text)
	}
	p, _ := Parse("x", []byte("(units in, zero floor, sheet -3 in, mill 1e400 in, mill x in, sheet 5, for)\n(limits a, b c, d 1e400, e 5)\nM2\n"))
	h, ok := ParseHead(p)
	require.True(t, ok)
	require.Equal(t, Head{Inch: true, Limits: []Limit{{"e", 5}}}, h)
}
