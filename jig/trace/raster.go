package trace

import (
	"image"
	"image/color"
	"math"
)

// This file answers how bright the picture is at a place, in the one mixture of its
// colours in which the board differs most from what is behind it.

// A raster is a picture of one channel, 0 to 1. Either pix8 or pix16 holds it.
type raster struct {
	w, h  int
	pix8  []uint8
	pix16 []uint16
	row   int        // elements a row
	dpi   [2]float64 // across and down
	curve curve      // of the pixels, its power not yet known
}

func (r *raster) pixel(x, y int) float64 {
	x, y = min(max(x, 0), r.w-1), min(max(y, 0), r.h-1)
	if r.pix8 != nil {
		return float64(r.pix8[y*r.row+x]) / 255
	}
	return float64(r.pix16[y*r.row+x]) / 65535
}

// at is the brightness at a place in mm: x to the right, y up, the picture's upper
// left corner at the origin. Between the pixels' middles it is bilinear.
func (r *raster) at(x, y float64) float64 {
	u, v := x*r.dpi[0]/25.4-0.5, -y*r.dpi[1]/25.4-0.5
	i, j := int(math.Floor(u)), int(math.Floor(v))
	fu, fv := u-float64(i), v-float64(j)
	if i >= 0 && j >= 0 && i+1 < r.w && j+1 < r.h && r.pix8 != nil {
		p := r.pix8[j*r.row+i:]
		a, b, c, d := float64(p[0]), float64(p[1]), float64(p[r.row]), float64(p[r.row+1])
		return ((a*(1-fu)+b*fu)*(1-fv) + (c*(1-fu)+d*fu)*fv) / 255
	}
	return (r.pixel(i, j)*(1-fu)+r.pixel(i+1, j)*fu)*(1-fv) + (r.pixel(i, j+1)*(1-fu)+r.pixel(i+1, j+1)*fu)*fv
}

// inside tells whether a place lies in the picture.
func (r *raster) inside(x, y float64) bool {
	u, v := x*r.dpi[0]/25.4, -y*r.dpi[1]/25.4
	return u >= 0 && v >= 0 && u <= float64(r.w) && v <= float64(r.h)
}

// pitch is the size in mm of a pixel's larger side.
func (r *raster) pitch() float64 { return 25.4 / math.Min(r.dpi[0], r.dpi[1]) }

// A reader reads the picture row by row: n channels from 0 to 1, colours times
// opacity, and the opacity as a channel of its own where there may be one.
type reader struct {
	w, h, n int
	read    func(y int, row []float32)
}

func readerOf(img image.Image) reader {
	b := img.Bounds()
	r := reader{w: b.Dx(), h: b.Dy(), n: 3}
	switch m := img.(type) {
	case *image.Gray:
		r.n = 1
		r.read = func(y int, row []float32) {
			for x, v := range m.Pix[y*m.Stride : y*m.Stride+r.w] {
				row[x] = float32(v) / 255
			}
		}
	case *image.Gray16:
		r.n = 1
		r.read = func(y int, row []float32) {
			p := m.Pix[y*m.Stride:]
			for x := range r.w {
				row[x] = float32(uint16(p[2*x])<<8|uint16(p[2*x+1])) / 65535
			}
		}
	case *image.RGBA: // the decoder's type for colours without opacity
		r.read = func(y int, row []float32) {
			p := m.Pix[y*m.Stride:]
			for x := range r.w {
				row[3*x], row[3*x+1], row[3*x+2] = float32(p[4*x])/255, float32(p[4*x+1])/255, float32(p[4*x+2])/255
			}
		}
	case *image.YCbCr:
		r.read = func(y int, row []float32) {
			for x := range r.w {
				i, j := m.YOffset(b.Min.X+x, b.Min.Y+y), m.COffset(b.Min.X+x, b.Min.Y+y)
				cr, cg, cb := color.YCbCrToRGB(m.Y[i], m.Cb[j], m.Cr[j])
				row[3*x], row[3*x+1], row[3*x+2] = float32(cr)/255, float32(cg)/255, float32(cb)/255
			}
		}
	case *image.NRGBA:
		r.n = 4
		r.read = func(y int, row []float32) {
			p := m.Pix[y*m.Stride:]
			for x := range r.w {
				a := float32(p[4*x+3]) / 255
				row[4*x], row[4*x+1], row[4*x+2] = float32(p[4*x])/255*a, float32(p[4*x+1])/255*a, float32(p[4*x+2])/255*a
				row[4*x+3] = a
			}
		}
	default:
		r.n = 4
		r.read = func(y int, row []float32) {
			for x := range r.w {
				cr, cg, cb, ca := img.At(b.Min.X+x, b.Min.Y+y).RGBA()
				row[4*x], row[4*x+1] = float32(cr)/65535, float32(cg)/65535
				row[4*x+2], row[4*x+3] = float32(cb)/65535, float32(ca)/65535
			}
		}
	}
	return r
}

// project makes the raster: the channels times the weights, stretched so that the
// least and the greatest possible sum are 0 and 1. A grey picture is taken as it is.
func (s *Scan) project(weights []float64, dpi [2]float64) *raster {
	src := readerOf(s.img)
	out := &raster{w: src.w, h: src.h, row: src.w, dpi: dpi}
	if m, ok := s.img.(*image.Gray); ok && s.turn == 1 {
		out.pix8, out.row = m.Pix, m.Stride
		return out
	}
	if s.turn >= 5 {
		out.w, out.h, out.row = src.h, src.w, src.h
	}
	lo, hi := 0.0, 0.0
	for _, w := range weights {
		lo, hi = lo+math.Min(w, 0), hi+math.Max(w, 0)
	}
	if hi <= lo {
		lo, hi = 0, 1
	}
	out.pix16 = make([]uint16, src.w*src.h)
	row := make([]float32, src.w*src.n)
	for y := range src.h {
		src.read(y, row)
		for x := range src.w {
			v := 0.0
			for c, w := range weights {
				v += w * float64(row[x*src.n+c])
			}
			i, j := turned(s.turn, x, y, src.w, src.h)
			out.pix16[j*out.row+i] = uint16(math.Round(math.Min(math.Max((v-lo)/(hi-lo), 0), 1) * 65535))
		}
	}
	return out
}

// turned is where the pixel (x, y) of a picture w wide and h high stands when it is
// seen the right way up (Exif 2.3, tag Orientation).
func turned(turn, x, y, w, h int) (int, int) {
	switch turn {
	case 2:
		return w - 1 - x, y
	case 3:
		return w - 1 - x, h - 1 - y
	case 4:
		return x, h - 1 - y
	case 5:
		return y, x
	case 6:
		return h - 1 - y, x
	case 7:
		return h - 1 - y, w - 1 - x
	case 8:
		return y, w - 1 - x
	}
	return x, y
}
