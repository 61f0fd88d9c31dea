package plan

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
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
			Height: rapid.Float64Range(40, 300).Draw(t, "height"), Setting: s, Saw: Saw{Kerf: 3, Edge: 12, Spares: 1}, Bottom: 6,
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
	p, err := Post{Size: 90, Length: 800, Setting: worked(t, "lock-miter", 19), Saw: Saw{Kerf: 3, Edge: 10}}.Plan()
	require.NoError(t, err)
	assert.Equal(t, "flat", p.Pieces[0].Pass)
	assert.Equal(t, "upright", p.Pieces[1].Pass)
	assert.InDelta(t, 4*90+3*3+20, p.Blanks[0].Width, 1e-9)
}

// The boards of a panel, each joint less its interlock, come out as wide as wanted.
func TestPanels(t *testing.T) {
	s := worked(t, "edge-glue", 19)
	b := Panel{Width: 400, Length: 900, Boards: 5, Setting: s, Saw: Saw{Kerf: 3, Edge: 5}}
	p, err := b.Plan()
	require.NoError(t, err)
	eats := s.Nested().T[0]
	assert.Positive(t, eats)
	assert.InDelta(t, b.Width+2*b.Saw.Edge, 5*p.Pieces[0].Width-4*eats, 1e-9)
}

// edged is an invented cutter of straight edges, (radius, height) upward.
func edged(t require.TestingT, kind string, points ...geom.Vertex) *cutter.Cutter {
	p, err := geom.NewPath(false, points...)
	require.NoError(t, err)
	return &cutter.Cutter{Handle: kind, Name: kind, Joint: kind, Units: "mm", Profile: p, Known: [2]bool{true, true}}
}

func solved(t require.TestingT, r joint.Request) *joint.Setting {
	s, err := joint.Solve(r)
	require.NoError(t, err)
	return s
}

// tongues is a matched set: a tongue 6 thick and 8 long, a groove 8.6 deep. With
// grooveFirst the first cutter leaves the groove.
func tongues(t require.TestingT, grooveFirst bool) *joint.Setting {
	tongue := edged(t, "matched", geom.V(22, 0), geom.V(22, 9), geom.V(14, 9), geom.V(14, 15), geom.V(22, 15), geom.V(22, 24))
	groove := edged(t, "matched", geom.V(12, 0), geom.V(12, 10), geom.V(20.6, 10), geom.V(20.6, 16), geom.V(12, 16), geom.V(12, 26))
	if grooveFirst {
		return solved(t, joint.Request{Cutter: groove, With: tongue, Stock: 19})
	}
	return solved(t, joint.Request{Cutter: tongue, With: groove, Stock: 19})
}

// drawer is a land of radius 20 below a tooth of radius 26, 5 high.
func drawer(t require.TestingT, overlay float64) *joint.Setting {
	c := edged(t, "drawer-lock", geom.V(20, 0), geom.V(20, 6), geom.V(26, 7), geom.V(26, 12))
	return solved(t, joint.Request{Cutter: c, Stock: 19, Other: 12, Overlay: overlay})
}

