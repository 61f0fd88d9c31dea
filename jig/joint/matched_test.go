package joint_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
)

// invented is one of the example cutters.
func invented(t require.TestingT, handle string) *cutter.Cutter {
	c, err := cutter.Find("../../testdata", handle)
	require.NoError(t, err)
	return c
}

// TestTongueAndGroove, worked by hand: the tongue's middle at h = 12 and the
// groove's at h = 13 stand on the stock's centre line, the least radii, 14 and 12,
// on the fence.
func TestTongueAndGroove(t *testing.T) {
	a, b := invented(t, "tongue"), invented(t, "groove")
	for _, stock := range []float64{10, 19, 24} {
		s := solve(t, joint.Request{Cutter: a, With: b, Stock: stock})
		require.Len(t, s.Passes, 2)
		p, q := s.Passes[0], s.Passes[1]
		assert.Equal(t, []string{"flat", "second"}, []string{p.Name, q.Name})
		assert.Equal(t, []*cutter.Cutter{a, b}, []*cutter.Cutter{p.Cutter, q.Cutter})
		assert.InDelta(t, stock/2-12, p.Height, geom.Tol)
		assert.InDelta(t, stock/2-13, q.Height, geom.Tol)
		assert.InDelta(t, 14, p.Fence, geom.Tol)
		assert.InDelta(t, 12, q.Fence, geom.Tol)
		assert.InDeltaSlice(t, []float64{6, 24}, s.Range[:], geom.Tol)
		assert.InDeltaSlice(t, []float64{10, 24}, s.Usable[:], geom.Tol)
		assert.InDeltaSlice(t, []float64{18, 12}, s.Centre[:], geom.Tol)
		assert.Empty(t, s.Warnings)

		f := s.With(0, 0)
		assert.InDelta(t, 0.6, f.Flush.Normal, geom.Tol, "the groove is 0.6 deeper than the tongue is long")
		assert.InDelta(t, 0.6, s.Residual, geom.Tol)
		assert.InDelta(t, 0, f.Flush.Interference, geom.Tol)
		assert.InDeltaSlice(t, []float64{0, 0}, f.Off[:], geom.Tol)
		assert.Nil(t, f.Corner)
	}
	s := solve(t, joint.Request{Cutter: b, With: a, Stock: 19, Skim: 0.5})
	assert.InDelta(t, 9.5-13, s.Passes[0].Height, geom.Tol, "the groove first")
	assert.InDelta(t, 11.5, s.Passes[0].Fence, geom.Tol)
	assert.InDelta(t, 13.5, s.Passes[1].Fence, geom.Tol)
}

// TestSecondCutterHigh: with the cuts in each other the second board stands low by
// what its cutter was high; with the faces level a cheek runs into wood.
func TestSecondCutterHigh(t *testing.T) {
	s := solve(t, joint.Request{Cutter: invented(t, "tongue"), With: invented(t, "groove"), Stock: 19})
	for _, dz := range []float64{0.2, -0.1} {
		f := s.With(dz, 0)
		assert.InDelta(t, -dz, f.Off[1], geom.Tol)
		assert.InDelta(t, 0, f.Nested.Interference, geom.Tol)
		assert.InDelta(t, math.Abs(dz), f.Flush.Interference, geom.Tol)
		assert.Zero(t, f.FlipTop)
	}
	assert.False(t, s.TurnsOver())
	f := s.With(0, 0.3)
	assert.InDelta(t, 0, f.Flush.Interference, geom.Tol, "another fence moves the faces along, no more")
}

// TestPlayInGroove: a groove wider than the tongue leaves the same play on both
// cheeks.
func TestPlayInGroove(t *testing.T) {
	a, b := invented(t, "tongue"), invented(t, "groove")
	b.Profile.V[3].Point[1] += 0.3
	b.Profile.V[4].Point[1] += 0.3
	s := solve(t, joint.Request{Cutter: a, With: b, Stock: 19})
	assert.InDelta(t, 9.5-13.15, s.Passes[1].Height, geom.Tol)
	f := s.With(0, 0)
	assert.InDelta(t, 0, f.Flush.Interference, geom.Tol)
	assert.InDelta(t, math.Hypot(0.6, 0.15), f.Flush.Normal, geom.Tol, "from the groove's corner to the tongue's")
}

