package plate

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/joint"
)

// What calipers read on the trial pieces are the nominal sizes, with any mill.
func TestTrialSizes(t *testing.T) {
	for _, mill := range []float64{2, 3.175, 6} {
		for _, p := range Trial("TRIAL") {
			c, err := Fit(p, []float64{mill})
			require.NoError(t, err)
			want := map[string]float64{"outside": TrialBig, "window": TrialWindow}
			if p.Part == "square" {
				want = map[string]float64{"outside": TrialSmall}
			}
			for name, size := range want {
				seats := map[string]geom.Path{}
				for i, s := range c.Seats {
					seats[s.Name] = c.Kept[i]
					assert.InDelta(t, jaw, c.Kept[i].Length(), 1e-6, s.Name)
				}
				assert.InDelta(t, size, seats[name+" X+"].Start()[0]-seats[name+" X-"].Start()[0], 1e-9)
				assert.InDelta(t, size, seats[name+" Y+"].Start()[1]-seats[name+" Y-"].Start()[1], 1e-9)
			}
		}
	}
}

// Flat: a land of 5 above what the cutter reaches, 19 of 19. Upright: 49 - 9.5 - 19
// and a land of 5 make 25.5, five layers of 6; longer than the board by the opening
// and 20 at each end.
func TestStripRules(t *testing.T) {
	s, err := joint.Solve(joint.Request{Cutter: worked(t), Stock: 19})
	require.NoError(t, err)
	flat, err := Strips(StripRequest{Pass: s.Passes[0], Table: table, Thick: 6, Width: 200})
	require.NoError(t, err)
	assert.Len(t, flat, 1)
	upright, err := Strips(StripRequest{Pass: s.Passes[1], Table: table, Thick: 6, Width: 200})
	require.NoError(t, err)
	assert.Len(t, upright, 5)
	b := upright[0].Outline.Bound()
	assert.InDelta(t, 200+98+40, b.Max[1]-b.Min[1], 1e-9)
	thin, err := Strips(StripRequest{Pass: s.Passes[0], Table: table, Thick: 3, Width: 200})
	require.NoError(t, err)
	assert.Len(t, thin, 2, "5 of land take two sheets of 3")
	_, err = Strips(StripRequest{Pass: s.Passes[0], Table: table, Thick: 6, Width: 5})
	assert.ErrorContains(t, err, "want 20 mm to 2000 mm")
}

// A coupon is the board's ideal end: outline and cut line are one, and every cut
// edge that can keeps its place on the wall.
func TestCouponIsTheJoint(t *testing.T) {
	s, err := joint.Solve(joint.Request{Cutter: worked(t), Stock: 19})
	require.NoError(t, err)
	designs, err := Coupons(CouponRequest{Setting: s, Clear: 0.4, Ease: 0.5})
	require.NoError(t, err)
	cuts, err := FitAll(designs, []float64{2})
	require.NoError(t, err)
	require.Len(t, cuts, 1, "both passes leave the same section")
	d, at := geom.Farthest(s.Passes[0].CutLine, cuts[0].Outline, 1e-9)
	assert.Less(t, d, 1e-9, "at %v", at)
	cut := 0
	for i, seat := range cuts[0].Seats {
		d, at := geom.Farthest(cuts[0].Kept[i], cuts[0].Wall, 1e-9)
		assert.Less(t, d, geom.Tol, "%s at %v", seat.Name, at)
		if seat.Name[:3] == "cut" {
			cut++
		}
	}
	assert.GreaterOrEqual(t, cut, 4)
	// Laid against its own half turn, the ideal joint closes.
	turned := s.Passes[0].CutLine.Move(s.Nested())
	d, at = geom.Farthest(turned, []geom.Path{s.Passes[0].CutLine}, 1e-9)
	assert.Less(t, d, geom.Tol, "at %v", at)
}