// The four boards of a box, laid against one another by the joint's isometry at
// each corner, are as large outside as was asked: the outer faces and ends are found
// from the sections' corners, not from the plan's own rule.
func TestOutsideSizes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		land := rapid.SampledFrom([]float64{0, 0.4, 1}).Draw(t, "land")
		overlay := rapid.SampledFrom([]float64{0, 3, 9.5}).Draw(t, "overlay")
		s := solved(t, joint.Request{Cutter: worked(t, "lock-miter", 19).Request.Cutter, Stock: rapid.Float64Range(18, 25).Draw(t, "stock"), Land: land})
		if rapid.Bool().Draw(t, "drawer") {
			s = drawer(t, overlay)
		} else {
			overlay = 0
		}
		b := Box{Length: rapid.Float64Range(200, 900).Draw(t, "length"), Width: rapid.Float64Range(200, 900).Draw(t, "width"), Height: 100, Setting: s, Saw: Saw{Kerf: 3, Edge: 12}}
		p, err := b.Plan()
		require.NoError(t, err)
		flat, up := p.Pieces[0].Length, 0.0
		for _, q := range p.Pieces {
			if q.Label == "B, D" {
				up = q.Length
			}
		}
		// In the flat board's frame: its end at x = 0, its outside face at z = Stock.
		iso := s.Nested()
		face := iso.Point(orb.Point{s.Passes[1].Stock, 50})[0] // the upright board's outside face
		end := iso.Point(orb.Point{5, 0})[1]                   // and its end
		along, across := b.Length, b.Width
		if s.Joint == "drawer-lock" {
			along, across = b.Width, b.Length
		} else if along < across {
			along, across = across, along
		}
		// The box without the front's overlay begins at the upright boards' faces,
		// or at the flat boards' tips where these stand farther out.
		out := math.Min(0, face)
		if overlay > 0 {
			out = face
		}
		require.InDelta(t, along, flat-2*out, 1e-6)
		require.InDelta(t, across, up+2*math.Max(0, s.Passes[0].Stock-end), 1e-6)
	})
}

// A front with an overlay is longer by it at both ends; the sides stand between the
// lips; the back has no overlay.
func TestDrawer(t *testing.T) {
	s := drawer(t, 9.5)
	p, err := Box{Length: 450, Width: 350, Height: 90, Setting: s, Saw: Saw{Kerf: 3, Edge: 12}, Bottom: 6}.Plan()
	require.NoError(t, err)
	lip := 19 - (s.Passes[0].Height + 12) // front less the cutter's top
	assert.InDelta(t, 350+2*9.5, piece(t, p, "A, front").Length, 1e-9)
	assert.InDelta(t, 350, piece(t, p, "C, back").Length, 1e-9)
	assert.InDelta(t, 450-2*lip, piece(t, p, "B, D").Length, 1e-9)
	assert.InDelta(t, 350-2*12+2*4-1, piece(t, p, "bottom").Length, 1e-9) // grooves a third of 12
	assert.InDelta(t, 450-2*19+2*4-1, piece(t, p, "bottom").Width, 1e-9)
	assert.Contains(t, said(p), "9.5 mm farther forward")
	assert.NotContains(t, said(p), "flip", "a drawer's front is not tried by turning it over")
	assert.Equal(t, []string{"flat", "upright"}, p.Passes)
}

func piece(t *testing.T, p *Plan, label string) Piece {
	t.Helper()
	for _, q := range p.Pieces {
		if q.Label == label {
			return q
		}
	}
	require.FailNow(t, "no piece "+label)
	return Piece{}
}

func said(p *Plan) string {
	text := p.Title.String()
	for _, m := range append(append([]joint.Message{}, p.Steps...), p.Notes...) {
		text += "\n" + m.String()
	}
	return text
}

// Mitered frames are boxes on edge: members as long as the outside, the panel in a
// rabbet or groove.
func TestMiteredFrame(t *testing.T) {
	f := Frame{Length: 500, Width: 400, Member: 60, Setting: worked(t, "lock-miter", 19), Saw: Saw{Kerf: 3, Edge: 12}, Panel: 4, Rabbet: true}
	p, err := f.Plan()
	require.NoError(t, err)
	assert.InDelta(t, 500, piece(t, p, "A, C").Length, 1e-9)
	assert.InDelta(t, 400, piece(t, p, "B, D").Length, 1e-9)
	assert.InDelta(t, 2*60+3+24, p.Blanks[0].Width, 1e-9)
	assert.InDelta(t, 500-2*19+2*6.3-1, piece(t, p, "panel").Length, 1e-9)
	assert.Contains(t, said(p), "rabbet")
	f.Rabbet = false
	p, err = f.Plan()
	require.NoError(t, err)
	assert.Contains(t, said(p), "Groove the insides")
	f.Wrap = true
	p, err = f.Plan()
	require.NoError(t, err)
	assert.InDelta(t, 2*500+2*400+3*3, p.Blanks[0].Length, 1e-9)
	assert.InDelta(t, 60+24, p.Blanks[0].Width, 1e-9)
}

