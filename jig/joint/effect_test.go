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

// TestCorner holds the corner of the invented cutter's joint, T = 19, against a
// table that an outside geometry library computed from the two boards' sections.
func TestCorner(t *testing.T) {
	s := solve(t, joint.Request{Cutter: ridge(), Stock: 19})
	for _, tt := range []struct {
		name             string
		err              joint.Error
		tip, face, top   float64
		corner           []orb.Point
		flipTop, flipBot float64
	}{
		{"right", joint.Error{}, 0, 0, 19, []orb.Point{{0, 19}}, 0, 0},
		{"boards 19.2 thick", joint.Error{DT: 0.2}, 0, -0.2, 19, []orb.Point{{-0.2, 19}, {0, 19}, {0, 19.2}}, -0.2, -0.2},
		{"boards 18.8 thick", joint.Error{DT: -0.2}, 0.2, 0.2, 18.8, []orb.Point{{0.2, 18.8}}, 0.2, 0.2},
		{"dz = +0.1", joint.Error{DZ: 0.1}, 0.1, 0, 19.1, []orb.Point{{0, 19.1}, {0.1, 19}}, 0.2, 0.2},
		{"e = +0.1", joint.Error{E: 0.1}, 0.1, 0.2, 18.9, []orb.Point{{0.2, 18.9}, {0.1, 19}}, 0, 0},
		{"e = -0.1", joint.Error{E: -0.1}, 0, -0.2, 19, []orb.Point{{-0.2, 19}, {-0.1, 19}, {0, 18.9}, {0, 19}}, 0, 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			f := s.Under(tt.err)
			c := f.Corner
			require.NotNil(t, c)
			assert.InDelta(t, tt.tip, c.TipX, geom.Tol)
			assert.InDelta(t, tt.face, c.FaceX, geom.Tol)
			assert.InDelta(t, tt.top, c.TopZ, geom.Tol)
			require.Len(t, c.Outline.V, len(tt.corner), "%v", c.Outline.V)
			for i, q := range tt.corner {
				assert.InDelta(t, q[0], c.Outline.V[i].X(), geom.Tol, "%v", c.Outline.V)
				assert.InDelta(t, q[1], c.Outline.V[i].Y(), geom.Tol, "%v", c.Outline.V)
			}
			assert.InDelta(t, tt.flipTop, f.FlipTop, geom.Tol)
			assert.InDelta(t, tt.flipBot, f.FlipBottom, geom.Tol)
			assert.InDelta(t, 0, f.Nested.Normal, geom.Tol, "a point-symmetric cutter nests at any setting")
			assert.InDelta(t, 0, f.Nested.Interference, geom.Tol)
			if tt.err == (joint.Error{}) {
				assert.InDelta(t, 0, f.Flush.Normal, geom.Tol)
				assert.InDelta(t, 0, f.Flush.Interference, geom.Tol)
			}
		})
	}
}

// TestCornerFormulas repeats the closed forms for 45° tips: with m = max(0, dz+e)
// the face steps m - 2e, the end 2dz - m, the tip is dz + e.
func TestCornerFormulas(t *testing.T) {
	for _, stock := range []float64{15, 19, 25.4} {
		s := solve(t, joint.Request{Cutter: ridge(), Stock: stock})
		for _, dz := range []float64{-0.2, -0.05, 0, 0.1, 0.23} {
			for _, e := range []float64{-0.17, -0.1, 0, 0.05, 0.2} {
				f := s.With(dz, e)
				m := math.Max(0, dz+e)
				assert.InDelta(t, m-2*e, f.Corner.FaceStep, geom.Tol)
				assert.InDelta(t, 2*dz-m, f.Corner.EndStep, geom.Tol)
				for _, tip := range f.Tips {
					assert.InDelta(t, dz+e, tip.Short, geom.Tol)
					assert.InDelta(t, math.Max(0, -dz-e), tip.Land, geom.Tol)
				}
				assert.InDelta(t, 2*dz, f.FlipTop, geom.Tol)
				assert.InDelta(t, 2*dz, f.FlipBottom, geom.Tol)
			}
		}
	}
}

// TestFlushGap against the closed form: held flush, the second board's cut line
// is the first one's, moved by (-2e, -2dz); on a flank with the unit normal n from
// the second board to the first the gap is 2(e, dz)·n.
func TestFlushGap(t *testing.T) {
	s := solve(t, joint.Request{Cutter: ridge(), Stock: 19})
	line := s.Passes[0].CutLine
	for _, w := range [][2]float64{{0.1, 0}, {0, 0.1}, {-0.1, 0}, {0, -0.05}, {0.05, 0.05}, {0.1, -0.05}} {
		dz, e := w[0], w[1]
		gap, clash := 0.0, 0.0
		for i := range line.Edges() {
			d := line.Edge(i).Direction(0.5)
			g := 2 * (e*d[1] - dz*d[0])
			gap, clash = math.Max(gap, g), math.Max(clash, -g)
		}
		f := s.With(dz, e)
		// A corner between two gaping flanks lies farther from the other board's
		// corner than either flank, by the length of the move at most.
		assert.GreaterOrEqual(t, f.Flush.Normal, gap-geom.Tol)
		assert.LessOrEqual(t, f.Flush.Normal, math.Hypot(2*dz, 2*e)+geom.Tol)
		assert.GreaterOrEqual(t, f.Flush.Interference, clash-geom.Tol)
		assert.LessOrEqual(t, f.Flush.Interference, math.Hypot(2*dz, 2*e)+geom.Tol)
		t.Logf("dz %v e %v: %+v want %v %v", dz, e, f.Flush, gap, clash)
	}
}

func TestMinimise(t *testing.T) {
	for _, stock := range []float64{13, 16, 19, 25.4, 30} {
		s := solve(t, joint.Request{Cutter: ridge(), Stock: stock})
		m := s.Minimise()
		assert.InDelta(t, s.Passes[0].Height, m.Height, geom.Tol, "stock %v: %+v", stock, m)
		assert.InDelta(t, s.Passes[0].Fence, m.Fence, geom.Tol, "stock %v: %+v", stock, m)
		assert.InDelta(t, 0, m.Gap, geom.Tol)
	}
}

func TestRead(t *testing.T) {
	s := solve(t, joint.Request{Cutter: ridge(), Stock: 19})
	r := s.Read(0)
	assert.InDelta(t, 24.5, r.Top, geom.Tol)
	require.NotNil(t, r.Land)
	assert.InDelta(t, 16, r.Land.Out, geom.Tol)
	assert.InDelta(t, 5, r.Land.From, geom.Tol)
	assert.InDelta(t, 8.9, r.Land.To, geom.Tol)
	assert.InDelta(t, 0, r.Kiss.Out, geom.Tol)
	assert.InDelta(t, 19, r.Kiss.Foot, geom.Tol)
}
