package trace_test

import (
	"bytes"
	"fmt"
	"image"
	"image/draw"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"blockwright/jig/trace"
)

// glass is a scan of a whole glass, a piece somewhere on it, grey at 1200 pixels an inch.
func glass(w, h int) *image.Gray {
	p, c := ridge()
	q, _ := onBoard(p, c, 19, 0)
	d := clean(q, 19, 1200, 5)
	d.tilt = 2
	piece := d.grey()
	m := image.NewGray(image.Rect(0, 0, w, h))
	x := uint32(1)
	for i := range m.Pix { // paper with some noise
		x = x*1664525 + 1013904223
		m.Pix[i] = 235 + uint8(x>>30) + uint8(x>>29&1)
	}
	draw.Draw(m, piece.Rect.Add(image.Point{w / 3, h / 4}), piece, image.Point{}, draw.Src)
	return m
}

// The time grows with the pixels. A4 is 9,921 × 14,031 of them.
func BenchmarkTrace(b *testing.B) {
	for _, size := range [][2]int{{3500, 3500}, {7000, 7000}, {9921, 14031}} {
		b.Run(fmt.Sprintf("%dMpx", size[0]*size[1]/1e6), func(b *testing.B) {
			data := pngOf(b, glass(size[0], size[1]))
			if name := os.Getenv("TRACE_GLASS"); name != "" {
				require.NoError(b, os.WriteFile(name, data, 0o644))
			}
			b.ResetTimer()
			for range b.N {
				s, err := trace.Open("glass.png", bytes.NewReader(data))
				require.NoError(b, err)
				_, err = trace.Trace([]*trace.Scan{s}, trace.Options{DPI: 1200, Joint: "lock-miter"})
				require.NoError(b, err)
			}
		})
	}
}
