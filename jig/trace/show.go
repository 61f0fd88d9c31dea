package trace

import (
	"image"
	"image/color"
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// This file answers how the fit looks on the scan.

// showWide is about how many pixels wide a panel of the picture is.
const showWide = 1500

// Show draws the fit over the scans: for each cut end a panel with that part of the
// scan, the faces in blue, hatched below where the table was, the profile in red with a
// ring at each corner, the centre as a green cross with a white rim.
func (r *Result) Show() *image.RGBA {
	var panels []*panel
	w, h := 0, 0
	for i, c := range r.cuts {
		if i == 12 {
			break // more would make no picture to look at
		}
		p := newPanel(c, r.Profile.Bound())
		panels = append(panels, p)
		w, h = max(w, p.m.Rect.Dx()), h+p.m.Rect.Dy()+8
	}
	out := image.NewRGBA(image.Rect(0, 0, w, max(h-8, 1)))
	y := 0
	for _, p := range panels {
		p.draw(r)
		for j := range p.m.Rect.Dy() {
			copy(out.Pix[(y+j)*out.Stride:], p.m.Pix[j*p.m.Stride:j*p.m.Stride+4*p.m.Rect.Dx()])
		}
		y += p.m.Rect.Dy() + 8
	}
	return out
}

// A panel is a part of a scan at a scale of its own.
type panel struct {
	c     *cut
	m     *image.RGBA
	lo    orb.Point // left upper corner in the picture, mm
	scale float64   // pixels of the panel per mm
}

func newPanel(c *cut, b orb.Bound) *panel {
	lo, hi := orb.Point{math.Inf(1), math.Inf(1)}, orb.Point{math.Inf(-1), math.Inf(-1)}
	deep := b.Max[0] + 4
	for _, q := range [4]orb.Point{{-2, -2}, {deep, -2}, {deep, c.thick + 2}, {-2, c.thick + 2}} {
		p := c.out(q)
		for k := range 2 {
			lo[k], hi[k] = math.Min(lo[k], p[k]), math.Max(hi[k], p[k])
		}
	}
	p := &panel{c: c, lo: orb.Point{lo[0], hi[1]}}
	p.scale = showWide / math.Max(hi[0]-lo[0], hi[1]-lo[1])
	w, h := max(1, int((hi[0]-lo[0])*p.scale)), max(1, int((hi[1]-lo[1])*p.scale))
	p.m = image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			u, v := p.lo[0]+(float64(x)+0.5)/p.scale, p.lo[1]-(float64(y)+0.5)/p.scale
			g := uint8(64)
			if c.b.r.inside(u, v) {
				g = uint8(math.Min(math.Max(c.b.r.at(u, v)*255, 0), 255))
			}
			p.m.SetRGBA(x, y, color.RGBA{g, g, g, 255})
		}
	}
	return p
}

// at is a place in the cut's frame on the panel.
func (p *panel) at(q orb.Point) orb.Point {
	s := p.c.out(q)
	return orb.Point{(s[0] - p.lo[0]) * p.scale, (p.lo[1] - s[1]) * p.scale}
}

func (p *panel) draw(r *Result) {
	b := r.Profile.Bound()
	blue, red, green := color.RGBA{30, 90, 255, 255}, color.RGBA{240, 20, 20, 255}, color.RGBA{0, 170, 60, 255}
	for _, z := range [2]float64{0, p.c.thick} {
		p.line(orb.Point{-2, z}, orb.Point{b.Max[0] + 4, z}, blue)
	}
	// The table under the face that was down, hatched as ground is in drawings.
	const hatch = 0.8 // mm
	for x := hatch; x < b.Max[0]+4; x += 1.5 * hatch {
		p.line(orb.Point{x, 0}, orb.Point{x - hatch, -hatch}, blue)
	}
	q := r.Profile.Flatten(0.002)
	for i := 1; i < len(q); i++ {
		p.line(q[i-1], q[i], red)
	}
	for _, k := range r.Corners {
		ring := geom.Circle(k.At, 5/p.scale).Flatten(0.2 / p.scale)
		for i := 1; i < len(ring); i++ {
			p.line(ring[i-1], ring[i], red)
		}
	}
	if c := r.Centre; c != nil {
		d, px := 20/p.scale, 1/p.scale
		white := color.RGBA{255, 255, 255, 255}
		for _, k := range [7]float64{-3, 3, -2, 2, -1, 1, 0} { // the rim first
			ink, long := white, d+2*px
			if math.Abs(k) < 2 {
				ink, long = green, d
			}
			p.line(orb.Point{c[0] - long, c[1] + k*px}, orb.Point{c[0] + long, c[1] + k*px}, ink)
			p.line(orb.Point{c[0] + k*px, c[1] - long}, orb.Point{c[0] + k*px, c[1] + long}, ink)
		}
	}
}

// line draws a line between two places in the cut's frame, a pixel and a half wide.
func (p *panel) line(a, b orb.Point, ink color.RGBA) {
	s, t := p.at(a), p.at(b)
	n := int(2*dist(s, t)) + 1
	for i := range n + 1 {
		f := float64(i) / float64(n)
		x, y := s[0]+f*(t[0]-s[0]), s[1]+f*(t[1]-s[1])
		for _, d := range [3][2]float64{{0, 0}, {0.5, 0}, {0, 0.5}} {
			if u, v := int(math.Floor(x+d[0])), int(math.Floor(y+d[1])); (image.Point{u, v}).In(p.m.Rect) {
				p.m.SetRGBA(u, v, ink)
			}
		}
	}
}
