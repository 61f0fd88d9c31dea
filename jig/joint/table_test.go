package joint_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/joint"
	"blockwright/jig/shop"
)

func TestFits(t *testing.T) {
	good := shop.Table{InsertOpening: 98, FenceWidth: 120, FenceHeight: 60, LiftLow: -40, LiftHigh: 60}
	s := solve(t, joint.Request{Cutter: ridge(), Stock: 19})
	require.NoError(t, s.Fits(good))
	require.NoError(t, s.Fits(shop.Table{}), "what is not stated limits nothing")

	for _, tt := range []struct {
		name   string
		change func(*shop.Table)
		limit  string
		need   float64
	}{
		{"insert opening", func(t *shop.Table) { t.InsertOpening = 67.9 }, "insert opening", 68},
		{"lift too high", func(t *shop.Table) { t.LiftLow = -5.4 }, "lift", -5.5},
		{"lift too low", func(t *shop.Table) { t.LiftHigh = -6 }, "lift", -5.5},
		// What stands above the table has the radius 28.5 at most: at h = 5.5.
		{"fence opening width", func(t *shop.Table) { t.FenceWidth = 56.9 }, "fence opening width", 57},
		{"fence opening height", func(t *shop.Table) { t.FenceHeight = 24.4 }, "fence opening height", 24.5},
	} {
		t.Run(tt.name, func(t *testing.T) {
			table := good
			tt.change(&table)
			var un *joint.Unreachable
			require.ErrorAs(t, s.Fits(table), &un)
			assert.Equal(t, tt.limit, un.Limit)
			assert.InDelta(t, tt.need, un.Need, geom.Tol)
			assert.Contains(t, un.Error(), "mm")
		})
	}
	just := shop.Table{InsertOpening: 68, FenceWidth: 57, FenceHeight: 24.5, LiftLow: -5.5, LiftHigh: -5.5}
	assert.NoError(t, s.Fits(just), "just enough is enough")
}

// TestFitsWithBody: a nut above the edge stands higher and may be wider than what
// cuts.
func TestFitsWithBody(t *testing.T) {
	c := ridge()
	c.Body = geom.Path{V: []geom.Vertex{geom.V(6, -30), geom.V(6, 0), geom.V(3, 30), geom.V(3, 42)}}
	s := solve(t, joint.Request{Cutter: c, Stock: 19})
	assert.InDelta(t, 36.5, s.Read(0).BodyTop, geom.Tol)
	assert.InDelta(t, 24.5, s.Read(0).Top, geom.Tol)
	var un *joint.Unreachable
	require.ErrorAs(t, s.Fits(shop.Table{FenceHeight: 36}), &un)
	assert.InDelta(t, 36.5, un.Need, geom.Tol)
}

// TestUnknownShifts: a profile known up to a shift gives the same cut line, and
// what hangs on the shift is not asked of the table.
func TestUnknownShifts(t *testing.T) {
	c := ridge()
	c.Profile = c.Profile.Move(geom.Shift(100, 200))
	c.Body = geom.Path{}
	c.Known = [2]bool{false, false}
	s := solve(t, joint.Request{Cutter: c, Stock: 19})
	w := solve(t, joint.Request{Cutter: ridge(), Stock: 19})
	for i, v := range w.Passes[0].CutLine.V {
		assert.InDelta(t, v.X(), s.Passes[0].CutLine.V[i].X(), geom.Tol)
		assert.InDelta(t, v.Y(), s.Passes[0].CutLine.V[i].Y(), geom.Tol)
	}
	assert.NoError(t, s.Fits(shop.Table{InsertOpening: 98, LiftLow: -40, LiftHigh: 60, FenceWidth: 120, FenceHeight: 60}))
	assert.InDelta(t, 24.5, s.Read(0).Top, geom.Tol)
}
