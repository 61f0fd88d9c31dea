package route

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestFeeds(t *testing.T) {
	// SME, Useful formulas for machining: 18,000 rpm × 2 × 0.1 mm = 3,600 mm/min.
	r, err := Feeds(18000, 2, 0.1, 1, Caps{})
	require.NoError(t, err)
	assert.InDelta(t, 3600, r.Feed, 1e-9)
	assert.Empty(t, r.Limited)

	// Half of the table value unless another share is given.
	r, err = Feeds(18000, 2, 0.1, 0, Caps{})
	require.NoError(t, err)
	assert.InDelta(t, 1800, r.Feed, 1e-9)
	assert.InDelta(t, 600, r.Plunge, 1e-9)
	assert.InDelta(t, 0.05, r.Chip, 1e-12)

	r, err = Feeds(18000, 2, 0.1, 0.5, Caps{FeedXY: 1500, FeedZ: 400, SpindleHigh: 16000})
	require.NoError(t, err)
	assert.Equal(t, 16000.0, r.RPM)
	assert.Equal(t, 1500.0, r.Feed)
	assert.Equal(t, 400.0, r.Plunge)
	assert.NotEmpty(t, r.Limited)
	assert.InDelta(t, 1500.0/32000, r.Chip, 1e-12)

	r, err = Feeds(5000, 2, 0.1, 1, Caps{SpindleLow: 8000})
	require.NoError(t, err)
	assert.Equal(t, 8000.0, r.RPM)
}

func TestFeedsRefuse(t *testing.T) {
	nan := math.NaN()
	for _, tt := range []struct {
		name          string
		rpm           float64
		flutes        int
		chip, share   float64
		caps          Caps
		partOfMessage string
	}{
		{"no speed", 0, 2, 0.1, 1, Caps{}, "spindle speed"},
		{"speed no number", nan, 2, 0.1, 1, Caps{}, "spindle speed"},
		{"no flutes", 18000, 0, 0.1, 1, Caps{}, "flutes"},
		{"no chip", 18000, 2, 0, 1, Caps{}, "chip load"},
		{"chip no number", 18000, 2, nan, 1, Caps{}, "chip load"},
		{"share over one", 18000, 2, 0.1, 1.5, Caps{}, "share"},
		{"negative limit", 18000, 2, 0.1, 1, Caps{FeedXY: -1}, "machine limit"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Feeds(tt.rpm, tt.flutes, tt.chip, tt.share, tt.caps)
			require.ErrorContains(t, err, tt.partOfMessage)
		})
	}
}

func TestChipThickness(t *testing.T) {
	// SME, Useful formulas for machining: D 0.5, width 0.05 gives 0.60 of the feed
	// per tooth.
	assert.InDelta(t, 0.60, ChipThickness(1, 0.05, 0.5), 1e-9)
	assert.Equal(t, 0.1, ChipThickness(0.1, 3, 3))
	assert.Equal(t, 0.1, ChipThickness(0.1, 1.5, 3))
	assert.Zero(t, ChipThickness(0.1, 0, 3))
}