// Coped frames: the tongue of 8 enters the stiles on both sides, the panel enters
// the groove of 8.6 less half its play.
func TestCopedFrame(t *testing.T) {
	f := Frame{Length: 600, Width: 400, Member: 57, Setting: tongues(t, true), Saw: Saw{Kerf: 3, Edge: 12}, Panel: 6}
	p, err := f.Plan()
	require.NoError(t, err)
	assert.InDelta(t, 600, piece(t, p, "stiles").Length, 1e-9)
	assert.InDelta(t, 400-2*57+2*8, piece(t, p, "rails").Length, 1e-6)
	assert.InDelta(t, 600-2*57+2*8.6-1, piece(t, p, "panel").Length, 1e-6)
	assert.InDelta(t, 400-2*57+2*8.6-1, piece(t, p, "panel").Width, 1e-6)
	assert.Equal(t, []string{"flat", "second"}, p.Passes)
	assert.Contains(t, said(p), "6 mm wide and 8.6 mm deep")
}

// Spares, backers and the wood that all of it needs.
func TestSparesAndWood(t *testing.T) {
	b := Box{Length: 400, Width: 250, Height: 100, Setting: worked(t, "lock-miter", 19), Saw: Saw{Kerf: 3, Edge: 12, Spares: 2}, Bottom: 6}
	p, err := b.Plan()
	require.NoError(t, err)
	assert.Equal(t, 2, piece(t, p, "spare A or C").Count)
	assert.Equal(t, 1, piece(t, p, "backer, upright").Count)
	require.Len(t, p.Needs, 2)
	assert.Equal(t, 6.0, p.Needs[0].Thickness)
	bottom := piece(t, p, "bottom")
	assert.InDelta(t, bottom.Length*bottom.Width, p.Needs[0].Area, 1e-9)
	sum := 0.0
	for _, k := range p.Blanks {
		sum += k.Length * k.Width * float64(k.Count)
	}
	assert.InDelta(t, sum, p.Needs[1].Area, 1e-6)
	assert.Contains(t, said(p), "6.3 mm deep", "where the bottom's groove is")
}

// A plan speaks any unit: no sentence has a length in its own words, but for what is
// given in both.
func TestNoUnitInSentences(t *testing.T) {
	saw := Saw{Kerf: 3, Edge: 12, Spares: 1}
	miter, glue := worked(t, "lock-miter", 19), worked(t, "edge-glue", 19)
	for _, make := range []func() (*Plan, error){
		Box{Length: 400, Width: 250, Height: 100, Setting: miter, Saw: saw, Bottom: 6, Wrap: true}.Plan,
		Box{Length: 400, Width: 250, Height: 100, Setting: drawer(t, 5), Saw: saw, Bottom: 6}.Plan,
		Frame{Length: 400, Width: 250, Member: 50, Setting: miter, Saw: saw, Panel: 4}.Plan,
		Frame{Length: 400, Width: 250, Member: 50, Setting: tongues(t, true), Saw: saw, Panel: 4}.Plan,
		Post{Size: 90, Length: 800, Setting: miter, Saw: saw}.Plan,
		Panel{Width: 400, Length: 800, Boards: 4, Setting: glue, Saw: saw}.Plan,
		Panel{Width: 400, Length: 800, Boards: 4, Setting: tongues(t, false), Saw: saw}.Plan,
	} {
		p, err := make()
		require.NoError(t, err)
		for _, m := range append(append([]joint.Message{p.Title}, p.Steps...), p.Notes...) {
			text := strings.ReplaceAll(m.Say(func(float64) string { return "#" }), "150 mm (6 in)", "")
			assert.NotRegexp(t, `\d+(\.\d+)? ?(mm|in)\b`, text)
			assert.NotContains(t, text, "%!")
		}
		for _, name := range p.Passes {
			assert.NotEmpty(t, p.Stages[name])
		}
	}
}

