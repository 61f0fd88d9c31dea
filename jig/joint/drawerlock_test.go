package joint_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
)

// drawer is an invented drawer-lock cutter: a plain land of radius 20, a tooth of
// radius 26 at its top; the centre is (23, 6.5).
func drawer() *cutter.Cutter {
	return &cutter.Cutter{
		Handle: "drawer", Joint: "drawer-lock", Known: [2]bool{true, true},
		Profile: geom.Path{V: []geom.Vertex{geom.V(20, 0), geom.V(20, 6), geom.V(26, 7), geom.V(26, 12)}},
	}
}

// TestDrawerLock: the side is cut by the tooth only, its end meets the cutter's
// top. For an overlay of 3/8 in and a side of 1/2 in the tooth stands 7/8 in out of
// the fence in the front's pass, as in a woodworking magazine's worked example.
func TestDrawerLock(t *testing.T) {
	s := solve(t, joint.Request{Cutter: drawer(), Stock: 19, Other: 12.7, Overlay: 9.525})
	assert.InDeltaSlice(t, []float64{23, 6.5}, s.Centre[:], geom.Tol)
	front, side := s.Passes[0], s.Passes[1]
	assert.InDelta(t, -1, front.Height, geom.Tol)
	assert.InDelta(t, -1, side.Height, geom.Tol)
	assert.InDelta(t, 22.225, front.X(8), geom.Tol)
	assert.InDelta(t, 0, side.X(2), geom.Tol)
	assert.InDelta(t, 6, side.X(8), geom.Tol)
	assert.InDeltaSlice(t, []float64{11, 500}, s.Range[:], geom.Tol)

	for _, tt := range []struct{ dz, gap, clash float64 }{{0, 0, 0}, {1, 0, 1}, {-1, 1, 0}} {
		f := s.With(tt.dz, 0)
		assert.InDelta(t, tt.gap, f.Nested.Normal, geom.Tol, "dz %v", tt.dz)
		assert.InDelta(t, tt.clash, f.Nested.Interference, geom.Tol, "dz %v", tt.dz)
		assert.InDelta(t, 2*tt.dz, f.Off[1], geom.Tol)
	}
	f := s.With(0, 0)
	assert.InDelta(t, 0, f.Flush.Normal, geom.Tol)
	assert.InDelta(t, 0, f.Flush.Interference, geom.Tol)
	assert.InDelta(t, 0.2, s.With(0, 0.1).Off[0], geom.Tol, "both fences 0.1 back: the side stands 0.2 in")
	assert.Nil(t, f.Corner)
	m := s.Minimise()
	assert.InDelta(t, front.Height, m.Height, geom.Tol)
	assert.InDelta(t, front.Fence, m.Fence, geom.Tol)
	assert.Nil(t, s.Read(0).Kiss)
}

func TestDrawerLockRefusals(t *testing.T) {
	_, err := joint.Solve(joint.Request{Cutter: drawer(), Stock: 10.9, Other: 12})
	var out *joint.OutOfRange
	require.ErrorAs(t, err, &out, "no lip is left")
	assert.InDelta(t, 11, out.Range[0], geom.Tol)
	_, err = joint.Solve(joint.Request{Cutter: drawer(), Stock: 19, Other: 5.9})
	require.ErrorAs(t, err, &out, "the groove cuts the side through")
	assert.InDelta(t, 6, out.Range[0], geom.Tol)
	_, err = joint.Solve(joint.Request{Cutter: drawer(), Stock: 19, Land: 1})
	assert.Error(t, err)
	s := solve(t, joint.Request{Cutter: drawer(), Stock: 12, Other: 7})
	assert.Len(t, s.Warnings, 2, "thin lip, thin wall behind the groove")
}

// glue is an invented edge-glue cutter, three tapered fingers about (20, 18).
func glue() *cutter.Cutter {
	up := []geom.Vertex{
		geom.V(0, 0), geom.V(4, 1), geom.V(4, 5), geom.V(-4, 7), geom.V(-4, 11), geom.V(0, 12), geom.V(0, 18),
	}
	p := geom.Path{}
	for i := len(up) - 1; i > 0; i-- {
		p.V = append(p.V, geom.V(20-up[i].X(), 18-up[i].Y()))
	}
	for _, v := range up {
		p.V = append(p.V, geom.V(20+v.X(), 18+v.Y()))
	}
	return &cutter.Cutter{Handle: "glue", Joint: "edge-glue", Known: [2]bool{true, true}, Profile: p}
}

// TestEdgeGlue: the centre on the stock's centre line, the least depth of cut the
// skim, and an error in height doubled on the boards.
func TestEdgeGlue(t *testing.T) {
	for _, skim := range []float64{0, 0.8} {
		s := solve(t, joint.Request{Cutter: glue(), Stock: 26, Skim: skim})
		assert.InDeltaSlice(t, []float64{20, 18}, s.Centre[:], geom.Tol)
		p := s.Passes[0]
		assert.InDelta(t, -5, p.Height, geom.Tol)
		assert.InDelta(t, 16-skim, p.Fence, geom.Tol)
		assert.Equal(t, "turned", s.Passes[1].Name)
		least := 1e9
		for _, v := range p.CutLine.V {
			least = min(least, v.X())
		}
		assert.InDelta(t, skim, least, geom.Tol)
		f := s.With(0, 0)
		assert.InDelta(t, 0, f.Flush.Normal, geom.Tol)
		assert.InDelta(t, 0, f.Flush.Interference, geom.Tol)
		f = s.With(0.1, 0)
		assert.InDelta(t, 0.2, f.Off[1], geom.Tol)
		assert.InDelta(t, 0.2, f.FlipTop, geom.Tol)
		assert.InDelta(t, 0, f.Nested.Normal, geom.Tol)
		m := s.Minimise()
		assert.InDelta(t, p.Height, m.Height, geom.Tol)
		assert.InDelta(t, p.Fence, m.Fence, geom.Tol)
	}
	s := solve(t, joint.Request{Cutter: glue(), Stock: 26})
	assert.InDeltaSlice(t, []float64{0, 36}, s.Range[:], geom.Tol)
	_, err := joint.Solve(joint.Request{Cutter: glue(), Stock: 36.1})
	var out *joint.OutOfRange
	require.ErrorAs(t, err, &out)
}

func TestLimits(t *testing.T) {
	s, err := joint.Limits(ridge(), 3)
	require.NoError(t, err)
	assert.InDeltaSlice(t, []float64{13, 30}, s.Range[:], geom.Tol)
	assert.InDeltaSlice(t, []float64{19, 30}, s.Usable[:], geom.Tol)
	assert.Empty(t, s.Passes)
}
