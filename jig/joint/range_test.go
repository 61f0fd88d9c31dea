package joint_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
)

// TestBodyAboveTheBoard: a bearing of radius r on top of the cutter reaches past
// the fence where r > rc - T/2, so stock of more than 2(rc - r) is not usable.
func TestBodyAboveTheBoard(t *testing.T) {
	c := ridge()
	c.Body = geom.Path{V: []geom.Vertex{geom.V(3, 30), geom.V(9, 30), geom.V(9, 36), geom.V(3, 36)}}
	s := solve(t, joint.Request{Cutter: c, Stock: 19})
	assert.InDelta(t, 17, s.Usable[0], geom.Tol)
	assert.InDelta(t, 20, s.Usable[1], geom.Tol)
	assert.Empty(t, s.Warnings)
	assert.InDelta(t, 30, s.Range[1], geom.Tol, "the geometric range knows no body")

	s = solve(t, joint.Request{Cutter: c, Stock: 20.5})
	require.Len(t, s.Warnings, 1)
	assert.Contains(t, s.Warnings[0].String(), "20.5 mm is thick")
}

func TestWeb(t *testing.T) {
	s := solve(t, joint.Request{Cutter: ridge(), Stock: 19, Web: 3.5})
	assert.InDelta(t, 20, s.Usable[0], geom.Tol)
	require.Len(t, s.Warnings, 1)
	assert.Contains(t, s.Warnings[0].String(), "3.5 mm of wood")
}

// TestRangeOfAVertical: an upright edge from one 45° line through the centre
// to the other has both ends on them; what counts lies between.
func TestRangeOfAVertical(t *testing.T) {
	c := &cutter.Cutter{Handle: "square", Joint: "lock-miter", Known: [2]bool{true, true}, Profile: geom.Path{V: []geom.Vertex{
		geom.V(35, 0), geom.V(25, 10), geom.V(25, 14), geom.V(15, 16), geom.V(15, 20), geom.V(5, 30),
	}}}
	s := solve(t, joint.Request{Cutter: c, Stock: 19})
	assert.InDeltaSlice(t, []float64{20, 15}, s.Centre[:], geom.Tol)
	assert.InDeltaSlice(t, []float64{10, 30}, s.Range[:], geom.Tol)
}

// TestLand: set as for T - l, both tips keep a land, the corner an open notch.
func TestLand(t *testing.T) {
	s := solve(t, joint.Request{Cutter: ridge(), Stock: 19, Land: 0.6})
	thin := solve(t, joint.Request{Cutter: ridge(), Stock: 18.4})
	assert.InDelta(t, thin.Passes[0].Height, s.Passes[0].Height, geom.Tol)
	assert.InDelta(t, thin.Passes[0].Fence, s.Passes[0].Fence, geom.Tol)
	assert.InDeltaSlice(t, []float64{13.6, 30.6}, s.Range[:], geom.Tol)
	f := s.With(0, 0)
	assert.InDelta(t, 0, f.Flush.Normal, geom.Tol)
	assert.InDelta(t, 0, f.Flush.Interference, geom.Tol)
	for _, tip := range f.Tips {
		assert.InDelta(t, 0.6, tip.Land, geom.Tol)
		assert.InDelta(t, -0.6, tip.Short, geom.Tol)
	}
	want := [][2]float64{{-0.6, 18.4}, {0, 18.4}, {0, 19}}
	require.Len(t, f.Corner.Outline.V, len(want))
	for i, v := range f.Corner.Outline.V {
		assert.InDeltaSlice(t, want[i][:], v.Point[:], geom.Tol)
	}
	m := s.Minimise()
	assert.InDelta(t, s.Passes[0].Height, m.Height, geom.Tol)
	assert.InDelta(t, s.Passes[0].Fence, m.Fence, geom.Tol)
	k := s.Read(0).Kiss
	assert.InDelta(t, 18.4, k.Height, geom.Tol)
	assert.InDelta(t, 0, k.Out, geom.Tol)
	assert.InDelta(t, 18.4, k.Foot, geom.Tol)
}

// TestUnequalFlip: the steps at top and bottom are 2(H + hc) - T of each piece.
func TestUnequalFlip(t *testing.T) {
	s := solve(t, joint.Request{Cutter: ridge(), Stock: 19})
	top, bottom := s.Flip(19.3, 18.6)
	assert.InDelta(t, -0.3, top, geom.Tol)
	assert.InDelta(t, 0.4, bottom, geom.Tol)
}

// TestUnequalBoards: the thicker one decides; nothing overlaps or gapes, the
// thinner one's face stands back.
func TestUnequalBoards(t *testing.T) {
	s := solve(t, joint.Request{Cutter: ridge(), Stock: 19, Other: 18.5})
	assert.InDelta(t, -5.5, s.Passes[0].Height, geom.Tol)
	assert.InDelta(t, 18.5, s.Passes[1].Stock, geom.Tol)
	require.NotEmpty(t, s.Warnings)
	f := s.With(0, 0)
	assert.InDelta(t, 0, f.Nested.Normal, geom.Tol)
	assert.InDelta(t, 0.5, f.Corner.FaceX, geom.Tol)
	_, err := joint.Solve(joint.Request{Cutter: ridge(), Stock: 19, Other: 12})
	assert.Error(t, err)
}

