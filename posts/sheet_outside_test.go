//go:build outside

package posts

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/jig/joint"
	"blockwright/testdata/outside"
)

// contrast gives the texts of a page whose contrast with what lies behind them is less
// than 4.5 to 1 (WCAG 2.1, 1.4.3), by colours as the browser has them.
const contrast = `(() => {
  const lum = c => { const v = c.map(x => { x /= 255; return x <= 0.04045 ? x / 12.92 : Math.pow((x + 0.055) / 1.055, 2.4) }); return 0.2126 * v[0] + 0.7152 * v[1] + 0.0722 * v[2] }
  const rgb = s => (s.match(/[\d.]+/g) || []).map(Number)
  const bad = []
  for (const e of document.querySelectorAll('body *')) {
    if (e.closest('svg') || e.closest('script,option') || ![...e.childNodes].some(n => n.nodeType === 3 && n.data.trim())) continue
    if (e.getClientRects().length === 0) continue
    let b = e, back = [255, 255, 255]
    for (; b; b = b.parentElement) { const c = rgb(getComputedStyle(b).backgroundColor); if (c.length === 3 || c[3] > 0) { back = c; break } }
    const l1 = lum(rgb(getComputedStyle(e).color).slice(0, 3)), l2 = lum(back.slice(0, 3))
    const r = (Math.max(l1, l2) + 0.05) / (Math.min(l1, l2) + 0.05)
    if (r < 4.5) bad.push(e.tagName + ' ' + e.className + ' ' + r.toFixed(2))
  }
  return bad
})()`

// The sheets open without a message, fit a phone's and a paper's width on the screen,
// and print on A4 and on Letter with nothing cut off and every check bar 100 mm long.
func TestOutsideSheetsPrintTrue(t *testing.T) {
	const dpi, line = 300, 0.18
	papers := map[string][2]float64{"A4": {210 / 25.4, 297 / 25.4}, "Letter": {8.5, 11}}
	dir := t.TempDir()
	tab := outside.NewTab(t)
	requests := everyRequest(t)
	for _, tt := range []struct {
		name, kind, joint, units string
		papers                   []string
	}{
		{"block", "block", "lock miter", "mm", []string{"A4", "Letter"}},
		{"block-in", "block", "lock miter", "in", []string{"Letter"}},
		{"gauge", "gauge", "lock miter", "mm", []string{"A4"}},
		{"strip", "strip", "lock miter", "mm", []string{"A4", "Letter"}},
		{"coupon", "coupon", "tongue", "mm", []string{"Letter"}},
		{"drawer", "coupon", "drawer lock", "mm", []string{"A4"}},
		{"trial", "trial", "lock miter", "mm", []string{"Letter"}},
		{"facing", "facing", "lock miter", "mm", []string{"A4", "Letter"}},
	} {
		f := designed(t, tt.kind, requests[tt.joint], tt.units)
		file := filepath.Join(dir, tt.name+".html")
		require.NoError(t, os.WriteFile(file, sheetText(t, f), 0o644))
		for _, w := range []int{360, 794, 816, 1400} {
			tab.Size(w, 900, w < 500)
			tab.Open(file, true)
			var wide int
			tab.Eval("document.documentElement.scrollWidth", &wide)
			assert.LessOrEqual(t, wide, w, "%s, window of %d", tt.name, w)
			if w == 794 {
				var bad []string
				tab.Eval(contrast, &bad)
				assert.Empty(t, bad, tt.name)
			}
		}
		assert.Empty(t, tab.Messages(), tt.name)
		want := bytes.Count(sheetText(t, f), []byte("This bar is 100 mm"))
		require.Positive(t, want, tt.name)
		for _, paper := range tt.papers {
			size := papers[paper]
			bars := 0
			for i, page := range outside.Paper(t, tab.PDF(size[0], size[1]), dpi) {
				for _, l := range outside.CheckBars(page, dpi, line) {
					bars++
					assert.InDelta(t, 100, l, 0.1, "%s on %s, page %d: check bar", tt.name, paper, i+1)
				}
				x0, y0, x1, y1, w, h := outside.Ink(page, dpi)
				assert.InDelta(t, size[0]*25.4, w, 0.3)
				assert.True(t, x0 > 11 && y0 > 11 && x1 < w-11 && y1 < h-4, "%s on %s, page %d: ink from %.1f, %.1f to %.1f, %.1f", tt.name, paper, i+1, x0, y0, x1, y1)
			}
			assert.Equal(t, want, bars, "%s on %s: check bars", tt.name, paper)
		}
	}
}

// A bar printed at 97 % or 103 % is told from a true one: the measure can fail.
func TestOutsideCheckBarCanFail(t *testing.T) {
	f := designed(t, "block", joint.Request{Cutter: worked(1), Stock: 19}, "mm")
	tab := outside.NewTab(t)
	for _, zoom := range []string{"0.97", "1.03"} {
		file := filepath.Join(t.TempDir(), "sheet.html")
		text := bytes.Replace(sheetText(t, f), []byte("</style>"), []byte("figure svg { zoom: "+zoom+" }\n</style>"), 1)
		require.NoError(t, os.WriteFile(file, text, 0o644))
		tab.Open(file, true)
		off := 0.0
		for _, page := range outside.Paper(t, tab.PDF(8.5, 11), 300) {
			for _, l := range outside.CheckBars(page, 300, 0.18) {
				off = max(off, l-100, 100-l)
			}
		}
		assert.Greater(t, off, 2.0, zoom)
	}
}
