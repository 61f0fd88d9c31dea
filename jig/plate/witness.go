package plate

import (
	"github.com/paulmach/orb"

	"blockwright/geom"
)

// Sizes of the witness in mm: across its X flats and across its Y flats.
const (
	WitnessX = 40.0
	WitnessY = 60.0
)

// Witness designs the piece that is measured between roughing and finishing: a
// rectangle whose flats calipers span, one pair across X and one across Y. It is
// milled beside a fixture's plates, from the same sheet and with the same mill: a
// plate has not always two free edges that look apart along X.
//
// Its corners are sharp, so that no tab fits beside the Y flats, which take nearly
// the whole of their sides; the lower parts of the X sides are for tabs and leads.
func Witness() Plate {
	const w, h, near = WitnessX, WitnessY, 3.0
	p := Plate{
		Kind: "witness", Part: "witness", Mark: "WITNESS",
		Outline: geom.Region{geom.Rect(0, 0, w, h)},
		Drill:   []geom.Path{geom.Circle(orb.Point{w / 2, 16}, holeSize/2)},
		Seats: []Seat{
			{Name: "flat X+", Path: line(w, h-26, w, h-6)},
			{Name: "flat Y+", Path: line(w-near, h, near, h)},
			{Name: "flat X-", Path: line(0, h-6, 0, h-26)},
			{Name: "flat Y-", Path: line(near, 0, w-near, 0)},
		},
	}
	p.mark(box{6, h - 24, w - 6, h - 8}, false)
	return p
}
