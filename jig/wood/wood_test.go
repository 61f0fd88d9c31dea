package wood

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Wood Handbook, chapter 13: a board 232 mm wide (9.15 in) becomes 233.7 mm
// (9.217 in). Its inputs, flatsawn white fir, 8 to 11 %, C_T .00245, are from memory
// and reproduce it.
func TestWorkedExample(t *testing.T) {
	d, err := Change(232, .00245, 8, 11)
	require.NoError(t, err)
	assert.InDelta(t, 233.7, 232+d, 0.05)
	d, err = Change(9.15, .00245, 8, 11)
	require.NoError(t, err)
	assert.InDelta(t, 9.217, 9.15+d, 0.0005)
}

func TestTable(t *testing.T) {
	assert.True(t, slices.IsSorted(Names()))
	for _, s := range table {
		assert.Less(t, s.Radial, s.Tangential, "%s: wood moves more along the rings than across them", s.Name)
		assert.Greater(t, s.Radial, 0.0005)
		assert.Less(t, s.Tangential, 0.005)
	}
	s, err := Find(" White Ash ")
	require.NoError(t, err)
	assert.Equal(t, [2]float64{.00169, .00274}, [2]float64{s.Radial, s.Tangential})
	_, err = Find("ebony")
	assert.ErrorContains(t, err, "is not in the table")
}

func TestThickness(t *testing.T) {
	s, err := Find("red oak")
	require.NoError(t, err)
	f, q, err := s.Thickness(19, 8, 11)
	require.NoError(t, err)
	assert.InDelta(t, 19*.00158*3, f, 1e-12)
	assert.InDelta(t, 19*.00369*3, q, 1e-12)
	for _, m := range []float64{5.9, 14.1, math.NaN(), math.Inf(1)} {
		_, _, err = s.Thickness(19, 8, m)
		assert.Error(t, err)
	}
}
