package gcode

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// The figures of a small program, by hand.
func TestSummary(t *testing.T) {
	p, found := Parse("x", []byte("G21 G17 G90\nG0 Z5\nS1000 M3\nG0 X10\nG1 Z-2 F100\nG1 X20 F300\nG3 X20 Y20 J10\nG0 Z5\nM0\nM2\n"))
	require.Empty(t, found)
	s, found := p.Check(RS274NGC(), Setup{Top: 0}, nil)
	require.Empty(t, found)
	require.Equal(t, [3]float64{10, 0, -2}, s.Lo)
	require.Equal(t, [3]float64{30, 20, 5}, s.Hi)
	require.Equal(t, -2.0, s.Deepest())
	require.InDelta(t, 7+10+10*math.Pi, s.Cut, 1e-12)
	require.InDelta(t, 5+10+7, s.Rapid, 1e-12)
	require.Equal(t, [2]float64{100, 300}, s.Feed)
	require.Equal(t, [2]float64{1000, 1000}, s.RPM)
	require.Equal(t, []int{3, 3, 1}, []int{s.Cuts, s.Rapids, s.Pauses})
	require.Equal(t, "mm", s.Units)

	s, _ = p.Check(RS274NGC(), Setup{SkipOff: true}, nil)
	require.Equal(t, 3, s.Cuts)
	p, _ = Parse("x", []byte("G0 X1\nM2\n"))
	s, _ = p.Check(RS274NGC(), Setup{}, nil)
	require.Zero(t, s.Cuts)
	require.Zero(t, s.Lo)
	require.Zero(t, s.Hi)
	require.Equal(t, "", s.Units)
}

// The box round an arc, against thousands of its points, in every plane.
func TestMoveBound(t *testing.T) {
	for seed := range 20 {
		for _, m := range randomMoves(uint64(seed), 60) {
			lo, hi := m.Bound()
			seenLo, seenHi := [3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}, [3]float64{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
			const n = 2000
			for k := 0; k <= n; k++ {
				p := m.At(float64(k) / n)
				for a := range 3 {
					seenLo[a], seenHi[a] = min(seenLo[a], p[a]), max(seenHi[a], p[a])
				}
			}
			slack := 1e-9
			if m.Arc() {
				slack += m.Radius() * 1e-5 // a chord of 2π/2000 rises r·1.2e-6
			}
			for a := range 3 {
				require.LessOrEqual(t, lo[a], seenLo[a]+1e-9)
				require.GreaterOrEqual(t, hi[a], seenHi[a]-1e-9)
				require.InDelta(t, lo[a], seenLo[a], slack)
				require.InDelta(t, hi[a], seenHi[a], slack)
			}
		}
	}
}
