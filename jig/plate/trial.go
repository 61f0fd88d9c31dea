package plate

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// Nominal sizes of the trial in mm, side middle to side middle. Outside sizes
// shrink where the mill cuts wider than stated and windows grow; a wrong number
// of steps per mm stretches all in proportion to the size; lost motion shows
// with opposite signs outside and inside; so three sizes along an axis tell the
// three apart. Common practice, no source for the sizes themselves.
const (
	TrialBig    = 100.0 // outside of the frame
	TrialSmall  = 60.0  // outside of the square
	TrialWindow = 60.0  // window of the frame
	TrialCorner = 3.0   // radius of the outside corners
)

// jaw is the length in mm in the middle of each side that calipers touch.
const jaw = 16.0

// Trial designs the trial pieces: a square frame with a square window and a small
// square, their sides along X and Y. Calipers touch the middles of the sides; the
// corners are free for tabs and leads.
func Trial(mark string) []Plate {
	frame := Plate{Kind: "trial", Part: "frame", Mark: mark}
	square := Plate{Kind: "trial", Part: "square", Mark: mark}
	h := TrialBig / 2
	frame.Outline = geom.Region{rounded(h, TrialCorner), rounded(TrialWindow/2, fillet).Reverse()}
	frame.Seats = append(sides("outside", h, false), sides("window", TrialWindow/2, true)...)
	frame.Drill = []geom.Path{geom.Circle(orb.Point{h - 10, h - 10}, holeSize/2)}
	frame.mark(box{-h + 4, h - 17, h - 20, h - 4}, false)
	// Which way is which: the letters stand beside the axis they name.
	x, _ := Letters("X", orb.Point{-2, -h + 6}, tallest)
	y, _ := Letters("Y", orb.Point{-h + 7, -2}, tallest)
	frame.Engrave = append(frame.Engrave, append(x, y...)...)

	h = TrialSmall / 2
	square.Outline = geom.Region{rounded(h, TrialCorner)}
	square.Seats = sides("outside", h, false)
	square.Drill = []geom.Path{geom.Circle(orb.Point{h - 10, h - 10}, holeSize/2)}
	square.mark(box{-h + 4, -h + 10, h - 4, 6}, false)
	return []Plate{frame, square}
}

// rounded is the square of half side h about the origin with rounded corners.
func rounded(h, r float64) geom.Path {
	b := math.Tan(math.Pi / 8)
	return geom.Path{Closed: true, V: []geom.Vertex{
		geom.V(-h+r, -h), geom.B(h-r, -h, b),
		geom.V(h, -h+r), geom.B(h, h-r, b),
		geom.V(h-r, h), geom.B(-h+r, h, b),
		geom.V(-h, h-r), geom.B(-h, -h+r, b),
	}}
}

// sides are the middles of a square's sides as seats, travelled with the plate on
// their left: counter-clockwise outside, clockwise in a window.
func sides(name string, h float64, window bool) []Seat {
	j := jaw / 2
	out := []Seat{
		{Name: name + " X+", Path: line(h, -j, h, j)},
		{Name: name + " X-", Path: line(-h, j, -h, -j)},
		{Name: name + " Y+", Path: line(j, h, -j, h)},
		{Name: name + " Y-", Path: line(-j, -h, j, -h)},
	}
	if window {
		for i := range out {
			out[i].Path = out[i].Path.Reverse()
		}
	}
	return out
}
