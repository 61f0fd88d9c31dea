package posts

import (
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/jig/joint"
	"blockwright/posts/svg"
)

// A cutter and its boards are drawn on the page, with no text on another, and what is
// not known is not lettered.
func TestCutterDrawing(t *testing.T) {
	for _, units := range []string{"mm", "in"} {
		for _, known := range [][2]bool{{true, true}, {false, true}, {false, false}} {
			c := *worked(1)
			c.Known = known
			var sets []*joint.Setting
			for _, stock := range []float64{13.5, 19, 30} {
				s, err := joint.Solve(joint.Request{Cutter: &c, Stock: stock})
				require.NoError(t, err)
				sets = append(sets, s)
			}
			page := cutterCanvas(&c, &orb.Point{19, 15}, sets, units)
			assert.Empty(t, overlaps(page))
			w, h := page.Size()
			for _, b := range page.TextBoxes() {
				assert.True(t, b.Min[0] >= 0 && b.Min[1] >= 0 && b.Max[0] <= w && b.Max[1] <= h, "%v on %g × %g", b, w, h)
			}
			text := string(page.Bytes())
			assert.Equal(t, known[0], contains(page, "⌀ "))
			assert.Equal(t, known[0], contains(page, "fence "))
			assert.Equal(t, !known[1], contains(page, "heights only up to a shift"))
			assert.Contains(t, text, "pass-3-2")
			assert.NotContains(t, text, "NaN")
		}
	}
	page := cutterCanvas(worked(1), nil, nil, "mm")
	assert.NotContains(t, string(page.Bytes()), "NaN", "a cutter without boards")
}

// contains tells whether some label of the page holds the text.
func contains(page *svg.Canvas, text string) bool {
	return slices.ContainsFunc(page.Labels(), func(l svg.Label) bool { return strings.Contains(l.Text, text) })
}