func TestBadRequests(t *testing.T) {
	none := &cutter.Cutter{Handle: "x", Joint: "lock-miter"}
	odd := ridge()
	odd.Joint = "dove%tail"
	nan := 0.0
	nan /= nan
	for name, r := range map[string]joint.Request{
		"no cutter":     {Stock: 19},
		"no profile":    {Cutter: none, Stock: 19},
		"no stock":      {Cutter: ridge()},
		"stock below 0": {Cutter: ridge(), Stock: -19},
		"no number":     {Cutter: ridge(), Stock: nan},
		"huge":          {Cutter: ridge(), Stock: 1e9},
		"land below 0":  {Cutter: ridge(), Stock: 19, Land: -1},
		"all land":      {Cutter: ridge(), Stock: 19, Land: 19},
		"joint":         {Cutter: odd, Stock: 19},
	} {
		_, err := joint.Solve(r)
		var bad *joint.BadRequest
		require.ErrorAs(t, err, &bad, name)
		assert.NotContains(t, err.Error(), "%!", name)
	}
	plain := ridge()
	plain.Profile = geom.Path{V: []geom.Vertex{geom.V(34, 0), geom.V(4, 30)}}
	_, err := joint.Solve(joint.Request{Cutter: plain, Stock: 19})
	var nc *joint.NoCentre
	require.ErrorAs(t, err, &nc, "a plain bevel locks nothing")
}

// TestSplitEdges: dividing edges changes no figure.
func TestSplitEdges(t *testing.T) {
	c := ridge()
	split := geom.Path{}
	for i := range c.Profile.Edges() {
		e := c.Profile.Edge(i)
		for k := range 3 {
			split.V = append(split.V, geom.Vertex{Point: e.At(float64(k) / 3)})
		}
	}
	split.V = append(split.V, c.Profile.V[len(c.Profile.V)-1])
	d := ridge()
	d.Profile = split
	a, b := solve(t, joint.Request{Cutter: c, Stock: 19}), solve(t, joint.Request{Cutter: d, Stock: 19})
	same(t, a, b)
}

// TestInches: a file in inches and one in mm give equal numbers.
func TestInches(t *testing.T) {
	read := func(units, profile string) *cutter.Cutter {
		c, err := cutter.Parse("cutters/x.toml", []byte(`
name = "x"
joint = "lock-miter"
units = "`+units+`"
profile = `+profile))
		require.NoError(t, err)
		return c
	}
	in := read("in", `[ [1.375, 0], [1, 0.375], [1.0625, 0.4375, 0.25], [1.0625, 0.5625], [0.4375, 0.6875], [0.4375, 0.8125, 0.25], [0.5, 0.875], [0.125, 1.25] ]`)
	mm := read("mm", `[ [34.925, 0], [25.4, 9.525], [26.9875, 11.1125, 0.25], [26.9875, 14.2875], [11.1125, 17.4625], [11.1125, 20.6375, 0.25], [12.7, 22.225], [3.175, 31.75] ]`)
	same(t, solve(t, joint.Request{Cutter: in, Stock: 19.05}), solve(t, joint.Request{Cutter: mm, Stock: 19.05}))
}

// same compares every figure of two settings.
func same(t *testing.T, a, b *joint.Setting) {
	t.Helper()
	near := func(x, y float64) { t.Helper(); assert.InDelta(t, x, y, 1e-9) }
	for i := range 2 {
		near(a.Centre[i], b.Centre[i])
		near(a.Range[i], b.Range[i])
		near(a.Usable[i], b.Usable[i])
		near(a.Passes[i].Height, b.Passes[i].Height)
		near(a.Passes[i].Fence, b.Passes[i].Fence)
	}
	near(a.Residual, b.Residual)
	for _, e := range []joint.Error{{}, {DZ: 0.1}, {E: -0.1}, {DT: 0.2}, {DZ: -0.1, E: 0.05}} {
		f, g := a.Under(e), b.Under(e)
		near(f.FlipTop, g.FlipTop)
		for i := range 2 {
			near(f.Tips[i].Short, g.Tips[i].Short)
			near(f.Tips[i].Land, g.Tips[i].Land)
		}
		near(f.Corner.FaceStep, g.Corner.FaceStep)
		near(f.Corner.EndStep, g.Corner.EndStep)
		near(f.Flush.Normal, g.Flush.Normal)
		near(f.Flush.Interference, g.Flush.Interference)
		near(f.Flush.AlongX, g.Flush.AlongX)
	}
	ra, rb := a.Read(0), b.Read(0)
	near(ra.Top, rb.Top)
	require.Equal(t, ra.Land == nil, rb.Land == nil)
	if ra.Land != nil {
		near(ra.Land.Out, rb.Land.Out)
		near(ra.Land.From, rb.Land.From)
		near(ra.Land.To, rb.Land.To)
	}
}
