package adjust

import (
	"math"
	"os"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
	"blockwright/jig/plate"
	"blockwright/jig/shop"
	"blockwright/testdata/random"
)

// worked is an invented 45° lock miter cutter, 30 high.
func worked(t *testing.T) *joint.Setting {
	t.Helper()
	p, err := geom.NewPath(false, geom.V(34, 0), geom.V(24, 10), geom.V(25.5, 10.5), geom.V(25.5, 14.4),
		geom.V(12.5, 15.6), geom.V(12.5, 19.5), geom.V(14, 20), geom.V(4, 30))
	require.NoError(t, err)
	c := &cutter.Cutter{Handle: "worked", Name: "Worked", Joint: "lock-miter", Units: "mm", Profile: p, Known: [2]bool{true, true}}
	s, err := joint.Solve(joint.Request{Cutter: c, Stock: 19})
	require.NoError(t, err)
	return s
}

// A step of 0.023 in in the flip test means a move of 0.0115 in: common practice.
func TestHalfTheStep(t *testing.T) {
	m, err := FromFlip(worked(t), Flip{Step: 0.023 * 25.4, Proud: Turned, Bottom: math.NaN()})
	require.NoError(t, err)
	assert.InDelta(t, -0.0115*25.4, m.Height, 1e-9)
	m, err = FromFlip(worked(t), Flip{Step: 0.2, Proud: First, Bottom: math.NaN()})
	require.NoError(t, err)
	assert.InDelta(t, 0.1, m.Height, 1e-9)
}

// What the simulated joint shows leads back to the right setting, whatever the
// cutter, the stock and the error.
func TestMeasurementsLeadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := random.Lock(t)
		s, err := joint.Solve(joint.Request{Cutter: c, Stock: rapid.Float64Range(17, 22).Draw(t, "stock")})
		if err != nil {
			t.Skip(err)
		}
		dz, e := rapid.Float64Range(-0.4, 0.4).Draw(t, "dz"), rapid.Float64Range(-0.4, 0.4).Draw(t, "e")
		w := s.With(dz, e)
		f := Flip{Step: math.Abs(w.FlipTop), Proud: Turned, Bottom: math.NaN()}
		switch {
		case w.FlipTop == 0:
			f.Proud = Level
		case w.FlipTop < 0:
			f.Proud = First
		}
		m, err := FromFlip(s, f)
		require.NoError(t, err)
		require.InDelta(t, -dz, m.Height, 1e-6)

		tip := Tip{Short: math.Max(0, w.Tips[0].Short)}
		if w.Tips[0].Short < 0 {
			tip = Tip{Land: w.Tips[0].Land}
		}
		m, err = FromFlipAndTip(s, f, tip)
		require.NoError(t, err)
		require.InDelta(t, -dz, m.Height, 1e-6)
		require.InDelta(t, -e, m.Fence, 1e-6)

		// Unequal pieces.
		a, b := s.Passes[0].Stock+0.15, s.Passes[0].Stock-0.1
		top := 2*(s.Passes[0].Height+dz+s.Centre[1]) - a
		bottom := 2*(s.Passes[0].Height+dz+s.Centre[1]) - b
		g := Flip{Step: math.Abs(top), Proud: Turned, Pieces: [2]float64{a, b}, Bottom: bottom}
		if top < 0 {
			g.Proud = First
		}
		m, err = FromFlip(s, g)
		require.NoError(t, err)
		require.InDelta(t, -dz, m.Height, 1e-6)

		k := w.Corner
		m, err = FromCorner(s, Corner{Face: k.FaceStep, End: k.EndStep})
		if dz+e < -0.01 {
			require.NoError(t, err)
			require.InDelta(t, -dz, m.Height, 1e-6)
			require.InDelta(t, -e, m.Fence, 1e-6)
		} else if dz+e >= 0 {
			var r *Refusal
			require.ErrorAs(t, err, &r, "height and fence cannot be told apart")
		}
	})
}

