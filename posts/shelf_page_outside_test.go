//go:build outside

package posts

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/testdata/outside"
)

// shownCards counts the cards that can be seen.
const shownCards = `[...document.querySelectorAll('#shelf > li')].filter(e => e.getClientRects().length > 0).length`

// The page opens from its file without a message, at any width without a sideways
// scroll, its texts with enough contrast, every control with a label; the search and
// the filters work by key presses alone, and what has the focus is seen.
func TestOutsideShelfPageByKeyboard(t *testing.T) {
	all := shelved(t)
	var b bytes.Buffer
	require.NoError(t, WriteShelfPage(&b, "Shelf <b>&", cards(all, ""), "test"))
	file := filepath.Join(t.TempDir(), "index.html")
	require.NoError(t, os.WriteFile(file, b.Bytes(), 0o644))
	tab := outside.NewTab(t)
	count := func(js string) (n int) { tab.Eval(js, &n); return n }
	text := func(js string) (s string) { tab.Eval(js, &s); return s }
	focus := func() string { return text(`document.activeElement.id || document.activeElement.tagName`) }
	for _, w := range []int{1400, 794, 360} {
		tab.Size(w, 900, w < 500)
		tab.Open(file, true)
		assert.LessOrEqual(t, count("document.documentElement.scrollWidth"), w)
		var bad []string
		tab.Eval(contrast, &bad)
		assert.Empty(t, bad)
	}
	assert.Empty(t, tab.Messages())
	assert.Equal(t, "Shelf <b>&", text("document.title"))
	assert.Zero(t, count(`[...document.querySelectorAll('input, select')].filter(e => e.labels.length === 0).length`), "controls without a label")
	assert.Zero(t, count(`[...document.querySelectorAll('svg')].filter(e => !e.querySelector('title')).length`), "drawings without a title")
	assert.Zero(t, count(`document.querySelectorAll('[id]').length - new Set([...document.querySelectorAll('[id]')].map(e => e.id)).size`), "identifiers used twice")

	tab.Size(1400, 900, false)
	tab.Open(file, true)
	require.Equal(t, len(all), count(shownCards))
	gauges := 0
	for _, s := range all {
		if strings.Contains(s.ID, "gauge") {
			gauges++
		}
	}

	tab.Type("/")
	require.Equal(t, "find", focus())
	assert.NotEqual(t, "none", text(`getComputedStyle(document.activeElement).outlineStyle`), "the focus is seen")
	tab.Type("GAUGE")
	assert.Equal(t, gauges, count(shownCards))
	assert.Equal(t, "GAUGE", text(`document.getElementById("find").value`), "the slash does not go into the search")
	tab.Type(" 25.4")
	assert.Equal(t, 1, count(shownCards))
	assert.Contains(t, text(`document.getElementById('count').textContent`), "1 of")
	tab.Type("/")
	assert.Zero(t, count(shownCards))
	assert.Equal(t, "false", text(`String(document.getElementById('none').hidden)`))
	tab.Press("Escape")
	assert.Equal(t, len(all), count(shownCards))

	tab.Press("Tab")
	require.Equal(t, "kind", focus())
	tab.Type("g") // a closed list takes the first letter
	assert.Equal(t, "gauge", text(`document.getElementById("kind").value`))
	assert.Equal(t, gauges, count(shownCards))
	tab.Press("Tab")
	require.Equal(t, "cutter", focus())
	tab.Press("Tab")
	tab.Press("Tab")
	require.Equal(t, "state", focus())
	tab.Type("w")
	assert.Equal(t, "whole", text(`document.getElementById("state").value`))
	whole := 0
	for _, s := range all {
		if s.State == "whole" && strings.Contains(s.ID, "gauge") {
			whole++
		}
	}
	assert.Equal(t, whole, count(shownCards))
	tab.Press("Tab")
	require.Equal(t, "BUTTON", focus())
	tab.Press("Enter")
	assert.Equal(t, len(all), count(shownCards))
	assert.Empty(t, tab.Messages())

	// Without scripts: every card, and no filter that does nothing.
	tab.Open(file, false)
	assert.Equal(t, len(all), count(shownCards))
	assert.Zero(t, count(`document.getElementById('filter').getClientRects().length`))
	assert.Empty(t, tab.Messages())
}
