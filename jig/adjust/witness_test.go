package adjust

import (
	"math"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var planned = Witness{X: 40.4, Y: 60.4, Mill: 3.175, Left: 0.2, Play: 0.25}

// What a mill of diameter d on a machine that loses b leaves leads back to both.
func TestWitnessLeadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := planned.Mill + rapid.Float64Range(-0.3, 0.2).Draw(t, "wider")
		b := rapid.Float64Range(0, 0.15).Draw(t, "b")
		f, err := FromWitness(planned, planned.X+planned.Mill-d+b, planned.Y+planned.Mill-d-b)
		require.NoError(t, err)
		assert.InDelta(t, d, f.Diameter, 1e-9)
		assert.InDelta(t, b, f.Backlash, 1e-9)
	})
}

// With unequal axes the finished X walls are right all the same, Y off by half the
// difference, as the doc comment says.
func TestWitnessOfUnequalAxes(t *testing.T) {
	const d, bx, by = 3.2, 0.1, 0.04
	f, err := FromWitness(planned, planned.X+planned.Mill-d+bx, planned.Y+planned.Mill-d-by)
	require.NoError(t, err)
	assert.InDelta(t, 0, (f.Diameter-f.Backlash)-(d-bx), 1e-9)
	assert.InDelta(t, by-bx, (f.Diameter-f.Backlash)-(d-by), 1e-9, "a wall is off by half of it")
}

func TestWitnessRefuses(t *testing.T) {
	for _, tt := range []struct {
		name string
		x, y float64
		want string
	}{
		{"another pair", 42.4, 60.4, "Another pair of flats"},
		{"swapped", 60.38, 40.41, "give X first"},
		{"no number", math.NaN(), 60.4, "no number"},
		{"gains", 40.35, 60.45, "gains 0.05 mm"},
		{"loose", 40.8, 60.1, "loses 0.35 mm"},
		{"another mill", 39.5, 59.5, "another mill"},
		{"too wide", 40.06, 59.96, "mill anew"},
		{"too narrow", 40.9, 60.9, "cuts only"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := FromWitness(planned, tt.x, tt.y)
			var r *Refusal
			require.ErrorAs(t, err, &r)
			assert.ErrorContains(t, err, tt.want)
		})
	}
	f, err := FromWitness(planned, 40.39, 60.4)
	require.NoError(t, err, "readings err by a hundredth")
	assert.Zero(t, f.Backlash)
}

func TestCausesAreWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range Causes() {
		assert.False(t, seen[c.Name], c.Name)
		seen[c.Name] = true
		for _, s := range []string{c.Name, c.Shows, c.Decides, c.Do} {
			assert.NotEmpty(t, s, c.Name)
		}
		// A shop may be in inches: no size without its unit.
		for _, at := range regexp.MustCompile(`\d+\.\d+`).FindAllStringIndex(c.Decides, -1) {
			assert.Regexp(t, `^ (mm|degrees)\b`, c.Decides[at[1]:], c.Decides)
		}
	}
	assert.Len(t, seen, 7)
}
