package shop_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"blockwright/jig/cutter"
	"blockwright/jig/shop"
)

func TestStartReadsBack(t *testing.T) {
	for _, units := range []string{"mm", "in"} {
		text := shop.Start(units)
		s, err := shop.Parse("shop.toml", text)
		require.NoError(t, err)
		require.Equal(t, units, s.Units)
		for i, line := range strings.Split(string(text), "\n") {
			if strings.TrimSpace(line) != "" {
				require.Contains(t, line, "#", "line %d has no comment", i+1)
			}
		}
		require.Len(t, s.Mills, 3)
		require.Len(t, s.Sheets, 2)
		require.NotNil(t, s.Engraver)
	}
	handle, text := shop.StartCutter()
	c, err := cutter.Parse(handle+".toml", text)
	require.NoError(t, err)
	require.Equal(t, 34.0, c.MaxRadius())
}
