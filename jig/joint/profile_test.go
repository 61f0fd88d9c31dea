package joint_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/joint"
)

func landing(r, h, x, z float64) *joint.Landing {
	return &joint.Landing{Profile: orb.Point{r, h}, Table: orb.Point{x, z}}
}

// TestEdgeProfiles: the point lands, H = z - h, D = r - x, and the wood is as it
// should be elsewhere too.
func TestEdgeProfiles(t *testing.T) {
	for _, tt := range []struct {
		cutter        string
		at            *joint.Landing
		height, fence float64
		z, x          float64 // another place of the edge, by hand
		whole         float64 // thinnest board that shows the whole profile
	}{
		{"round-over", landing(6.35, 6, 0, 6), 0, 6.35, 6 - 6*math.Sqrt2/2, 6 - 6*math.Sqrt2/2, 6},
		{"round-over", landing(12.35, 0, 5, -1), -1, 7.35, 0, 7.35 + math.Sqrt(11) - 5.35 + 0, 0},
		{"chamfer", landing(12.7, 6.35, 3, 3), -3.35, 9.7, 1, 5, 6},
		{"cove", landing(14, 1, 8, 1), 0, 6, 1 + 4*math.Sqrt2, 4 * math.Sqrt2, 9},
		{"rebate", landing(16, 12, 9, 11), -1, 7, 4, 9, 11},
	} {
		s := solve(t, joint.Request{Cutter: invented(t, tt.cutter), Stock: 19, At: tt.at})
		require.Len(t, s.Passes, 1)
		p := s.Passes[0]
		assert.Equal(t, "flat", p.Name)
		assert.InDelta(t, tt.height, p.Height, geom.Tol, tt.cutter)
		assert.InDelta(t, tt.fence, p.Fence, geom.Tol, tt.cutter)
		if tt.whole > 0 {
			assert.InDelta(t, tt.x, p.X(tt.z), geom.Tol, tt.cutter)
			assert.InDelta(t, tt.whole, s.Usable[0], geom.Tol, tt.cutter)
		}
		assert.Empty(t, s.Warnings)

		f := s.With(0, 0)
		assert.InDelta(t, 0, f.Flush.Normal, geom.Tol)
		assert.InDelta(t, 0, f.Flush.Interference, geom.Tol)
		f = s.With(0, 0.2)
		assert.InDelta(t, 0.2, f.Off[0], geom.Tol)
		assert.Greater(t, f.Flush.Normal, 0.1, "more is cut")
		assert.InDelta(t, 0, f.Flush.Interference, geom.Tol)
		f = s.With(0, -0.2)
		assert.Greater(t, f.Flush.Interference, 0.1, "wood is left")
		assert.InDelta(t, 0, f.Flush.Normal, geom.Tol)
	}
}

// TestEdgeError: a chamfer at 45° wrong by dz or e lies dz/√2 or e/√2 off.
func TestEdgeError(t *testing.T) {
	s := solve(t, joint.Request{Cutter: invented(t, "chamfer"), Stock: 19, At: landing(12.7, 6.35, 3, 3)})
	for _, v := range []float64{0.1, -0.1} {
		for _, f := range []joint.Effect{s.With(v, 0), s.With(0, v)} {
			gap, clash := f.Flush.Normal, f.Flush.Interference
			if v < 0 {
				gap, clash = clash, gap
			}
			assert.InDelta(t, 0.1/math.Sqrt2, gap, 0.03, "more at the ends, where it meets the faces")
			assert.GreaterOrEqual(t, gap, 0.1/math.Sqrt2-geom.Tol)
			assert.InDelta(t, 0, clash, geom.Tol)
		}
	}
}

func TestEdgeRefusals(t *testing.T) {
	c := invented(t, "round-over")
	for _, tt := range []struct {
		name string
		r    joint.Request
		err  string
	}{
		{"no landing", joint.Request{Cutter: c, Stock: 19}, "at: none; want the point of the profile"},
		{"off the board", joint.Request{Cutter: c, Stock: 19, At: landing(12.35, 0, 0, 0)}, "cutter meets the board"},
		{"above the board", joint.Request{Cutter: c, Stock: 19, At: landing(12.35, 0, 5, 19)}, "cutter meets the board"},
		{"another board", joint.Request{Cutter: c, Stock: 19, Other: 12, At: landing(6.35, 6, 0, 6)}, "takes one board"},
		{"skim", joint.Request{Cutter: c, Stock: 19, Skim: 1, At: landing(6.35, 6, 0, 6)}, "skim: 1 mm"},
		{"huge", joint.Request{Cutter: c, Stock: 19, At: landing(6.35, math.Inf(1), 0, 6)}, "at: "},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := joint.Solve(tt.r)
			assert.ErrorContains(t, err, tt.err)
		})
	}
	s := solve(t, joint.Request{Cutter: c, Stock: 5, At: landing(6.35, 5, 0, 5)})
	assert.Len(t, s.Warnings, 2, "a point off the profile, a board too thin: %v", s.Warnings)
	s = solve(t, joint.Request{Cutter: c, Stock: 19, At: landing(6.35, 6, 0, 8)})
	assert.Len(t, s.Warnings, 1, "the edge begins above the table: %v", s.Warnings)
}
