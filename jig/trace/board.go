package trace

import (
	"math"

	"github.com/paulmach/orb"
)

// This file answers how a board lies in the picture.

// A board is a piece with two parallel faces.
type board struct {
	r     *raster
	sign  float64
	line  []orb.Point // its outline, mm, counter-clockwise
	down  face        // the face with the board above it, turned level
	up    face
	angle float64 // of the board against the picture's horizontal, rad, counter-clockwise
	thick float64
	ends  []end
	blur  float64 // mm, standard deviation of the step's rise
	curve curve
	doubt float64 // mm, standard deviation of all edges' place by the curve
}

// boardOf looks for a board in a blob. Without two faces it is none.
func boardOf(r *raster, sign float64, b blob, picture orb.Bound, upright bool) (*board, *Refusal) {
	coarse := newLoop(b.outline, 0.1, 0.3)
	angle, ok := facesOf(newLoop(b.outline, 0.1, 0.8), upright)
	if !ok {
		if b.rim {
			return nil, refuse(Clipped, "the whole end of the board, with some background round it: move it inward on the glass", "what stands out runs out of the picture")
		}
		return nil, refuse(NoBoard, "the end of a board, at least 5 mm of both faces: leave the piece longer, and state the pixels an inch that it was scanned with", "no two straight parallel faces")
	}
	reach := math.Min(1.2, 30*r.pitch())
	settled := r.settle(coarse, reach, sign)
	fine := newLoop(settled, math.Max(0.04, 1.5*r.pitch()), math.Max(0.15, 5*r.pitch()))
	bd := &board{r: r, sign: sign, curve: r.curve}
	// Level with the faces: a turn of at most 45° either way of the horizontal or
	// vertical.
	if angle > math.Pi/2 {
		angle -= math.Pi
	}
	bd.angle = angle
	// Twice: the faces tell the curve of brightness, and that where the edges are.
	for range 2 {
		if why := bd.measure(fine); why != nil {
			return nil, why
		}
		if why := bd.fitFaces(picture); why != nil {
			return nil, why
		}
		bd.sharpen()
	}
	if why := bd.findEnds(picture); why != nil {
		return nil, why
	}
	return bd, nil
}

// measure finds the outline near the loop to a fraction of a pixel.
func (b *board) measure(l loop) *Refusal {
	f := b.r.finder(b.sign, max(7, int(math.Ceil(3.2*b.blur/b.r.pitch()))+3))
	f.curve, f.blur = b.curve, b.blur
	var heights []float64
	type found struct {
		at orb.Point
		h  float64
	}
	var pts []found
	for i := range l.at {
		if off, h, ok := f.find(l.at[i], l.out[i], 0.01); ok {
			pts = append(pts, found{along(l.at[i], l.out[i], off), h})
			heights = append(heights, h)
		}
	}
	if len(pts) < 64 || len(pts) < len(l.at)/2 {
		return refuse(Unclear, "a sharp, clean outline: brush the cut, lay it flat on the wiped glass and scan again", "the outline cannot be followed: a step in brightness at %d of %d places", len(pts), len(l.at))
	}
	h := median(heights)
	b.line = b.line[:0]
	for _, p := range pts {
		if p.h > 0.25*h {
			b.line = append(b.line, p.at)
		}
	}
	return nil
}

// into carries a place in the picture into the board's turned frame: u along the
// faces to the right, z above the lower face.
func (b *board) into(p orb.Point) orb.Point {
	s, c := math.Sincos(b.angle)
	d := sub(p, b.down.at)
	return orb.Point{c*d[0] + s*d[1], -s*d[0] + c*d[1]}
}

// out is the reverse of into.
func (b *board) out(p orb.Point) orb.Point {
	s, c := math.Sincos(b.angle)
	return orb.Point{b.down.at[0] + c*p[0] - s*p[1], b.down.at[1] + s*p[0] + c*p[1]}
}
