package cutter_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"blockwright/jig/cutter"
	"blockwright/jig/shop"
)

func demo(t testing.TB) *cutter.Cutter {
	handle, text := shop.StartCutter()
	c, err := cutter.Parse(handle+".toml", text)
	require.NoError(t, err)
	return c
}

func TestReach(t *testing.T) {
	c := demo(t)
	require.Equal(t, 0.0, c.Bottom())
	require.Equal(t, 30.0, c.Top())
	require.Equal(t, -30.0, c.Lowest())
	require.Equal(t, 30.0, c.Highest())
	require.Equal(t, 34.0, c.MaxRadius())
	for _, tt := range []struct{ h, want float64 }{
		{0, 34}, {5, 29}, {10, 24}, {10.5, 25.5}, {12, 25.5}, {15, 19}, {17, 12.5}, {20, 14}, {30, 4},
	} {
		r, ok := c.RadiusAt(tt.h)
		require.True(t, ok)
		require.InDelta(t, tt.want, r, 1e-12, tt.h)
	}
	for _, h := range []float64{-0.001, 30.001, math.NaN()} {
		_, ok := c.RadiusAt(h)
		require.False(t, ok)
	}
	for _, tt := range []struct{ lo, hi, want float64 }{
		{-40, 40, 34}, {-40, -1, 6}, {-40, 0, 34}, {12, 13, 25.5}, {15, 30, 19}, {16, 30, 14}, {16, 19, 12.5}, {20, 20, 14},
	} {
		r, ok := c.MaxRadiusBetween(tt.lo, tt.hi)
		require.True(t, ok)
		require.InDelta(t, tt.want, r, 1e-12, "%v to %v", tt.lo, tt.hi)
	}
	_, ok := c.MaxRadiusBetween(31, 40)
	require.False(t, ok)
	_, ok = c.MaxRadiusBetween(-40, -31)
	require.False(t, ok)
	at, ok := c.WidestBetween(10.2, 30)
	require.True(t, ok)
	require.Equal(t, [2]float64{25.5, 10.5}, [2]float64(at))
}

// A bearing above the edge is body, and counts.
func TestReachWithBearing(t *testing.T) {
	c, err := cutter.Parse("a.toml", []byte(head+`
profile = [[6, 0], [20, 10, -0.414213562373095], [10, 20]]
body = [[6, -20], [6, 20], [11, 20], [11, 26]]`))
	require.NoError(t, err)
	require.Equal(t, 20.0, c.MaxRadius())
	require.Equal(t, 26.0, c.Highest())
	r, _ := c.MaxRadiusBetween(20, 30)
	require.Equal(t, 11.0, r)
	r, _ = c.RadiusAt(12) // hollow quarter round about (20, 20)
	require.InDelta(t, 14, r, 1e-9)
}

func ExampleParse() {
	// axis
	//   |\           r = 4 at h = 30
	//   | \
	//   |  |         12.5
	//   |  '-----.   through the centre, r = 19 at h = 15
	//   |        |   25.5
	//   |       /
	//   |        \
	//   |_________\  r = 34 at h = 0
	handle, text := shop.StartCutter()
	c, err := cutter.Parse(handle+".toml", text)
	if err != nil {
		fmt.Println(err)
		return
	}
	r, _ := c.RadiusAt(15)
	fmt.Printf("%s: %g high, %g at most, %g in the middle\n", c.Name, c.Top()-c.Bottom(), c.MaxRadius(), r)
	// Output: Ridge lock 45: 30 high, 34 at most, 19 in the middle
}
