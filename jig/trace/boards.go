package trace

import (
	"math"

	"github.com/paulmach/orb"
)

// This file answers which boards a picture shows, and at what scale.

// density is the picture's pixels an inch, across and down, the right way up.
func (s *Scan) density(o Options) ([2]float64, *Refusal) {
	d := s.DPI
	if s.turn >= 5 {
		d[0], d[1] = d[1], d[0]
	}
	if o.DPI > 0 {
		d = [2]float64{o.DPI, o.DPI}
	}
	if o.Thickness > 0 && !(math.Min(d[0], d[1]) >= leastDPI && math.Max(d[0], d[1]) <= 5000) {
		d = [2]float64{600, 600} // set right once the board is found
	}
	switch {
	case !(d[0] > 0 && d[1] > 0):
		return d, refuse(NoDensity, "--dpi, or the board's thickness by calipers", "the file does not say how many pixels make an inch")
	case math.Min(d[0], d[1]) < leastDPI:
		return d, refuse(TooCoarse, "at least 300 pixels an inch, better 1200", "the picture is too coarse: %.4g pixels an inch", math.Min(d[0], d[1]))
	case math.Max(d[0], d[1]) > 20000:
		return d, refuse(Size, "at most 20000: say the true number by --dpi", "%.4g pixels an inch", math.Max(d[0], d[1]))
	case math.Max(d[0], d[1]) > 4*math.Min(d[0], d[1]):
		return d, refuse(Size, "pixels about as high as wide: scan with one number both ways", "%.4g pixels an inch across and %.4g down", d[0], d[1])
	}
	return d, nil
}

// cuts finds the cut ends in the picture.
func (s *Scan) cuts(o Options, wedges bool) ([]*cut, *Refusal) {
	dpi, why := s.density(o)
	if why != nil {
		return nil, why
	}
	if o.Thickness > 0 {
		// Twice: once to find the thickness in pixels, once at that scale.
		bs, why := s.boards(dpi, o.Down == "left" || o.Down == "right", wedges)
		if why != nil {
			return nil, why
		}
		f := bs[0].thick / o.Thickness
		dpi[0], dpi[1] = dpi[0]*f, dpi[1]*f
		if !(math.Min(dpi[0], dpi[1]) >= leastDPI) {
			return nil, refuse(TooCoarse, "at least 300 pixels an inch, better 1200", "by the board's thickness the picture has %.0f pixels an inch", math.Min(dpi[0], dpi[1]))
		}
		if math.Max(dpi[0], dpi[1]) > 20000 {
			return nil, refuse(Size, "at most 20000; is the thickness right?", "by the board's thickness the picture has %.4g pixels an inch", math.Max(dpi[0], dpi[1]))
		}
	}
	bs, why := s.boards(dpi, o.Down == "left" || o.Down == "right", wedges)
	if why != nil {
		return nil, why
	}
	var cuts []*cut
	for _, b := range bs {
		cs, why := b.cutEnds(s.Name, o.Down)
		if why != nil {
			return nil, why
		}
		cuts = append(cuts, cs...)
	}
	return cuts, nil
}

// boards finds the boards in the picture, from the largest on.
func (s *Scan) boards(dpi [2]float64, upright, wedges bool) ([]*board, *Refusal) {
	o := s.overviewOf(dpi)
	if len(o.pix) == 0 {
		return nil, refuse(TooCoarse, "a larger picture: scan at 1200 pixels an inch", "the picture is too small")
	}
	seg, why := o.segment()
	if why != nil {
		return nil, why
	}
	r := s.project(seg.weights, dpi)
	sign := 1.0
	if r.pix8 != nil { // taken as it is, whichever side is brighter
		sign = math.Copysign(1, seg.weights[0])
	}
	r.curve.whole = true
	if r.pix8 == nil {
		for _, w := range seg.weights {
			r.curve.whole = r.curve.whole && w*seg.weights[0] >= 0
		}
		if len(seg.weights) == 4 && math.Abs(seg.weights[3]) > 0.05 {
			r.curve.whole = false // opacity is no light
		}
		r.curve.inverted = seg.weights[0] < 0
	}
	return seg.boards(r, sign, upright, wedges)
}

func (g *segmentation) boards(r *raster, sign float64, upright, wedges bool) ([]*board, *Refusal) {
	picture := orb.Bound{Min: orb.Point{0, -float64(r.h) * 25.4 / r.dpi[1]}, Max: orb.Point{float64(r.w) * 25.4 / r.dpi[0], 0}}
	const area = 40 // mm²: no board is smaller, dirt seldom larger
	var first *Refusal
	var out []*board
	for try := range 2 {
		mask := g.mask
		if try == 1 {
			if len(out) > 0 {
				break
			}
			// What fills the rim may be the board's own colour.
			mask = make([]bool, len(g.mask))
			for i := range mask {
				mask[i] = !g.mask[i]
			}
			sign = -sign
		}
		mask = tidy(mask, g.o.w, g.o.h, 2, upright, wedges)
		for _, b := range g.o.blobs(mask, area) {
			bd, why := boardOf(r, sign, b, picture, upright)
			switch {
			case why == nil:
				out = append(out, bd)
			case first == nil:
				first = why
			}
			if len(out) == 40 {
				break
			}
		}
	}
	if len(out) == 0 {
		if first == nil {
			first = refuse(NoBoard, "the end of a board, clearly darker or lighter than what lies behind it", "no board: nothing of at least %d mm² stands out", area)
		}
		return nil, first
	}
	if why := g.exposure(r, out[0], sign); why != nil {
		return nil, why
	}
	return out, nil
}

// exposure refuses a board as bright, or as dark, as the scanner can tell: its edge is
// then not where the brightness is half way.
func (g *segmentation) exposure(r *raster, b *board, sign float64) *Refusal {
	var v []float64
	for _, e := range b.ends {
		for i := 0; i < len(e.line); i += 7 {
			q := b.into(e.line[i])
			for _, z := range [3]float64{0.3, 0.5, 0.7} {
				p := b.out(orb.Point{q[0], b.thick * z})
				if r.inside(p[0], p[1]) {
					v = append(v, r.at(p[0], p[1]))
				}
			}
		}
	}
	if len(v) < 10 || g.noise < 1e-4 {
		return nil // a drawing
	}
	if m := quantile(v, 0.5); m > 0.997 && sign > 0 {
		return refuse(Saturated, "less exposure: turn the scanner's brightness down", "the board is saturated: as white as white can be")
	} else if m < 0.003 && sign < 0 {
		return refuse(TooDark, "more exposure: turn the scanner's brightness up", "the board is as black as black can be")
	}
	return nil
}
