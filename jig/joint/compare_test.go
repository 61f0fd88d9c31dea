package joint

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/geom"
	"blockwright/jig/cutter"
)

func comparable(t require.TestingT) *cutter.Cutter {
	c, err := cutter.Parse("ridge-lock.toml", []byte(`name = "R"
joint = "lock-miter"
units = "mm"
profile = [ [34, 0], [24, 10], [25.5, 10.5], [25.5, 14.4], [12.5, 15.6], [12.5, 19.5], [14, 20], [4, 30] ]`))
	require.NoError(t, err)
	return c
}

// A shifted profile is apart by its shift, lies on the other when laid, and its
// centre has changed by the shift. What it does to the joint at the old setting is
// what the same error of the setting does.
func TestCompareShifted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := comparable(t), comparable(t)
		dr := rapid.Float64Range(-0.3, 0.3).Draw(t, "dr")
		dh := rapid.Float64Range(-0.3, 0.3).Draw(t, "dh")
		b.Profile = b.Profile.Move(geom.Shift(dr, dh))
		d, err := Compare(a, b)
		require.NoError(t, err)
		assert.InDelta(t, dr, d.Change[0], 1e-6)
		assert.InDelta(t, dh, d.Change[1], 1e-6)
		assert.InDelta(t, 0, d.Best.Largest, 1e-6)
		assert.InDelta(t, -dr, d.Lay[0], 1e-6)
		assert.InDelta(t, -dh, d.Lay[1], 1e-6)
		assert.LessOrEqual(t, d.Apart.Largest, math.Hypot(dr, dh)+1e-9)
		assert.LessOrEqual(t, d.Apart.RMS, d.Apart.Largest+1e-9)

		sa, err := Solve(Request{Cutter: a, Stock: 19})
		require.NoError(t, err)
		sb, err := Solve(Request{Cutter: b, Stock: 19})
		require.NoError(t, err)
		e, err := Meeting(sa, sb)
		require.NoError(t, err)
		assert.InDelta(t, 2*dh, e.FlipTop, 1e-6)
		assert.InDelta(t, dh, e.Error.DZ, 1e-6)
		assert.InDelta(t, dr, e.Error.E, 1e-6)
	})
}

func TestCompareKnownFigures(t *testing.T) {
	a, b := comparable(t), comparable(t)
	d, err := Compare(a, b)
	require.NoError(t, err)
	assert.InDelta(t, 0, d.Apart.RMS, 1e-9)
	assert.Zero(t, d.Change)

	// The widest land ground by 0.2: the farthest point is 0.2 away.
	b.Profile.V[2].Point[0], b.Profile.V[3].Point[0] = 25.3, 25.3
	d, err = Compare(a, b)
	require.NoError(t, err)
	assert.InDelta(t, 0.2, d.Apart.Largest, 1e-6)
	assert.Positive(t, d.Apart.RMS)

	// An upright line 1 mm off all along is 1 mm off in the mean too.
	up := func(r float64) *cutter.Cutter {
		c := comparable(t)
		c.Profile = geom.Path{V: []geom.Vertex{geom.V(r, 0), geom.V(r, 10)}}
		return c
	}
	d, err = Compare(up(10), up(11))
	require.NoError(t, err)
	assert.InDelta(t, 1, d.Apart.Largest, 1e-9)
	assert.InDelta(t, 1, d.Apart.RMS, 1e-9)
	assert.InDelta(t, 0, d.Best.Largest, 1e-9)

	// Radii that are not known are laid, not compared.
	b = comparable(t)
	b.Profile = b.Profile.Move(geom.Shift(5, 0.1))
	b.Known[0] = false
	d, err = Compare(a, b)
	require.NoError(t, err)
	assert.Zero(t, d.Change[0])
	assert.InDelta(t, 0.1, d.Change[1], 1e-6)
	assert.Less(t, d.Apart.Largest, 0.15)

	far := comparable(t)
	far.Profile = far.Profile.Move(geom.Shift(0, 100))
	_, err = Compare(a, far)
	assert.ErrorContains(t, err, "no height in common")
}
