package plan

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
)

// worked is an invented 45° lock miter cutter, 30 high.
func worked(t require.TestingT, kind string, stock float64) *joint.Setting {
	p, err := geom.NewPath(false, geom.V(34, 0), geom.V(24, 10), geom.V(25.5, 10.5), geom.V(25.5, 14.4),
		geom.V(12.5, 15.6), geom.V(12.5, 19.5), geom.V(14, 20), geom.V(4, 30))
	require.NoError(t, err)
	c := &cutter.Cutter{Handle: "worked", Name: "Worked", Joint: kind, Units: "mm", Profile: p, Known: [2]bool{true, true}}
	s, err := joint.Solve(joint.Request{Cutter: c, Stock: stock})
	require.NoError(t, err)
	return s
}

// Two sides of 4 in take a blank of about 9 in: common practice, no source.
func TestBlankForTwoFourInchSides(t *testing.T) {
	s := Saw{Kerf: 3.2, Edge: 12}
	assert.InDelta(t, 9, s.blankWidth(2, 4*25.4)/25.4, 0.1)
}

// No side of any box has one pass of each kind; every side of a mitered box is as
// long as its outside; blanks give their pieces; the stages cut everything, in about
// equal parts.
func TestBoxes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := worked(t, "lock-miter", rapid.Float64Range(17, 25).Draw(t, "stock"))
		b := Box{
			Length: rapid.Float64Range(120, 900).Draw(t, "length"), Width: rapid.Float64Range(120, 900).Draw(t, "width"),
			Height: rapid.Float64Range(40, 300).Draw(t, "height"), Setting: s, Saw: Saw{3, 12}, Bottom: 6,
		}
		p, err := b.Plan()
		require.NoError(t, err)
		seen := map[string]string{}
		outside := []float64{math.Max(b.Length, b.Width), math.Min(b.Length, b.Width)}
		for i, piece := range p.Pieces[:2] {
			require.InDelta(t, outside[i], piece.Length, 1e-9)
			require.Equal(t, 2, piece.Count)
			for _, label := range strings.Split(piece.Label, ", ") {
				require.NotContains(t, seen, label, "a side with two passes")
				seen[label] = piece.Pass
			}
			blank := p.Blanks[i]
			require.Equal(t, piece.Label, blank.For)
			require.GreaterOrEqual(t, blank.Width, 2*piece.Width+b.Saw.Kerf+2*b.Saw.Edge-1e-9)
			require.InDelta(t, piece.Length, blank.Length, 1e-9)
		}
		require.Equal(t, map[string]string{"A": "flat", "C": "flat", "B": "upright", "D": "upright"}, seen)
		bottom := p.Pieces[2]
		require.Equal(t, "bottom", bottom.Label)
		inside := outside[0] - 2*s.Passes[0].Stock
		require.Greater(t, bottom.Length, inside, "it enters its grooves")
		require.Less(t, bottom.Length, inside+2*s.Passes[0].Stock/3)

		stages := p.Stages["flat"]
		total := area(s.Passes[0], 0)
		sum := 0.0
		for i, st := range stages {
			sum += st.Area
			require.LessOrEqual(t, st.Area, lesson*1.25)
			require.InDelta(t, total/float64(len(stages)), st.Area, 0.3*total/float64(len(stages)))
			if i > 0 {
				require.Less(t, st.Spacer, stages[i-1].Spacer)
			}
		}
		require.InDelta(t, total, sum, 1e-9)
		require.Zero(t, stages[len(stages)-1].Spacer)
	})
}

// A 45° lock miter takes half the section's square: T²/2, the tooth and its groove
// being alike.
func TestAreaOfTheCut(t *testing.T) {
	assert.InDelta(t, 19.0*19/2, area(worked(t, "lock-miter", 19).Passes[0], 0), 1e-9)
}

func TestPosts(t *testing.T) {
	p, err := Post{Size: 90, Length: 800, Setting: worked(t, "lock-miter", 19), Saw: Saw{3, 10}}.Plan()
	require.NoError(t, err)
	assert.Equal(t, "flat", p.Pieces[0].Pass)
	assert.Equal(t, "upright", p.Pieces[1].Pass)
	assert.InDelta(t, 4*90+3*3+20, p.Blanks[0].Width, 1e-9)
}

// The boards of a panel, each joint less its interlock, come out as wide as wanted.
func TestPanels(t *testing.T) {
	s := worked(t, "edge-glue", 19)
	b := Panel{Width: 400, Length: 900, Boards: 5, Setting: s, Saw: Saw{3, 5}}
	p, err := b.Plan()
	require.NoError(t, err)
	eats := s.Nested().T[0]
	assert.Positive(t, eats)
	assert.InDelta(t, b.Width+2*b.Saw.Edge, 5*p.Pieces[0].Width-4*eats, 1e-9)
}

func TestRefusals(t *testing.T) {
	miter, glue := worked(t, "lock-miter", 19), worked(t, "edge-glue", 19)
	for _, tt := range []struct {
		name, want string
		err        func() error
	}{
		{"box of an edge joint", "corner joint", func() error { _, err := Box{300, 200, 100, glue, Saw{3, 10}, 0, 0, 0}.Plan(); return err }},
		{"tiny box", "want 76 to 5000", func() error { _, err := Box{60, 200, 100, miter, Saw{3, 10}, 0, 0, 0}.Plan(); return err }},
		{"no number", "length", func() error { _, err := Box{math.NaN(), 200, 100, miter, Saw{3, 10}, 0, 0, 0}.Plan(); return err }},
		{"kerf", "kerf", func() error { _, err := Box{300, 200, 100, miter, Saw{-1, 10}, 0, 0, 0}.Plan(); return err }},
		{"thick bottom", "no thicker", func() error { _, err := Box{300, 200, 100, miter, Saw{3, 10}, 30, 0, 0}.Plan(); return err }},
		{"panel of a corner joint", "edge joint", func() error { _, err := Panel{400, 900, 4, miter, Saw{3, 5}}.Plan(); return err }},
		{"one board", "want 2 to 50", func() error { _, err := Panel{400, 900, 1, glue, Saw{3, 5}}.Plan(); return err }},
		{"thin post", "across", func() error { _, err := Post{40, 900, miter, Saw{3, 5}}.Plan(); return err }},
	} {
		t.Run(tt.name, func(t *testing.T) { assert.ErrorContains(t, tt.err(), tt.want) })
	}
}
