package posts

import (
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

// A drawer lock wants two places of the fence: gauges for both, and coupons of both
// boards. Invented cutter; a front of 19 before sides of half an inch, 3/8 in of
// overlay: the tooth reaches 7/8 in out of the fence.
func TestDrawerLockFixtures(t *testing.T) {
	s, _ := startedShop(t, "mm")
	c, err := cutter.Parse("drawer.toml", []byte("name = \"Drawer\"\njoint = \"drawer-lock\"\nunits = \"mm\"\nprofile = [ [20, 0], [20, 6], [26, 7], [26, 12] ]\n"))
	require.NoError(t, err)
	r := Request{
		Shop: s, Stock: Measure{19, "mm"}, Kind: "gauge", Version: "test",
		Joint: joint.Request{Cutter: c, Stock: 19, Other: 12.7, Overlay: 9.525},
	}
	rs := EachPass(r)
	require.Len(t, rs, 2)
	assert.Equal(t, "drawer-19mmx12.7mm-gauge-pin-overlay9.525mm", rs[0].ID())
	assert.Equal(t, "drawer-19mmx12.7mm-gauge-pin-upright-overlay9.525mm", rs[1].ID())
	var nose [2]float64
	for i, r := range rs {
		f, _, _, err := Make(t.Context(), r)
		require.NoError(t, err)
		nose[i] = f.Contact.X
	}
	assert.InDelta(t, 3-(26-22.225), nose[0], 1e-9)
	assert.InDelta(t, 3-20, nose[1], 1e-9)

	r.Kind = "coupon"
	require.Len(t, EachPass(r), 1)
	f, _, _, err := Make(t.Context(), r)
	require.NoError(t, err)
	assert.Len(t, f.Plates, 2)

	// The lip bears on the cutter's top, the tooth's land sets the fence: neither
	// keeps anything of the mill's error.
	r.Kind = "block"
	for _, r := range EachPass(r) {
		f, files, _, err := Make(t.Context(), r)
		require.NoError(t, err)
		assert.NotEmpty(t, files)
		assert.InDelta(t, 0, f.Figures.PerTool[0], 1e-6)
		assert.InDelta(t, 0, f.Figures.PerTool[1], 1e-6)
		assert.Equal(t, 11.0, seatOf(t, f, "height").Start()[1])
	}
	r.Pass = 7
	_, files, _, err := Make(t.Context(), r)
	assert.ErrorContains(t, err, "no pass 8")
	assert.Nil(t, files)
}

// A matched set has a block for each cutter, and no two requests share a name.
func TestMatchedAndEdgeFixtures(t *testing.T) {
	s, _ := startedShop(t, "mm")
	read := func(handle string) *cutter.Cutter {
		text, err := os.ReadFile("../testdata/cutters/" + handle + ".toml")
		require.NoError(t, err)
		c, err := cutter.Parse(handle+".toml", text)
		require.NoError(t, err)
		return c
	}
	ids := map[string]bool{}
	for _, j := range []joint.Request{
		{Cutter: read("tongue"), With: read("groove")},
		{Cutter: read("cope"), With: read("stick"), Skim: 0.5},
		{Cutter: read("rebate"), At: &joint.Landing{Profile: orb.Point{16, 12}, Table: orb.Point{8, 8}}},
		{Cutter: read("rebate"), At: &joint.Landing{Profile: orb.Point{16, 12}, Table: orb.Point{8, 6}}},
		{Cutter: read("round-over"), At: &joint.Landing{Profile: orb.Point{6.35, 6}, Table: orb.Point{0, 6}}},
		{Cutter: read("cove"), At: &joint.Landing{Profile: orb.Point{6, 9}, Table: orb.Point{0, 9}}},
	} {
		j.Stock = 19
		rs := EachPass(Request{Shop: s, Stock: Measure{19, "mm"}, Kind: "block", Version: "test", Joint: j})
		assert.Len(t, rs, map[bool]int{true: 2, false: 1}[j.With != nil])
		for _, r := range rs {
			assert.False(t, ids[r.ID()], r.ID())
			ids[r.ID()] = true
			f, _, _, err := Make(t.Context(), r)
			require.NoError(t, err, r.ID())
			// A seat on a bend, 30° of it, keeps (√3 - 1)/(√3 + 1) of the error w = 0.05:
			// height and fence both miss by v, v(cos 30° + sin 30°) = w(cos 30° +
			// sin 30° - 1). Level and upright seats keep nothing. Derived here.
			keeps := 0.0
			if r.Joint.Cutter.Handle != "rebate" {
				keeps = 0.05 * (math.Sqrt(3) - 1) / (math.Sqrt(3) + 1)
			}
			if r.Joint.With == nil {
				assert.InDelta(t, keeps, math.Abs(f.Figures.PerTool[0]), 2e-4, r.ID())
				assert.InDelta(t, keeps, math.Abs(f.Figures.PerTool[1]), 2e-4, r.ID())
			} else {
				assert.Less(t, math.Abs(f.Figures.PerTool[0])+math.Abs(f.Figures.PerTool[1]), 1e-6, r.ID())
			}
			assert.Equal(t, f.Setting.Passes[r.Pass].Cutter, f.Pass.Cutter)
		}
	}
	assert.Contains(t, ids, "tongue+groove-19mm-block")
	assert.Contains(t, ids, "cope+stick-19mm-block-second-skim0.5mm")
	assert.Contains(t, ids, "rebate-19mm-block-r16h12x8z6mm")
}

func seatOf(t *testing.T, f *Fixture, name string) geom.Path {
	for _, s := range f.Fitted[0].Seats {
		if s.Name == name {
			return s.Path
		}
	}
	require.Fail(t, "no seat "+name)
	return geom.Path{}
}
