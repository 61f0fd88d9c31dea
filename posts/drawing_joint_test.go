package posts

import (
	"encoding/xml"
	"math"
	"os"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
)

// exampleCutter is one of the invented cutters of testdata.
func exampleCutter(t require.TestingT, handle string) *cutter.Cutter {
	text, err := os.ReadFile("../testdata/cutters/" + handle + ".toml")
	require.NoError(t, err)
	c, err := cutter.Parse(handle+".toml", text)
	require.NoError(t, err)
	return c
}

// everyJoint is a setting of each kind of joint.
func everyJoint(t require.TestingT) map[string]*joint.Setting {
	out := map[string]*joint.Setting{}
	for name, r := range map[string]joint.Request{
		"lock miter":   {Cutter: worked(1), Stock: 19},
		"unequal":      {Cutter: worked(1), Stock: 19, Land: 1},
		"edge glue":    {Cutter: exampleCutter(t, "glue"), Stock: 19, Skim: 0.5},
		"drawer lock":  {Cutter: exampleCutter(t, "drawer"), Stock: 19, Other: 12.7, Overlay: 9.525},
		"tongue":       {Cutter: exampleCutter(t, "tongue"), With: exampleCutter(t, "groove"), Stock: 19},
		"cope":         {Cutter: exampleCutter(t, "cope"), With: exampleCutter(t, "stick"), Stock: 19},
		"round-over":   {Cutter: exampleCutter(t, "round-over"), Stock: 19, At: &joint.Landing{Profile: orb.Point{6.35, 6}, Table: orb.Point{0, 6}}},
		"rebate":       {Cutter: exampleCutter(t, "rebate"), Stock: 19, At: &joint.Landing{Profile: exampleCutter(t, "rebate").Profile.Start(), Table: orb.Point{8, 0}}},
		"thick stock":  {Cutter: worked(1.3), Stock: 38},
		"named to bug": {Cutter: &cutter.Cutter{Handle: "x", Name: "</text><script>\x00\u202e", Joint: "lock-miter", Profile: worked(1).Profile, Known: [2]bool{true, true}}, Stock: 19},
	} {
		s, err := joint.Solve(r)
		require.NoError(t, err, name)
		out[name] = s
	}
	return out
}

// Whatever the joint: the drawing is proper XML, carries no script, no text lies on
// another, and the boards of the right setting touch without wood in wood.
func TestJointDrawings(t *testing.T) {
	for name, s := range everyJoint(t) {
		for _, units := range []string{"mm", "in"} {
			got := JointDrawing([]*joint.Setting{s, s}, units, &joint.Error{DZ: 0.2, E: -0.1})
			require.NoError(t, xml.Unmarshal(got, new(struct{})), name)
			assert.NotContains(t, string(got), "<script", name)
			assert.NotContains(t, string(got), "NaN", name)
			assert.Empty(t, overlaps(jointCanvas([]*joint.Setting{s, s}, units, &joint.Error{DZ: 0.2, E: -0.1})), name)
			assert.Equal(t, got, JointDrawing([]*joint.Setting{s, s}, units, &joint.Error{DZ: 0.2, E: -0.1}), name)
		}
		bs := laid{set: s}.boards()
		require.Len(t, bs, len(s.Passes), name)
		for _, b := range bs {
			require.NoError(t, b.region().Check(), "%s, %s board", name, b.name)
		}
		if len(bs) == 2 && name != "cope" {
			clash := geom.Intersection(bs[0].region(), bs[1].region())
			assert.Less(t, math.Abs(clash.Area()), 1e-3, "%s: wood in wood", name)
		}
	}
}

// A board's edges leave out the line where the section is broken off, and no more.
func TestBoardEdges(t *testing.T) {
	for name, s := range everyJoint(t) {
		for _, b := range (laid{set: s}).boards() {
			long := 0.0
			for _, e := range b.edges() {
				long += e.Length()
			}
			assert.InDelta(t, b.path.Length()-b.stock, long, 1e-6, "%s, %s board", name, b.name)
		}
	}
}

// Errors are drawn ten times as large, less where the joint would fall apart.
func TestMagnified(t *testing.T) {
	assert.Equal(t, 10.0, magnified(joint.Error{DZ: 0.1}).Times)
	assert.Equal(t, 5.0, magnified(joint.Error{E: -0.3}).Times)
	assert.Equal(t, 2.0, magnified(joint.Error{DT: 0.7}).Times)
	assert.Equal(t, 1.0, magnified(joint.Error{DZ: 3}).Times)
	assert.Equal(t, "cutter 0.1 high, fence 0.2 forward", magnified(joint.Error{DZ: 0.1, E: -0.2}).name("mm"))
	assert.Equal(t, "boards 0.004 thinner", magnified(joint.Error{DT: -0.1016}).name("in"))
}

// In a lock miter cut with an error the outside corner shows the steps that
// joint.Setting states, magnified.
func TestLaidShowsTheSteps(t *testing.T) {
	s := everyJoint(t)["lock miter"]
	for _, e := range usualErrors("mm") {
		shown := magnified(e)
		l, ok := shown.laid(s)
		require.True(t, ok)
		bs := l.boards()
		flat, up := bs[0].region().Bound(), bs[1].region().Bound()
		want := s.Under(joint.Error{DZ: e.DZ * shown.Times, E: e.E * shown.Times}).Corner
		assert.InDelta(t, want.TipX, flat.Min[0], 1e-6)
		assert.InDelta(t, want.FaceX, up.Min[0], 1e-6)
		assert.InDelta(t, want.TopZ, up.Max[1], 1e-6)
	}
}
