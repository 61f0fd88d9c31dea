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

// clipped gives the elements of a page whose content is wider than they are, so that it
// is cut off on paper.
const clipped = `[...document.querySelectorAll('main *')].filter(e => !e.closest('svg') && getComputedStyle(e).display !== 'inline' && e.clientWidth > 0 && e.scrollWidth > e.clientWidth + 1).map(e => e.tagName + ' ' + e.className + ' ' + e.textContent.slice(0, 40))`

// small gives the texts of a page, its drawings' too, that are set smaller than 6.5
// point: what hangs on a wall is read from a step away.
const small = `[...document.querySelectorAll('main *')].filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim())).filter(e => {
  const svg = e.closest('svg'), k = svg ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1
  return parseFloat(getComputedStyle(e).fontSize) * k < 6.5 / 0.75 - 0.01
}).map(e => e.tagName + ' ' + e.textContent.slice(0, 40))`

// printed are sheets to print: every kind of fixture, every kind of joint, and one
// that is finished after measuring.
func printed(t *testing.T) map[string]*Fixture {
	requests := everyRequest(t)
	out := map[string]*Fixture{}
	for _, tt := range []struct{ name, kind, joint, units string }{
		{"block", "block", "lock miter", "mm"},
		{"block in", "block", "lock miter", "in"},
		{"matched block", "block", "tongue", "mm"},
		{"gauge", "gauge", "lock miter", "mm"},
		{"strip", "strip", "lock miter", "mm"},
		{"turned strip", "strip", "edge glue", "in"},
		{"coupon", "coupon", "tongue", "mm"},
		{"drawer", "coupon", "drawer lock", "in"},
		{"edge", "coupon", "round-over", "mm"},
		{"trial", "trial", "lock miter", "mm"},
		{"facing", "facing", "lock miter", "mm"},
		{"facing in", "facing", "lock miter", "in"},
		{"drawer's facing", "facing", "drawer lock", "mm"},
	} {
		out[tt.name] = designed(t, tt.kind, requests[tt.joint], tt.units)
	}
	for _, units := range []string{"mm", "in"} {
		s, _ := startedShop(t, units)
		f, err := design(Request{Shop: s, Joint: requests["lock miter"], Stock: Measure{MM: 19, Unit: units}, Kind: "block", Version: "test", Measured: true})
		require.NoError(t, err)
		out["measured "+units] = f
	}
	return out
}

// The sheets open without a message, fit a phone's and a paper's width on the screen,
// and print on A4 and on Letter with nothing cut off, no type too small, no title at
// the foot of a page, and every check bar 100 mm long.
func TestOutsideSheetsPrintTrue(t *testing.T) {
	const dpi, line = 300, 0.18
	papers := map[string][2]float64{"A4": {210 / 25.4, 297 / 25.4}, "Letter": {8.5, 11}}
	dir := t.TempDir()
	tab := outside.NewTab(t)
	for name, f := range printed(t) {
		text := sheetText(t, f)
		got, err := sheetOf(f)
		require.NoError(t, err)
		var titles []string
		for _, sec := range got.Sections {
			titles = append(titles, sec.Title)
		}
		file := filepath.Join(dir, "sheet.html")
		require.NoError(t, os.WriteFile(file, text, 0o644))
		tab.Media("screen")
		for _, w := range []int{360, 390, 794, 816, 1400} {
			tab.Size(w, 900, w < 500)
			tab.Open(file, true)
			var wide int
			tab.Eval("document.documentElement.scrollWidth", &wide)
			assert.LessOrEqual(t, wide, w, "%s, window of %d", name, w)
			if w == 794 {
				var bad []string
				tab.Eval(contrast, &bad)
				assert.Empty(t, bad, name)
			}
		}
		tab.Media("print")
		for _, w := range []int{703, 725} { // A4 and Letter between the margins
			tab.Size(w, 900, true) // without a bar to scroll by, as on paper
			tab.Open(file, true)
			var bad []string
			tab.Eval(clipped, &bad)
			assert.Empty(t, bad, "%s is cut off at a width of %d", name, w)
			tab.Eval(small, &bad)
			assert.Empty(t, bad, "%s: too small", name)
		}
		assert.Empty(t, tab.Messages(), name)
		want := bytes.Count(text, []byte("This bar is 100 mm"))
		require.Positive(t, want, name)
		for paper, size := range papers {
			pdf := tab.PDF(size[0], size[1])
			for i, lines := range outside.PaperTexts(t, pdf) {
				require.Greater(t, len(lines), 2, "%s on %s, page %d holds nothing", name, paper, i+1)
				assert.NotContains(t, titles, lines[len(lines)-2], "%s on %s, page %d: a title at the foot", name, paper, i+1) // the last line is the page's
			}
			bars := 0
			for i, page := range outside.Paper(t, pdf, dpi) {
				for _, l := range outside.CheckBars(page, dpi, line) {
					bars++
					assert.InDelta(t, 100, l, 0.1, "%s on %s, page %d: check bar", name, paper, i+1)
				}
				x0, y0, x1, y1, w, h := outside.Ink(page, dpi)
				assert.InDelta(t, size[0]*25.4, w, 0.3)
				assert.True(t, x0 > 11 && y0 > 11 && x1 < w-11 && y1 < h-4, "%s on %s, page %d: ink from %.1f, %.1f to %.1f, %.1f", name, paper, i+1, x0, y0, x1, y1)
			}
			assert.Equal(t, want, bars, "%s on %s: check bars", name, paper)
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

// Type that is too small and a table that is too wide are found.
func TestOutsideSheetFaultsAreFound(t *testing.T) {
	f := designed(t, "trial", joint.Request{Cutter: worked(1), Stock: 19}, "mm")
	tab := outside.NewTab(t)
	tab.Media("print")
	tab.Size(703, 900, true)
	for style, js := range map[string]string{"figcaption { font-size: 6pt }": small, "table { width: 900px }": clipped} {
		file := filepath.Join(t.TempDir(), "sheet.html")
		require.NoError(t, os.WriteFile(file, bytes.Replace(sheetText(t, f), []byte("</style>"), []byte("@media print { "+style+" }\n</style>"), 1), 0o644))
		tab.Open(file, true)
		var bad []string
		tab.Eval(js, &bad)
		assert.NotEmpty(t, bad, style)
	}
}