// TestCopeAndStick: the cope is the stick's counterpart 2.5 higher, its tongue 0.7
// shorter; r_A + r_B = 40 on the bearing edges.
func TestCopeAndStick(t *testing.T) {
	a, b := invented(t, "stick"), invented(t, "cope")
	s := solve(t, joint.Request{Cutter: a, With: b, Stock: 20})
	p, q := s.Passes[0], s.Passes[1]
	assert.InDelta(t, 10-12, p.Height, geom.Tol)
	assert.InDelta(t, p.Height-2.5, q.Height, geom.Tol)
	assert.InDelta(t, 12, p.Fence, geom.Tol)
	assert.InDelta(t, 12.7, q.Fence, geom.Tol)
	assert.InDelta(t, 40-12-12.7, s.Nested().T[0], geom.Tol)
	f := s.With(0, 0)
	assert.InDelta(t, 0.7, f.Flush.Normal, geom.Tol)
	assert.InDelta(t, 0, f.Flush.Interference, geom.Tol)

	// The groove where a panel wants it: its lower cheek, (18, 9), 7 up and 6 in.
	s = solve(t, joint.Request{Cutter: a, With: b, Stock: 20, At: &joint.Landing{Profile: orb.Point{18, 9}, Table: orb.Point{6, 7}}})
	assert.InDelta(t, -2, s.Passes[0].Height, geom.Tol)
	assert.InDelta(t, 12, s.Passes[0].Fence, geom.Tol)
	assert.InDelta(t, -4.5, s.Passes[1].Height, geom.Tol)
	assert.InDeltaSlice(t, []float64{13, 22}, s.Range[:], geom.Tol)
}

func TestMatchedRefusals(t *testing.T) {
	a, b := invented(t, "tongue"), invented(t, "groove")
	wide := invented(t, "tongue")
	wide.Profile.V[3].Point[1] += 0.5
	wide.Profile.V[4].Point[1] += 0.5
	long := invented(t, "tongue")
	long.Profile.V[2].Point[0], long.Profile.V[3].Point[0] = 13, 13
	for _, tt := range []struct {
		name string
		r    joint.Request
		err  string
	}{
		{"alone", joint.Request{Cutter: a, Stock: 19}, "with: none; want the other cutter of the set"},
		{"two tongues", joint.Request{Cutter: a, With: wide, Stock: 19}, "both leave a tongue"},
		{"no key", joint.Request{Cutter: a, With: plain(), Stock: 19}, "neither tongue nor groove"},
		{"tongue too thick", joint.Request{Cutter: wide, With: b, Stock: 19}, "do not enter each other"},
		{"of another joint", joint.Request{Cutter: a, With: ridge(), Stock: 19}, `"ridge-lock", a cutter for lock-miter; want a cutter for matched`},
		{"two for one", joint.Request{Cutter: ridge(), With: a, Stock: 19}, "made with one cutter"},
		{"landing", joint.Request{Cutter: ridge(), Stock: 19, At: &joint.Landing{}}, "follows from the stock"},
		{"thick", joint.Request{Cutter: a, With: b, Stock: 24.1}, "24.1 mm is outside"},
		{"thin", joint.Request{Cutter: a, With: b, Stock: 5.9}, "want 6 mm to 24 mm"},
		{"land", joint.Request{Cutter: a, With: b, Stock: 19, Land: 1}, "land: 1 mm; want none"},
		{"skim", joint.Request{Cutter: a, With: b, Stock: 19, Skim: 1, At: landing(14, 9, 0, 6)}, "skim: 1 mm; want none beside a landing"},
		{"overlay", joint.Request{Cutter: a, With: b, Stock: 19, Overlay: 1}, "overlay: 1 mm; want none"},
		{"far", joint.Request{Cutter: a, With: b, Stock: 19, At: &joint.Landing{Table: orb.Point{math.NaN(), 0}}}, "at: "},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := joint.Solve(tt.r)
			assert.ErrorContains(t, err, tt.err)
		})
	}
	s := solve(t, joint.Request{Cutter: long, With: b, Stock: 19})
	require.Len(t, s.Warnings, 1)
	assert.Equal(t, "the tongue bears on the bottom of the groove: the faces stay open by 0.4 mm", s.Warnings[0].String())
}

