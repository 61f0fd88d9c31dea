package proof

import (
	"github.com/paulmach/orb"

	"blockwright/gcode"
	"blockwright/geom"
)

// A Part is what the program should leave in the sheet. Coordinates are the
// program's.
type Part struct {
	Wall    geom.Region
	Drill   []geom.Path // bores, circles cut on the inside
	Engrave []geom.Path
	Keep    []geom.Path // seats: no tab, lead or witness here
	Sheet   orb.Bound
	Thick   float64
}

// Worst is the greatest value of something and where it is.
type Worst struct {
	Size  float64 // mm
	At    orb.Point
	Block uint32
}

// A Report is what the moves do to the part.
type Report struct {
	Gouge, Leftover Worst
	Tabs            []Worst
	Findings        []gcode.Finding
}
