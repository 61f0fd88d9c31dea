package plate

import "blockwright/geom"

// A Seat is a stretch of the outline that must be right: it touches the cutter,
// the table or the fence. It is an open path lying on the nominal outline.
type Seat struct {
	Name  string
	Path  geom.Path
	Fixes byte // 'x', 'z', or 0 for a reference
}

// A Plate is one flat piece to be cut from sheet. X is the table frame's x; Y is
// its z, or for a part that lies flat the way along the fence.
type Plate struct {
	Kind, Mark            string
	Outline               geom.Region // nominal, exact
	Drill, Engrave, Ghost []geom.Path // circles; letters and lines; what is only drawn
	Seats                 []Seat
}

// A Cut is a plate as a given mill will leave it.
type Cut struct {
	Plate
	Mill float64     // diameter
	Wall geom.Region // every inside radius is at least the mill's
	Kept []float64   // length left of each seat
}
