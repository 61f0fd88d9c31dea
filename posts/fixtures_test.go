package posts

import (
	"testing"

	"github.com/stretchr/testify/require"

	"blockwright/jig/cutter"
	"blockwright/jig/joint"
	"blockwright/jig/shop"
)

// A sample is one fixture to make in tests.
type sample struct {
	name    string
	request Request
}

// startedShop is the shop that init writes, and its cutter.
func startedShop(t testing.TB, units string) (*shop.Shop, *cutter.Cutter) {
	t.Helper()
	s, err := shop.Parse(shop.FileName, shop.Start(units))
	require.NoError(t, err)
	handle, text := shop.StartCutter()
	c, err := cutter.Parse(handle+".toml", text)
	require.NoError(t, err)
	return s, c
}

// curved is a lock miter cutter with arcs, in inches: point-symmetric about
// (0.75, 0.625) in. Invented.
const curved = `
name = "Curve lock"
joint = "lock-miter"
units = "in"
shank = 0.5
max_rpm = 16000
profile = [ [1.375, 0], [0.95, 0.425], [1.0, 0.45, 0.4142135623730951], [1.02, 0.47], [1.02, 0.59], [0.48, 0.66],
            [0.48, 0.78, -0.4142135623730951], [0.5, 0.8], [0.55, 0.825], [0.125, 1.25] ]
`

// fixtures are block and gauge of two cutters in mm and inch shops, with every way
// of holding and both zeros.
func fixtures(t testing.TB) []sample {
	t.Helper()
	var out []sample
	add := func(name string, c *cutter.Cutter, stock Measure, kind string, s *shop.Shop, change func(*Request)) {
		r := Request{Shop: s, Joint: joint.Request{Cutter: c, Stock: stock.MM}, Stock: stock, Kind: kind, Version: "test"}
		if change != nil {
			copied := *s
			r.Shop = &copied
			change(&r)
		}
		out = append(out, sample{name, r})
	}
	mm, ridge := startedShop(t, "mm")
	in, _ := startedShop(t, "in")
	arcs, err := cutter.Parse("curve-lock.toml", []byte(curved))
	require.NoError(t, err)
	add("block 19", ridge, Measure{19, "mm"}, "block", mm, nil)
	add("gauge 19", ridge, Measure{19, "mm"}, "gauge", mm, nil)
	add("gauge 19 from the cutter", ridge, Measure{19, "mm"}, "gauge", mm, func(r *Request) { r.From = "cutter" })
	add("block 25.4, top, spring", ridge, Measure{25.4, "mm"}, "block", mm, func(r *Request) {
		r.Shop.Defaults.Zero, r.Shop.Defaults.Spring = "top", true
	})
	add("block 16, screws, conventional", ridge, Measure{16, "mm"}, "block", mm, func(r *Request) {
		r.Shop.Defaults.Hold, r.Shop.Defaults.Climb = "screws", false
	})
	add("block 3/4 in, inch shop", ridge, Measure{19.05, "in"}, "block", in, nil)
	add("gauge 3/4 in, inch shop", ridge, Measure{19.05, "in"}, "gauge", in, nil)
	add("coupon 19", ridge, Measure{19, "mm"}, "coupon", mm, nil)
	add("trial", ridge, Measure{19, "mm"}, "trial", mm, nil)
	add("facing 19", ridge, Measure{19, "mm"}, "facing", mm, nil)
	add("facing 25.4, top, spring", ridge, Measure{25.4, "mm"}, "facing", mm, func(r *Request) {
		r.Shop.Defaults.Zero, r.Shop.Defaults.Spring, r.Sheet = "top", true, "birch-9"
	})
	add("facing 7/8 in, arcs, inch shop", arcs, Measure{22.225, "in"}, "facing", in, nil)
	add("strip 150", ridge, Measure{19, "mm"}, "strip", mm, func(r *Request) { r.Width = 150 })
	add("block 7/8 in, arcs", arcs, Measure{22.225, "in"}, "block", in, nil)
	add("block 22, arcs, skin", arcs, Measure{22, "mm"}, "block", mm, func(r *Request) { r.Shop.Defaults.Hold = "skin" })
	return out
}
