package posts

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/adjust"
	"blockwright/jig/cutter"
	"blockwright/jig/plate"
	"blockwright/jig/shop"
)

// The trial's own program, run on a worn machine and measured, leads back to what
// is wrong with it.
func TestTrialTellsWhatIsWorn(t *testing.T) {
	s, c := startedShop(t, "mm")
	for _, climb := range []bool{true, false} {
		copied := *s
		copied.Defaults.Climb = climb
		trialOn(t, &copied, c)
	}
}

func trialOn(t *testing.T, s *shop.Shop, c *cutter.Cutter) {
	t.Helper()
	r := Request{Shop: s, Kind: "trial", Stock: Measure{19, "mm"}}
	r.Joint.Cutter, r.Joint.Stock = c, 19
	f, files, _, err := Make(t.Context(), r)
	require.NoError(t, err)
	w := &worn{diameter: f.Diameter + 0.1, play: [2]float64{0.08, 0.03}}
	w.run(t, files["ngc"], 0)
	side := map[string]geom.Path{}
	for _, p := range f.Plates {
		for i, k := range p.Kept {
			side[p.Part+" "+p.Seats[i].Name] = k
		}
	}
	size := func(part, name, axis string) float64 {
		return w.span(side[part+" "+name+" "+axis+"+"], side[part+" "+name+" "+axis+"-"])
	}
	axis := func(a string) adjust.Axis {
		return adjust.Axis{Big: size("frame", "outside", a), Small: size("square", "outside", a), Window: -size("frame", "window", a)}
	}
	n := adjust.Nominal{Big: plate.TrialBig, Small: plate.TrialSmall, Window: plate.TrialWindow, Corner: plate.TrialCorner, Mill: f.Diameter}
	got, err := adjust.FromTrial(n, axis("X"), axis("Y"), 0, 0)
	require.NoError(t, err)
	t.Logf("%+v %+v", axis("X"), got)
	assert.InDelta(t, w.diameter, got.Diameter, 0.002)
	assert.InDelta(t, 0.08, got.X.Backlash, 0.002)
	assert.InDelta(t, 0.03, got.Y.Backlash, 0.002)
	assert.InDelta(t, 1, got.X.Scale, 1e-4)
}
