package trace

import (
	"fmt"
	"image"
	"image/color"
	_ "image/jpeg" // JPEG is one of the two formats read
	_ "image/png"  // PNG is the other
	"io"
)

// A Scan is a picture in memory.
type Scan struct {
	Name string     // for messages
	DPI  [2]float64 // pixels an inch across and down as the file states them, 0 where it does not
	img  image.Image
	turn int // orientation 1 to 8
}

// memory is the most that a picture and what is worked out from it may take, in
// bytes. Derived here: an A4 scan at 1200 dpi takes 140 MB in grey and 840 MB in
// colour.
const memory = 1_300_000_000

// Open reads a PNG or JPEG picture. The error is a *[Refusal].
func Open(name string, r io.ReadSeeker) (*Scan, error) {
	s := &Scan{Name: name}
	again := func() error { _, err := r.Seek(0, io.SeekStart); return err }
	h := readHeader(r)
	s.DPI, s.turn = h.dpi, h.turn
	if err := again(); err != nil {
		return nil, &Refusal{name, Unreadable, err.Error(), "a file that can be read twice"}
	}
	c, _, err := image.DecodeConfig(r)
	if err != nil {
		return nil, &Refusal{name, Unreadable, "no picture: " + err.Error(), "a PNG or JPEG file"}
	}
	if px := float64(c.Width) * float64(c.Height); px*pixelBytes(c.ColorModel, h.progressive) > memory {
		return nil, &Refusal{name, TooLarge, fmt.Sprintf("%d × %d pixels", c.Width, c.Height),
			"a smaller picture: scan only the piece, in grey"}
	}
	if c.Width < 40 || c.Height < 40 {
		return nil, &Refusal{name, TooCoarse, fmt.Sprintf("%d × %d pixels", c.Width, c.Height), "at least 40 each way"}
	}
	if err := again(); err != nil {
		return nil, &Refusal{name, Unreadable, err.Error(), "a file that can be read twice"}
	}
	if s.img, _, err = image.Decode(r); err != nil {
		return nil, &Refusal{name, Unreadable, "broken picture: " + err.Error(), "a whole PNG or JPEG file"}
	}
	return s, nil
}

// pixelBytes is how many bytes a pixel takes at most, decoded and projected.
func pixelBytes(m color.Model, progressive bool) float64 {
	b := 4.0 + 2
	switch m {
	case color.GrayModel:
		b = 1
	case color.Gray16Model:
		b = 2 + 2
	case color.RGBA64Model, color.NRGBA64Model:
		b = 8 + 2
	case color.YCbCrModel:
		b = 3 + 2
	}
	if _, ok := m.(color.Palette); ok {
		b = 1 + 2
	}
	if progressive {
		b += 12
	}
	return b + 0.8 // the overview
}
