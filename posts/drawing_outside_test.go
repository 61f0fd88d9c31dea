//go:build outside

package posts

import (
	"bytes"
	"encoding/json"
	"fmt"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/testdata/outside"
)

// A browser lays out the drawing's texts: with its own fonts none lies on another
// or leaves the page, and none is wider than reckoned.
func TestOutsideBrowserTextsStayApart(t *testing.T) {
	const script = `<script>
const page = document.querySelector('svg').getBoundingClientRect()
const out = [...document.querySelectorAll('text')].map(e => {
  const b = e.getBoundingClientRect()
  return { text: e.textContent, x0: b.left - page.left, y0: b.top - page.top, x1: b.right - page.left, y1: b.bottom - page.top, long: e.getComputedTextLength() }
})
document.body.innerHTML = '<pre>' + btoa(unescape(encodeURIComponent(JSON.stringify({ w: page.width, h: page.height, texts: out })))) + '</pre>'
</script>`
	for name, p := range map[string]picture{
		"block 19":     drawn(t, "block", worked(1), 19, "mm"),
		"block 12 in":  drawn(t, "block", worked(0.75), 12, "in"),
		"block 38":     drawn(t, "block", worked(1.3), 38, "mm"),
		"gauge pin in": drawn(t, "pin", worked(1), 19.05, "in"),
		"gauge cutter": drawn(t, "cutter", worked(1), 25.4, "mm"),
	} {
		t.Run(name, func(t *testing.T) {
			c := draw(p)
			html := append([]byte("<!doctype html><meta charset=utf-8><body style='margin:0'>"), c.Bytes()...)
			dom := outside.Page(t, append(html, script...))
			_, rest, ok := bytes.Cut(dom, []byte("<pre>"))
			require.True(t, ok, "the page's script did not run")
			coded, _, _ := bytes.Cut(rest, []byte("</pre>"))
			var page struct {
				W, H  float64
				Texts []struct {
					Text                 string
					X0, Y0, X1, Y1, Long float64
				}
			}
			var raw []byte
			require.NoError(t, json.Unmarshal([]byte(fmt.Sprintf("%q", coded)), &raw)) // base64
			require.NoError(t, json.Unmarshal(raw, &page))
			w, h := c.Size()
			const px = 96 / 25.4
			assert.InDelta(t, w*px, page.W, 0.1, "true size")
			assert.InDelta(t, h*px, page.H, 0.1, "true size")
			labels := c.Labels()
			require.Len(t, page.Texts, len(labels))
			for i, a := range page.Texts {
				assert.Equal(t, labels[i].Text, a.Text)
				b := labels[i].Corners()
				assert.LessOrEqual(t, a.Long, 1.02*px*dist(b[0], b[1]), "%q is wider than reckoned", a.Text)
				assert.True(t, a.X0 >= 0 && a.Y0 >= 0 && a.X1 <= page.W && a.Y1 <= page.H, "%q leaves the page", a.Text)
				for _, o := range page.Texts[:i] {
					// Boxes hold the line's full height; letters fill three quarters of it.
					apart := a.X1 <= o.X0+1 || o.X1 <= a.X0+1 || a.Y1 <= o.Y0+3 || o.Y1 <= a.Y0+3
					assert.True(t, apart, "%q lies on %q", a.Text, o.Text)
				}
			}
		})
	}
}

// The picture is not blank: it holds the paper, ink, plates, board, cutter and
// seats, and of the seats about as much as their length and width say.
func TestOutsideBrowserShowsTheBlock(t *testing.T) {
	const perMM = 5.0
	p := drawn(t, "block", worked(1), 19, "mm")
	c := draw(p)
	w, h := c.Size()
	img := outside.Browser(t, c.Bytes(), w, h, perMM)
	require.InDelta(t, w*perMM, img.Bounds().Dx(), 6)
	count := map[string]int{}
	for y := range img.Bounds().Dy() {
		for x := range img.Bounds().Dx() {
			r, g, b, _ := img.At(x, y).RGBA()
			count[fmt.Sprintf("#%02x%02x%02x", r>>8, g>>8, b>>8)]++
		}
	}
	area := func(colour string) float64 { return float64(count[colour]) / perMM / perMM } // mm²
	assert.Greater(t, area("#f3ecdd"), 2*2000.0+4000, "two views of the plate, the crossbar")
	assert.Greater(t, area("#e0cfae"), 100.0, "board")
	assert.Greater(t, area("#dde3e6"), 1000.0, "cutter")
	assert.Greater(t, area("#22303a"), 300.0, "ink")
	long := 0.0
	for _, n := range seatNames(p.Parts) {
		times := 1.0
		if n.part == 0 {
			times = 2 // on the sheet and at the cutter
			if n.seat.Fixes != 0 {
				times = 6 // and four times as long in the detail
			}
		}
		long += times * n.seat.Path.Length()
	}
	assert.InEpsilon(t, long*seatStyle.Width, area("#9c4226"), 0.25, "seats")
}

func dist(a, b orb.Point) float64 { return planar.Distance(a, b) }
