//go:build outside

package svg

import (
	"image"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/testdata/outside"
)

func dark(img image.Image, x, y float64) bool {
	r, g, b, _ := img.At(int(x), int(y)).RGBA()
	return r+g+b < 3*0x8000
}

// A browser fills exactly what the region holds, at true size: arcs of both
// senses, of more than a quarter and of a whole half, a hole, a bore.
func TestOutsideBrowserFillsTheRegion(t *testing.T) {
	const perMM, w, h = 8.0, 120.0, 90.0
	r := geom.Region{
		{Closed: true, V: []geom.Vertex{
			geom.B(15, 15, -0.3), geom.V(60, 15), geom.B(90, 15, 1), geom.B(90, 45, 0.6), geom.B(70, 70, -0.9), geom.V(40, 75), geom.B(15, 70, 0.2),
		}},
		geom.Circle(orb.Point{45, 40}, 10).Reverse(),
		geom.Rect(70, 25, 80, 35).Reverse(),
	}
	c := New("x", w, h, "", "")
	c.Paths(Style{Fill: "#000000"}, r...)
	img := outside.Browser(t, c.Bytes(), w, h, perMM)
	require.GreaterOrEqual(t, img.Bounds().Dx(), int(w*perMM)-1)
	checked := 0
	for y := 0.5; y < h; y += 0.53 {
		for x := 0.5; x < w; x += 0.47 {
			d := r.SignedDist(orb.Point{x, y})
			if math.Abs(d) < 1.5/perMM {
				continue // the edge of a pixel
			}
			checked++
			require.Equal(t, d < 0, dark(img, x*perMM, (h-y)*perMM), "at %g, %g: %g mm from the edge", x, y, d)
		}
	}
	require.Greater(t, checked, 20000)
}

// The check bar is 100 mm long on the page.
func TestOutsideCheckBarIsTrue(t *testing.T) {
	const perMM = 10.0
	c := New("x", 140, 90, "", "") // a lower window stays empty
	c.CheckBar(orb.Point{20, 10}, "100 mm")
	img := outside.Browser(t, c.Bytes(), 140, 90, perMM)
	y := (90 - 9.5) * perMM // across the end ticks only
	first, last := -1, -1
	for x := range img.Bounds().Dx() {
		if r, _, _, _ := img.At(x, int(y)).RGBA(); r < 0xe000 { // a line may share its darkness between two pixels
			if first < 0 {
				first = x
			}
			last = x
		}
	}
	require.InDelta(t, 100+0.18, float64(last-first+1)/perMM, 0.2)
	require.InDelta(t, 20-0.09, float64(first)/perMM, 0.15)
}
