package posts

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/jig/joint"
)

// Every letter that a drawing puts on a seat stands in its list too, no line of the
// list is cut short, and no text lies on another; for every kind of fixture, and for
// coupons with more seats than the usual strip has lines.
func TestEverySeatIsListed(t *testing.T) {
	samples := fixtures(t)
	in, _ := startedShop(t, "in")
	tongue, groove, drawer := exampleCutter(t, "tongue"), exampleCutter(t, "groove"), exampleCutter(t, "drawer")
	for name, j := range map[string]joint.Request{
		"coupons of a matched set":  {Cutter: tongue, With: groove, Stock: 19.05},
		"coupons of a drawer lock":  {Cutter: drawer, Stock: 19.05, Other: 12.7, Overlay: 9.525},
		"coupons of a square joint": {Cutter: groove, With: tongue, Stock: 19.05},
	} {
		samples = append(samples, sample{name, Request{Shop: in, Joint: j, Stock: Measure{MM: 19.05, Unit: "in"}, Kind: "coupon", Version: "test"}})
	}
	most := 0
	for _, s := range samples {
		f, err := design(s.request)
		require.NoError(t, err, s.name)
		p := pictureOf(f)
		names := seatNames(p.Parts)
		most = max(most, len(names))
		c := draw(p)
		count := map[string]int{}
		for _, l := range c.Labels() {
			count[l.Text]++
		}
		for _, n := range names {
			assert.GreaterOrEqual(t, count[n.letter], 2, "%s: %s is on the drawing or in the list, not both", s.name, n.letter)
			assert.Positive(t, count[n.name], "%s: %q is cut short", s.name, n.name)
		}
		assert.Positive(t, count[f.ID], "%s: the name is cut short", s.name)
		assert.Empty(t, overlaps(c), s.name)
	}
	assert.Greater(t, most, 10)
}