// plain is a straight chamfer that claims to be one of a set.
func plain() *cutter.Cutter {
	return &cutter.Cutter{Handle: "plain", Joint: "matched", Known: [2]bool{true, true},
		Profile: geom.Path{V: []geom.Vertex{geom.V(20, 0), geom.V(10, 30)}}}
}

// A set is two cutters drawn at random: the second the mirror image of the first,
// shifted, the bottom of its groove deeper by the clearance.
type set struct {
	first, second *cutter.Cutter
	rise, sum     float64
	clear         float64
	mid           float64 // height of the key's middle, first cutter
	half          float64 // half the thickest stock
}

// drawSet draws a tongue with cheeks that stand up or lean, perhaps beside a
// quarter round, and its counterpart.
func drawSet(t *rapid.T) set {
	num := func(label string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
	low, wide, high := num("below", 8, 12), num("tongue", 4, 9), num("above", 8, 12)
	long, lean := num("long", 4, 9), 0.0
	if rapid.Bool().Draw(t, "leaning") {
		lean = num("lean", 0.2, 1.5)
	}
	tip := num("tip", 8, 14)
	s := set{clear: num("clear", 0, 1), mid: low + wide/2}
	r := tip + long
	var v []geom.Vertex
	if rapid.Bool().Draw(t, "round") { // a quarter round that leads to the lower shoulder
		q := num("radius", 1, 3)
		v = append(v, geom.V(r+q, 0), geom.B(r+q, 1, -(math.Sqrt2-1)), geom.V(r, 1+q))
	} else {
		v = append(v, geom.V(r, 0))
	}
	v = append(v, geom.V(r, low), geom.V(tip, low+lean), geom.V(tip, low+wide-lean), geom.V(r, low+wide), geom.V(r, low+wide+high))
	s.rise, s.sum = num("rise", -3, 5), r+num("hub", 10, 16)
	other := geom.Path{V: v}.Move(geom.MirrorX(s.sum / 2)).Move(geom.Shift(0, s.rise))
	n := len(other.V)
	deeper := s.clear // along the cheeks' lines the bottom narrows
	in := deeper * lean / long
	other.V[n-4].Point = orb.Point{other.V[n-4].X() + deeper, other.V[n-4].Y() + in}
	other.V[n-3].Point = orb.Point{other.V[n-3].X() + deeper, other.V[n-3].Y() - in}
	if other.V[n-3].Y()-other.V[n-4].Y() < 0.2 {
		t.Skip("a groove that closes before its bottom")
	}
	make := func(handle string, p geom.Path) *cutter.Cutter {
		return &cutter.Cutter{Handle: handle, Joint: "matched", Known: [2]bool{true, true}, Profile: p}
	}
	s.first, s.second = make("first", geom.Path{V: v}), make("second", other)
	s.half = math.Min(s.mid, wide/2+high)
	if rapid.Bool().Draw(t, "swapped") {
		s.first, s.second = s.second, s.first
		s.mid += s.rise
		s.rise = -s.rise
	}
	return s
}

// TestUnseenSets against what is known by construction.
func TestUnseenSets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawSet(t)
		stock := rapid.Float64Range(12, 2*w.half).Draw(t, "stock")
		s, err := joint.Solve(joint.Request{Cutter: w.first, With: w.second, Stock: stock})
		require.NoError(t, err)
		p, q := s.Passes[0], s.Passes[1]
		assert.InDelta(t, stock/2-w.mid, p.Height, geom.Tol)
		assert.InDelta(t, p.Height-w.rise, q.Height, geom.Tol)
		assert.InDelta(t, w.sum-p.Fence-q.Fence, s.Nested().T[0], geom.Tol)
		assert.InDelta(t, 2*w.half, s.Range[1], geom.Tol)
		f := s.With(0, 0)
		assert.InDelta(t, 0, f.Flush.Interference, geom.Tol)
		assert.InDelta(t, w.clear, f.Flush.Normal, geom.Tol)
		dz := rapid.Float64Range(-0.3, 0.3).Draw(t, "dz")
		assert.InDelta(t, -dz, s.With(dz, 0).Off[1], geom.Tol)
		assert.InDelta(t, w.clear, s.With(dz, 0).Nested.Normal, geom.Tol)
	})
}
