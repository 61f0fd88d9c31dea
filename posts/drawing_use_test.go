package posts

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/joint"
	"blockwright/posts/svg"
)

// designed is a fixture as far as its moves.
func designed(t testing.TB, kind string, j joint.Request, units string) *Fixture {
	t.Helper()
	s, _ := startedShop(t, units)
	f, err := design(Request{Shop: s, Joint: j, Stock: Measure{MM: j.Stock, Unit: units}, Kind: kind, Width: StripWidth, Version: "test"})
	require.NoError(t, err)
	return f
}

// everyRequest is a request of each kind of joint.
func everyRequest(t testing.TB) map[string]joint.Request {
	out := map[string]joint.Request{}
	for name, s := range everyJoint(t) {
		if name != "thick stock" && name != "named to bug" {
			out[name] = s.Request
		}
	}
	return out
}

// Every coupon, strip and trial has a view in use, and no text on it lies on another.
func TestEveryFixtureIsSeenInUse(t *testing.T) {
	for name, r := range everyRequest(t) {
		for _, kind := range []string{"coupon", "strip", "trial"} {
			for _, units := range []string{"mm", "in"} {
				p := pictureOf(designed(t, kind, r, units))
				v := p.inUse(seatNames(p.Parts))
				require.NotNil(t, v.draw, "%s, %s", name, kind)
				w, h := v.size()
				assert.Less(t, w, 190.0, "%s, %s", name, kind)
				assert.Less(t, h, 230.0, "%s, %s", name, kind)
				assert.Empty(t, overlapsWithin(v), "%s, %s, %s", name, kind, units)
			}
		}
	}
}

// overlapsWithin lists the texts of a single view that lie on each other.
func overlapsWithin(v view) []string {
	w, h := v.size()
	c := svg.New("test", w+2*margin, h+2*margin, "", "")
	v.picture(c, orb.Point{margin, h + margin})
	return overlaps(c)
}

// A test piece laid into a coupon lies against it: they touch and do not overlap.
func TestPiecesLieInTheirCoupons(t *testing.T) {
	for name, r := range everyRequest(t) {
		p := pictureOf(designed(t, "coupon", r, "mm"))
		for _, q := range p.Parts {
			piece, ok := p.piece(q.Part)
			require.True(t, ok, name)
			if len(p.Setting.Passes) < 2 || name == "cope" {
				continue
			}
			clash := geom.Intersection(q.Outline, piece.region())
			assert.Less(t, clash.Area(), 1e-3, "%s, %s", name, q.Part)
			d, _, _ := geom.Closest(q.Outline, piece.region())
			assert.Less(t, d, 1e-6, "%s, %s", name, q.Part)
		}
	}
}