func TestRefusals(t *testing.T) {
	miter, glue := worked(t, "lock-miter", 19), worked(t, "edge-glue", 19)
	for _, tt := range []struct {
		name, want string
		err        func() error
	}{
		{"box of an edge joint", "corner joint", func() error { _, err := (Box{Length: 300, Width: 200, Height: 100, Setting: glue}).Plan(); return err }},
		{"tiny box", "want 76 mm to 5000 mm", func() error { _, err := (Box{Length: 60, Width: 200, Height: 100, Setting: miter}).Plan(); return err }},
		{"no number", "length", func() error {
			_, err := (Box{Length: math.NaN(), Width: 200, Height: 100, Setting: miter}).Plan()
			return err
		}},
		{"kerf", "kerf", func() error {
			_, err := (Box{Length: 300, Width: 200, Height: 100, Setting: miter, Saw: Saw{Kerf: -1}}).Plan()
			return err
		}},
		{"thick bottom", "want at most the boards' own 19 mm", func() error {
			_, err := (Box{Length: 300, Width: 200, Height: 100, Setting: miter, Bottom: 30}).Plan()
			return err
		}},
		{"panel of a corner joint", "joint of two edges", func() error { _, err := (Panel{Width: 400, Length: 900, Boards: 4, Setting: miter}).Plan(); return err }},
		{"one board", "want 2 to 50", func() error { _, err := (Panel{Width: 400, Length: 900, Boards: 1, Setting: glue}).Plan(); return err }},
		{"thin post", "want 57 mm to 1000 mm", func() error { _, err := (Post{Size: 40, Length: 900, Setting: miter}).Plan(); return err }},
		{"deep groove", "want at most half", func() error {
			_, err := (Box{Length: 300, Width: 200, Height: 100, Setting: miter, Bottom: 6, Groove: 10}).Plan()
			return err
		}},
		{"high groove", "does not fit sides", func() error {
			_, err := (Box{Length: 300, Width: 200, Height: 100, Setting: miter, Bottom: 6, Up: 95}).Plan()
			return err
		}},
		{"groove for nothing", "without a bottom", func() error {
			_, err := (Box{Length: 300, Width: 200, Height: 100, Setting: miter, Groove: 5}).Plan()
			return err
		}},
		{"frame of a drawer lock", "lock-miter", func() error {
			_, err := (Frame{Length: 300, Width: 200, Member: 50, Setting: drawer(t, 0)}).Plan()
			return err
		}},
		{"tongue along the stiles", "leaves the tongue", func() error {
			_, err := (Frame{Length: 300, Width: 200, Member: 50, Setting: tongues(t, false)}).Plan()
			return err
		}},
		{"thick panel", "the groove is 6 mm wide", func() error {
			_, err := (Frame{Length: 300, Width: 200, Member: 50, Setting: tongues(t, true), Panel: 9}).Plan()
			return err
		}},
		{"rabbet in a coped frame", "first cutter makes the groove", func() error {
			_, err := (Frame{Length: 300, Width: 200, Member: 50, Setting: tongues(t, true), Panel: 6, Rabbet: true}).Plan()
			return err
		}},
		{"rabbet for nothing", "without a panel", func() error {
			_, err := (Frame{Length: 300, Width: 200, Member: 50, Setting: miter, Rabbet: true}).Plan()
			return err
		}},
		{"panel thicker than the frame", "does not fit a frame", func() error {
			_, err := (Frame{Length: 300, Width: 200, Member: 12, Setting: miter, Panel: 10}).Plan()
			return err
		}},
		{"narrow stiles", "members' width", func() error {
			_, err := (Frame{Length: 300, Width: 200, Member: 20, Setting: tongues(t, true)}).Plan()
			return err
		}},
		{"no joint", "joint", func() error { _, err := Frame{}.Plan(); return err }},
	} {
		t.Run(tt.name, func(t *testing.T) { assert.ErrorContains(t, tt.err(), tt.want) })
	}
}
