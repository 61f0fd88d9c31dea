package main

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestInUnits(t *testing.T) {
	for _, tt := range []struct {
		mm    float64
		units string
		want  string
	}{
		{19, "mm", "19.000 mm"},
		{-5.5, "mm", "-5.500 mm"},
		{-0.0001, "mm", "0.000 mm"},
		{0, "in", "0.0000 in"},
		{19.05, "in", "0.7500 in (3/4)"},
		{19, "in", "0.7480 in (3/4 - 0.0020)"},
		{25.4, "in", "1.0000 in (1)"},
		{44.45, "in", "1.7500 in (1-3/4)"},
		{25.4 * 63 / 64, "in", "0.9844 in (63/64)"},
		{2.54, "in", "0.1000 in (3/32 + 0.0063)"},
		{-38.1, "in", "-1.5000 in (-1-1/2)"},
		{-5.5, "in", "-0.2165 in (-(7/32 - 0.0022))"},
		{0.1, "in", "0.0039 in"},
		{-0.1, "in", "-0.0039 in"},
	} {
		require.Equal(t, tt.want, inUnits(tt.mm, tt.units), "%v mm", tt.mm)
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), 1e300, math.MaxFloat64, -1e18} {
		require.NotPanics(t, func() { inUnits(v, "in") })
	}
}

func TestLengthFlags(t *testing.T) {
	l := &lengthsFlag{sign: positive}
	require.NoError(t, l.Set("19, 3/4in"))
	require.NoError(t, l.Set(`1-3/4"`))
	require.NoError(t, l.Set("19"))
	require.Equal(t, []float64{19, 19.05, 44.45}, l.mm("mm"))
	require.Equal(t, []float64{482.6, 19.05, 44.45}, l.mm("in"))
	for _, bad := range []string{"", ",", "19,", ",19", "19,,20", " ", "0", "-5", "wide", "1e999", "19cm", "nan", "1/0", "20,-1"} {
		require.Error(t, (&lengthsFlag{sign: positive}).Set(bad), bad)
	}
	one := &lengthFlag{sign: notNegative}
	require.NoError(t, one.Set("0"))
	require.Error(t, one.Set("-0.1mm"))
	require.NoError(t, (&lengthFlag{}).Set("-0.1mm"))
}

func TestSplitWords(t *testing.T) {
	got, err := splitWords("block,gauge", "coupon", " trial , strip ")
	require.NoError(t, err)
	require.Equal(t, []string{"block", "gauge", "coupon", "trial", "strip"}, got)
	for _, bad := range [][]string{{""}, {"a", ""}, {"a,"}, {",a"}, {"a,,b"}, {" , "}} {
		_, err := splitWords(bad...)
		require.Error(t, err, bad)
	}
}

// What is printed in inches reads back to half a digit of its last place.
func TestInUnitsReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := rapid.Float64Range(-1000, 1000).Draw(t, "mm")
		var inch float64
		_, err := fmt.Sscan(inUnits(mm, "in"), &inch)
		if err != nil || math.Abs(inch*25.4-mm) > 0.00005*25.4+1e-9 {
			t.Fatalf("%v mm printed as %s", mm, inUnits(mm, "in"))
		}
	})
}
