package posts

import (
	"maps"
	"slices"
	"sync"
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

// A sampleFixture is one of [everyFixture].
type sampleFixture struct {
	joint, kind, units string
	fixture            *Fixture
}

// everyFixture is a fixture of every joint and kind, in a mm and in an inch shop,
// designed once for all tests. Not every cutter has a block.
func everyFixture(t testing.TB) []sampleFixture {
	t.Helper()
	everyOnce.Do(func() {
		requests := everyRequest(t)
		for _, name := range slices.Sorted(maps.Keys(requests)) {
			for _, kind := range Kinds() {
				for _, units := range []string{"mm", "in"} {
					s, _ := startedShop(t, units)
					r := requests[name]
					f, err := design(Request{Shop: s, Joint: r, Stock: Measure{MM: r.Stock, Unit: units}, Kind: kind, Width: StripWidth, Version: "test"})
					if err == nil {
						everyMade = append(everyMade, sampleFixture{name, kind, units, f})
					}
				}
			}
		}
	})
	require.Greater(t, len(everyMade), 60)
	return everyMade
}

var (
	everyOnce sync.Once
	everyMade []sampleFixture
)

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

// Every fixture has a view in use, and no text on it lies on another.
func TestEveryFixtureIsSeenInUse(t *testing.T) {
	for _, x := range everyFixture(t) {
		p := pictureOf(x.fixture)
		v := p.inUse(seatNames(p.Parts))
		require.NotNil(t, v.draw, "%s, %s", x.joint, x.kind)
		w, h := v.size()
		if x.kind == "coupon" || x.kind == "strip" || x.kind == "trial" { // the others have a narrow view
			assert.Less(t, w, 190.0, "%s, %s", x.joint, x.kind)
		}
		assert.Less(t, h, 230.0, "%s, %s", x.joint, x.kind)
		assert.Empty(t, overlapsWithin(v), "%s, %s, %s", x.joint, x.kind, x.units)
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
	for _, x := range everyFixture(t) {
		name, p := x.joint, pictureOf(x.fixture)
		if x.kind != "coupon" {
			continue
		}
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
