package geom

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// convexShape draws a convex counter-clockwise path of lines and arcs: points on a
// circle, joined by arcs at most as round as the circle.
func convexShape(t *rapid.T) Path {
	n := rapid.IntRange(3, 14).Draw(t, "n")
	r := rapid.Float64Range(1, 300).Draw(t, "r")
	var angles []float64
	for range n {
		angles = append(angles, 2*math.Pi*rapid.Float64Range(0, 1).Draw(t, "turn"))
	}
	slices.Sort(angles)
	angles = slices.CompactFunc(angles, func(a, b float64) bool { return b-a < 1e-3 }) // edges under 2 Tol are tidied away
	if n = len(angles); n > 1 && angles[0]+2*math.Pi-angles[n-1] < 1e-3 {
		n--
		angles = angles[:n]
	}
	var v []Vertex
	for i, a := range angles {
		sweep := angles[(i+1)%n] - a
		if i == n-1 {
			sweep += 2 * math.Pi
		}
		b := 0.0
		if sweep < math.Pi && rapid.Bool().Draw(t, "arc") {
			b = rapid.Float64Range(0, 1).Draw(t, "round") * math.Tan(sweep/4)
		}
		s, c := math.Sincos(a)
		v = append(v, B(r*c, r*s, b))
	}
	p, err := NewPath(true, v...)
	require.NoError(t, err)
	return p
}

// Steiner's formula: outside a convex figure of area A and perimeter L the offset
// by t has the area A + Lt + πt² and the perimeter L + 2πt. Shrinking by t brings
// the figure back.
func TestOffsetKeepsSteinersFormula(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := convexShape(t)
		if p.Edges() < 2 || p.Area() < 1e-2 {
			return
		}
		d := math.Pow(10, rapid.Float64Range(-2, 2).Draw(t, "log d"))
		out, err := p.Offset(-d)
		require.NoError(t, err)
		require.Len(t, out, 1)
		a, l := p.Area(), p.Length()
		size := l + 2*math.Pi*d
		// corners that rise by less than 1e-8 mm get a vertex, not an arc
		require.InDelta(t, a+l*d+math.Pi*d*d, out[0].Area(), 1e-8*size)
		require.InDelta(t, size, out[0].Length(), 1e-6)
		back, err := out[0].Offset(d)
		require.NoError(t, err)
		require.Len(t, back, 1)
		require.InDelta(t, a, back[0].Area(), Tol*size)
	})
}