// Random diameter, scale, backlash and skew: the sizes lead back to them.
func TestTrialLeadsBack(t *testing.T) {
	n := Nominal{Big: 100, Small: 60, Window: 60, Corner: 3, Mill: 3.175}
	rapid.Check(t, func(t *rapid.T) {
		d := n.Mill + rapid.Float64Range(-0.2, 0.2).Draw(t, "diameter")
		skew := rapid.Float64Range(-0.01, 0.01).Draw(t, "skew")
		side := func(name string) (Axis, Machine) {
			s := 1 + rapid.Float64Range(-0.01, 0.01).Draw(t, "scale "+name)
			b := rapid.Float64Range(0, 0.3).Draw(t, "backlash "+name)
			return Axis{
				Big: s*(n.Big+n.Mill) - b - d, Small: s*(n.Small+n.Mill) - b - d, Window: s*(n.Window-n.Mill) - b + d,
			}, Machine{s, b, d}
		}
		x, mx := side("x")
		y, my := side("y")
		r := n.Corner + (n.Mill-d)/2
		// The corners' centres form a parallelogram whose angle is 90° - skew.
		a, b := x.Big-2*r, y.Big-2*r
		rising := math.Sqrt(a*a+b*b+2*a*b*math.Sin(skew)) + 2*r
		falling := math.Sqrt(a*a+b*b-2*a*b*math.Sin(skew)) + 2*r
		got, err := FromTrial(n, x, y, rising, falling)
		require.NoError(t, err)
		for _, p := range [][2]Machine{{mx, got.X}, {my, got.Y}} {
			require.InDelta(t, p[0].Scale, p[1].Scale, 1e-9)
			require.InDelta(t, p[0].Backlash, p[1].Backlash, 1e-6)
			require.InDelta(t, p[0].Diameter, p[1].Diameter, 1e-6)
		}
		require.InDelta(t, d, got.Diameter, 1e-6)
		require.InDelta(t, skew, got.Skew, 1e-6)
	})
}

func TestRefusals(t *testing.T) {
	s := worked(t)
	none := math.NaN()
	for _, tt := range []struct {
		name, want string
		err        func() error
	}{
		{"level with a step", "contradict", func() error { _, err := FromFlip(s, Flip{Step: 0.2, Proud: Level, Bottom: none}); return err }},
		{"proud without a step", "contradict", func() error { _, err := FromFlip(s, Flip{Proud: Turned, Bottom: none}); return err }},
		{"negative", "0 or more", func() error { _, err := FromFlip(s, Flip{Step: -1, Proud: Turned, Bottom: none}); return err }},
		{"larger than the stock", "cannot show so much", func() error { _, err := FromFlip(s, Flip{Step: 20, Proud: Turned, Bottom: none}); return err }},
		{"no number", "no number", func() error { _, err := FromFlip(s, Flip{Step: none, Proud: Turned, Bottom: none}); return err }},
		{"steps that do not fit", "read wrongly", func() error {
			_, err := FromFlip(s, Flip{Step: 0.2, Proud: Turned, Pieces: [2]float64{19, 19.2}, Bottom: 0.5})
			return err
		}},
		{"both tips", "both cannot be", func() error { _, err := FromTip(s, Tip{Short: 0.1, Land: 0.1}); return err }},
		{"huge tip", "no error of the setting", func() error { _, err := FromTip(s, Tip{Short: 12}); return err }},
		{"same steps", "does not tell height from fence", func() error { _, err := FromCorner(s, Corner{0.1, 0.1}); return err }},
		{"end above face", "together", func() error { _, err := FromCorner(s, Corner{-0.3, 0.4}); return err }},
		{"trial far off", "within 5 %", func() error {
			_, err := FromTrial(Nominal{100, 60, 60, 3, 6}, Axis{100, 50, 60}, Axis{100, 60, 60}, 0, 0)
			return err
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			err := tt.err()
			var r *Refusal
			require.ErrorAs(t, err, &r)
			assert.ErrorContains(t, err, tt.want)
		})
	}
}

// The gaps that the block's own figures show lead back to the height, on a straight
// flank and on a curved one, where they do not grow in proportion.
func TestStandoffLeadsBack(t *testing.T) {
	round := &cutter.Cutter{Handle: "round", Name: "Round", Joint: "edge", Units: "mm", Known: [2]bool{true, true}}
	var err error
	round.Profile, err = geom.NewPath(false, geom.B(12.35, 0, -math.Tan(math.Pi/8)), geom.V(6.35, 6))
	require.NoError(t, err)
	over, err := joint.Solve(joint.Request{Cutter: round, Stock: 19, At: &joint.Landing{Profile: orb.Point{8, 10}, Table: orb.Point{3, 10}}})
	require.NoError(t, err)
	for name, s := range map[string]*joint.Setting{"flank": worked(t), "round-over": over} {
		table := shop.Table{InsertOpening: 98, FenceWidth: 120}
		designs, err := plate.Blocks(plate.BlockRequest{Pass: s.Passes[0], Table: table, Thick: 6, Clear: 0.4, Ease: 0.5})
		require.NoError(t, err, name)
		cuts, err := plate.FitAll(designs, []float64{3.175})
		require.NoError(t, err, name)
		f, err := plate.Measure(cuts[0], s.Passes[0], 30)
		require.NoError(t, err, name)
		left := plate.GapAtFence(cuts[0], s.Passes[0])
		seen := 0
		for _, o := range f.Standoff {
			if o.E != 0 || o.Gap == 0 {
				continue
			}
			m, err := FromStandoff(o.Gap, left)
			require.NoError(t, err, name)
			require.InDelta(t, -o.DZ, m.Height, 1e-6, name)
			seen++
		}
		require.Positive(t, seen, name)
		for _, gap := range []float64{0, -1, 40, math.Inf(1), math.NaN()} {
			_, err := FromStandoff(gap, left)
			var r *Refusal
			require.ErrorAs(t, err, &r, "%s %g", name, gap)
		}
	}
}

