package posts

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
	assert.Equal(t, "drawer-19mmx12.7mm-gauge-pin", rs[0].ID())
	assert.Equal(t, "drawer-19mmx12.7mm-gauge-pin-upright", rs[1].ID())
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

	r.Kind = "block"
	_, files, _, err := Make(t.Context(), r)
	assert.ErrorContains(t, err, "use a gauge")
	assert.Nil(t, files)
	r.Pass = 7
	_, _, _, err = Make(t.Context(), r)
	assert.ErrorContains(t, err, "no pass 8")
}
