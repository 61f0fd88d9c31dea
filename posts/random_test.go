package posts

import (
	"errors"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/jig/joint"
	"blockwright/jig/plate"
	"blockwright/jig/shop"
	"blockwright/testdata/random"
)

// Whatever the cutter, the stock, the sheet and the way of holding: a fixture is
// made and proved, or refused for a reason of the trade. A program of ours that
// does not pass its proof is a defect.
func TestRandomFixtures(t *testing.T) {
	mm, _ := startedShop(t, "mm")
	in, _ := startedShop(t, "in")
	made, all := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		_, _, _, err := Make(t.Context(), drawRequest(t, mm, in))
		all++
		var far *joint.Unreachable
		var range_ *joint.OutOfRange
		var big *plate.TooBig
		var small *SheetTooSmall
		switch {
		case err == nil:
			made++
		case errors.As(err, &far), errors.As(err, &range_), errors.As(err, &big), errors.As(err, &small):
		default:
			require.NoError(t, err)
		}
	})
	require.Greater(t, made, all/3, "of %d", all)
}

// drawRequest draws a fixture of one of the shops, which are not changed.
func drawRequest(t *rapid.T, shops ...*shop.Shop) Request {
	s := *rapid.SampledFrom(shops).Draw(t, "shop")
	s.Sheets = slices.Clone(s.Sheets)
	s.Sheets[0].Measured = rapid.Float64Range(3, 12).Draw(t, "thick")
	s.Defaults.Hold = rapid.SampledFrom([]string{"tabs", "tabs", "screws", "skin"}).Draw(t, "hold")
	s.Defaults.Zero = rapid.SampledFrom([]string{"table", "top"}).Draw(t, "zero")
	s.Defaults.Climb = rapid.Bool().Draw(t, "climb")
	s.Defaults.Spring = rapid.Bool().Draw(t, "spring")
	c := random.Lock(t)
	r := Request{
		Shop: &s, Kind: rapid.SampledFrom(Kinds()).Draw(t, "kind"), Version: "test", Width: 120,
		Stock: Measure{rapid.Float64Range(14, 28).Draw(t, "stock"), s.Units},
	}
	if r.Kind == "gauge" {
		r.From = rapid.SampledFrom([]string{"pin", "cutter"}).Draw(t, "from")
	}
	r.Joint = joint.Request{Cutter: c, Stock: r.Stock.MM}
	return r
}