// Two boards edge to edge: the step is twice the height's error, whatever the fence.
func TestEdgeLeadsBack(t *testing.T) {
	miter := worked(t)
	c := *miter.Request.Cutter
	c.Joint = "edge-glue"
	s, err := joint.Solve(joint.Request{Cutter: &c, Stock: 19, Skim: 0.5})
	require.NoError(t, err)
	for _, dz := range []float64{-0.3, -0.05, 0.05, 0.4} {
		step := s.With(dz, 0.1).FlipTop
		f := Flip{Step: math.Abs(step), Proud: Turned, Bottom: math.NaN()}
		if step < 0 {
			f.Proud = First
		}
		m, err := FromEdge(s, f)
		require.NoError(t, err)
		require.InDelta(t, -dz, m.Height, 1e-6)
		require.False(t, m.Knows[1])
	}
	_, err = FromEdge(miter, Flip{Step: 0.1, Proud: Turned, Bottom: math.NaN()})
	require.ErrorContains(t, err, "no joint of two edges")
}

// A matched set's second cutter moves by the whole step, a plain edge by what its
// landing misses, a drawer lock by half of what its lip and overlay miss.
func TestOtherJointsLeadBack(t *testing.T) {
	read := func(handle string) *cutter.Cutter {
		text, err := os.ReadFile("../../testdata/cutters/" + handle + ".toml")
		require.NoError(t, err)
		c, err := cutter.Parse(handle+".toml", text)
		require.NoError(t, err)
		return c
	}
	solve := func(r joint.Request) *joint.Setting {
		r.Stock = 19
		s, err := joint.Solve(r)
		require.NoError(t, err)
		return s
	}
	set := solve(joint.Request{Cutter: read("tongue"), With: read("groove")})
	drawer := solve(joint.Request{Cutter: read("drawer"), Other: 12.7, Overlay: 9.525})
	edge := solve(joint.Request{Cutter: read("round-over"), At: &joint.Landing{Profile: orb.Point{6.35, 6}, Table: orb.Point{0.5, 6}}})
	rapid.Check(t, func(rt *rapid.T) {
		dz, e := rapid.Float64Range(-0.5, 0.5).Draw(rt, "dz"), rapid.Float64Range(-0.5, 0.5).Draw(rt, "e")

		up := set.With(dz, e).Off[1]
		f := Flip{Step: math.Abs(up), Proud: Second, Bottom: math.NaN()}
		if up < 0 {
			f.Proud = First
		} else if up == 0 {
			f.Proud = Level
		}
		m, err := FromEdge(set, f)
		require.NoError(rt, err)
		require.InDelta(rt, -dz, m.Height, 1e-9)
		require.False(rt, m.Knows[1])

		w := drawer.Wrong(joint.Error{DZ: -math.Abs(dz), E: e})
		side := w.Passes[1].Board(40).Move(w.Nested()).Bound()
		face := 9.525 - side.Min[0]                         // beyond where the overlay wants it
		gap := w.Passes[0].Profile().End()[1] - side.Max[1] // between the side's end and the lip
		m, err = FromCorner(drawer, Corner{Face: face, End: -gap})
		if math.Abs(face)+gap > 1e-8 {
			require.NoError(rt, err)
			require.InDelta(rt, math.Abs(dz), m.Height, 1e-9)
			require.InDelta(rt, -e, m.Fence, 1e-9)
		}

		landed := edge.With(dz, e).Off
		m, err = FromLanding(edge, orb.Point{0.5 + landed[0], 6 + landed[1]})
		require.NoError(rt, err)
		require.InDelta(rt, -dz, m.Height, 1e-9)
		require.InDelta(rt, -e, m.Fence, 1e-9)
	})
	var r *Refusal
	_, err := FromEdge(set, Flip{Step: 0.1, Proud: Turned})
	require.ErrorAs(t, err, &r)
	assert.ErrorContains(t, err, "want second, first or none")
	_, err = FromCorner(drawer, Corner{End: 0.1})
	require.ErrorAs(t, err, &r)
	assert.ErrorContains(t, err, "the cutter is too high")
	_, err = FromLanding(edge, orb.Point{20, 6})
	require.ErrorAs(t, err, &r)
	_, err = FromLanding(set, orb.Point{0, 6})
	require.ErrorAs(t, err, &r)
}
