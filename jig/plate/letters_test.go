package plate

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/geom"
)

// Every glyph keeps to its box, and no two roundings of a stroke need the same
// piece of an edge (the path would run back on itself).
func TestAlphabetKeepsItsGrid(t *testing.T) {
	glyphs := map[rune]glyph{'\x00': unknown}
	for r, g := range alphabet {
		glyphs[r] = g
	}
	for r, g := range glyphs {
		for i, st := range g.strokes {
			require.GreaterOrEqual(t, len(st), 2, "%q stroke %d", r, i)
			closed := len(st) > 2 && st[0] == st[len(st)-1]
			p := stroke(st, 1, orb.Point{}, 0)
			require.Equal(t, closed, p.Closed, "%q stroke %d", r, i)
			b := p.Bound()
			low := 0.0
			if strings.ContainsRune(",;_|", r) {
				low = -gridHeight / 5
			}
			assert.GreaterOrEqual(t, b.Min[0], -1e-9, "%q stroke %d", r, i)
			assert.LessOrEqual(t, b.Max[0], g.w+1e-9, "%q stroke %d", r, i)
			assert.GreaterOrEqual(t, b.Min[1], low-1e-9, "%q stroke %d", r, i)
			assert.LessOrEqual(t, b.Max[1], gridHeight+1e-9, "%q stroke %d", r, i)

			cut := make([]float64, len(st)) // r·tan(θ/2)
			for j := 1; j+1 < len(st); j++ {
				a, b := toward(st[j], st[j-1]), toward(st[j], st[j+1])
				cut[j] = st[j][2] / math.Tan(math.Acos(a[0]*b[0]+a[1]*b[1])/2)
			}
			for j := 1; j < len(st); j++ {
				l := math.Hypot(st[j][0]-st[j-1][0], st[j][1]-st[j-1][1])
				assert.LessOrEqual(t, cut[j-1]+cut[j], l+1e-9, "%q stroke %d: the roundings of corners %d and %d overlap", r, i, j-1, j)
			}
		}
	}
}

// An arc leaves and enters its neighbours without a kink: a rounded corner's
// tangent points and bulge belong together.
func TestRoundingsAreTangent(t *testing.T) {
	for r, g := range alphabet {
		for _, st := range g.strokes {
			p := stroke(st, 1, orb.Point{}, 0)
			arcs := 0
			for i := range p.Edges() {
				e := p.Edge(i)
				if e.Bulge == 0 {
					continue
				}
				arcs++
				if i > 0 || p.Closed {
					before := p.Edge((i + p.Edges() - 1) % p.Edges())
					assert.InDelta(t, 1, dot(before.Direction(1), e.Direction(0)), 1e-9, "%q", r)
				}
				if i+1 < p.Edges() || p.Closed {
					after := p.Edge((i + 1) % p.Edges())
					assert.InDelta(t, 1, dot(e.Direction(1), after.Direction(0)), 1e-9, "%q", r)
				}
			}
			rounded := 0
			for _, c := range st {
				if c[2] > 0 {
					rounded++
				}
			}
			assert.Equal(t, rounded, arcs, "%q", r)
		}
	}
}

func dot(a, b orb.Point) float64 { return a[0]*b[0] + a[1]*b[1] }

func TestNoTwoLettersAreDrawnAlike(t *testing.T) {
	seen := map[string]rune{}
	for r, g := range alphabet {
		var key strings.Builder
		for _, st := range g.strokes {
			for _, v := range stroke(st, 1, orb.Point{}, 0).V {
				fmt.Fprintf(&key, "%.6f %.6f %.6f;", v.X(), v.Y(), v.Bulge)
			}
			key.WriteString("/")
		}
		if other, ok := seen[key.String()]; ok {
			t.Errorf("%q is drawn as %q", r, other)
		}
		seen[key.String()] = r
	}
	for _, r := range "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ.-/+×°():,= " {
		assert.Contains(t, alphabet, r)
	}
	for r, as := range spelling {
		for _, a := range as {
			assert.Contains(t, alphabet, a, "%q is spelled %q", r, as)
		}
	}
}

func TestLetters(t *testing.T) {
	ps, w := Letters("l7", orb.Point{10, 20}, 4)
	require.Len(t, ps, 2)
	assert.InDelta(t, (4.2+2+4.5)/2, w, 1e-12) // a unit is 0.5 mm
	assert.Equal(t, geom.Path{V: []geom.Vertex{geom.V(10, 24), geom.V(10, 20), geom.V(12.1, 20)}}, ps[0])
	assert.InDelta(t, 10+3.1, ps[1].Start()[0], 1e-12)

	upper, wu := Letters("RIDGE Å ½ 19 MM", orb.Point{}, 5)
	lower, wl := Letters("ridge a 1/2\t19 mm", orb.Point{}, 5)
	assert.Equal(t, upper, lower)
	assert.Equal(t, wu, wl)

	boxes, _ := Letters("\x00\xff\u202e漢", orb.Point{}, 5)
	assert.Len(t, boxes, 8, "four crossed boxes")

	for _, h := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		ps, w := Letters("A", orb.Point{}, h)
		assert.Empty(t, ps)
		assert.Zero(t, w)
	}
	ps, w = Letters("", orb.Point{}, 5)
	assert.Empty(t, ps)
	assert.Zero(t, w)
}

// Whatever the text, the drawing lies within the stated width and height, and a
// text twice as high is the same drawing twice as large.
func TestLettersFitTheirWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "s")
		h := rapid.Float64Range(0.5, 50).Draw(t, "h")
		at := orb.Point{rapid.Float64Range(-1000, 1000).Draw(t, "x"), rapid.Float64Range(-1000, 1000).Draw(t, "y")}
		ps, w := Letters(s, at, h)
		require.InDelta(t, w, LettersWidth(s, h), 1e-9)
		for _, p := range ps {
			b := p.Bound()
			require.GreaterOrEqual(t, b.Min[0], at[0]-1e-6)
			require.LessOrEqual(t, b.Max[0], at[0]+w+1e-6)
			require.GreaterOrEqual(t, b.Min[1], at[1]-h/5-1e-6)
			require.LessOrEqual(t, b.Max[1], at[1]+h+1e-6)
			require.GreaterOrEqual(t, p.Edges(), 1)
		}
		twice, w2 := Letters(s, at, 2*h)
		require.Len(t, twice, len(ps))
		require.InDelta(t, 2*w, w2, 1e-9)
	})
}
