//go:build outside

package joint_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/jig/cutter"
	"blockwright/jig/joint"
	"blockwright/testdata/outside"
)

// A cutCase is what GEOS is told: profile, setting, thickness, how the boards are
// laid together, and the corner that is predicted.
type cutCase struct {
	Profile [][3]float64 `json:"profile"`
	Height  float64      `json:"height"`
	Fence   float64      `json:"fence"`
	Stock   float64      `json:"stock"`
	Nested  [2]float64   `json:"nested"`
	Flush   *[2]float64  `json:"flush,omitempty"`
	Outline [][2]float64 `json:"outline"`
}

type cutFigures struct {
	Tip, Face, Top, Overlap, Differs float64
	Gap, Clash                       *float64
}

// caseOf predicts the corner for a cutter, a stock and an error.
func caseOf(c *cutter.Cutter, s *joint.Setting, err joint.Error, flush bool) (cutCase, joint.Effect) {
	f := s.Under(err)
	p := s.Passes[0]
	h, d, t := p.Height+err.DZ, p.Fence-err.E, p.Stock+err.DT
	k := cutCase{Height: h, Fence: d, Stock: t, Nested: [2]float64{2 * (s.Centre[0] - d), 2 * (h + s.Centre[1])}}
	if flush {
		k.Flush = &[2]float64{t, t}
	}
	for _, v := range c.Profile.V {
		k.Profile = append(k.Profile, [3]float64{v.X(), v.Y(), v.Bulge})
	}
	for _, q := range f.Corner.Outline.Flatten(1e-7) {
		k.Outline = append(k.Outline, [2]float64{q[0], q[1]})
	}
	return k, f
}

// TestOutsideCorners lets GEOS cut and lay together the boards of the invented
// cutter and of cutters drawn at random, at the right setting and at wrong ones.
func TestOutsideCorners(t *testing.T) {
	var cases []cutCase
	var want []joint.Effect
	add := func(c *cutter.Cutter, s *joint.Setting, err joint.Error, flush bool) {
		k, f := caseOf(c, s, err, flush)
		cases, want = append(cases, k), append(want, f)
	}
	errs := []joint.Error{{}, {DT: 0.2}, {DT: -0.2}, {DZ: 0.1}, {DZ: -0.1}, {E: 0.1}, {E: -0.1}, {DZ: 0.07, E: -0.12}, {DZ: -0.15, E: 0.2}}
	for _, stock := range []float64{17, 19, 25.4} {
		s := solve(t, joint.Request{Cutter: ridge(), Stock: stock})
		for _, e := range errs {
			add(ridge(), s, e, true)
		}
	}
	n := len(cases)
	rapid.Check(t, func(rt *rapid.T) {
		l := drawLock(rt)
		thin := 2*max(l.wide, l.tall) + 1 // tips on the flanks
		if thin >= 2*l.half-1 || len(cases) > n+120 {
			return // no room for an error, or enough
		}
		stock := rapid.Float64Range(thin, 2*l.half-1).Draw(rt, "stock")
		s, err := joint.Solve(joint.Request{Cutter: l.cutter, Stock: stock})
		require.NoError(rt, err)
		for _, e := range []joint.Error{{}, errs[rapid.IntRange(1, len(errs)-1).Draw(rt, "error")]} {
			add(l.cutter, s, e, len(cases)%4 == 0)
		}
	})
	in, err := json.Marshal(cases)
	require.NoError(t, err)
	var have []cutFigures
	require.NoError(t, json.Unmarshal(outside.Python(t, "joint.py", in), &have))
	require.Len(t, have, len(cases))

	const near = 5e-6 // GEOS sees arcs as chords
	for i, g := range have {
		f := want[i]
		msg := func() string { b, _ := json.Marshal(cases[i]); return string(b) }
		ok := assert.InDelta(t, f.Corner.TipX, g.Tip, near, "tip") &&
			assert.InDelta(t, f.Corner.FaceX, g.Face, near, "face") &&
			assert.InDelta(t, f.Corner.TopZ, g.Top, near, "top") &&
			assert.InDelta(t, 0, g.Overlap, 1e-3, "nested boards overlap") &&
			assert.InDelta(t, 0, g.Differs, 1e-3, "the corner as cut is not the corner as predicted")
		if g.Gap != nil {
			ok = ok && assert.InDelta(t, f.Flush.Normal, *g.Gap, 2e-3, "flush gap") &&
				assert.InDelta(t, f.Flush.Interference, *g.Clash, 2e-3, "flush clash")
		}
		if !ok {
			t.Fatalf("case %d, error %+v: %s", i, f.Error, msg())
		}
	}
	t.Logf("%d corners cut by GEOS", len(have))
}
