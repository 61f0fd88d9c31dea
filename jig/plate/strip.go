package plate

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/joint"
	"blockwright/jig/shop"
)

// The strips' own measures in mm: common practice, no source.
const (
	stripLand  = 5.0  // of strip beyond the cut that rides the fence or the table
	stripPast  = 20.0 // beyond the insert opening, at each end of the board
	stripWidth = 40.0 // across
	stripLead  = 12.0 // chamfer of the riding edge's ends, along it
)

// StripRequest asks for the sacrificial guide strips of one pass.
type StripRequest struct {
	Pass  joint.Pass
	Table shop.Table
	Thick float64 // measured thickness of the sheet, mm
	Width float64 // of the board, along the fence, mm
	Mark  string
}

// Strips designs the sacrificial strips that are taped to the board's fragile edge
// and ride on the fence (flat pass) or on the table (upright pass) where the cut
// leaves the board no land of its own. They are cut into, so they must be wood or
// another material that routes, never metal.
//
// Flat, the strip lies on the board and must be thicker than what the cutter
// reaches above it, by a land that rides the fence: thickness at least
// max(0, z - T) + land, z the greatest height at which the cutter stands out of
// the fence. Upright, it stands before the board and must bridge the insert
// opening of radius R: thickness more than R - D - T + land, and it is longer than
// the board by the opening and 20 at each end. What one sheet is too thin for is
// glued up of several layers: as many plates are made.
func Strips(r StripRequest) ([]Plate, error) {
	if !(r.Width >= 20 && r.Width <= 2000) {
		return nil, joint.Refuse("strip: the board's width is %s; want %s to %s", r.Width, 20.0, 2000.0)
	}
	need, length := stripLand, r.Width+2*stripPast
	if r.Pass.Lies == joint.Upright {
		need = r.Table.InsertOpening/2 - r.Pass.Fence - r.Pass.Stock + stripLand
		length = r.Width + r.Table.InsertOpening + 2*stripPast
	} else {
		need += math.Max(0, cutTop(r.Pass)-r.Pass.Stock)
	}
	layers := int(math.Max(1, math.Ceil(need/r.Thick-1e-9)))
	if layers > 12 {
		return nil, joint.Refuse("strip: it must be %s thick, %s layers of a sheet of %s; want at most 12: take a thicker sheet (--sheet)", need, layers, r.Thick)
	}
	var out []Plate
	for i := range layers {
		p := Plate{Kind: "strip", Part: "strip", Mark: r.Mark}
		if layers > 1 {
			p.Part = fmt.Sprintf("layer %d", i+1)
		}
		h := length / 2
		b := math.Tan(math.Pi / 8)
		// X across, the riding edge at x = 0; Y along the fence.
		p.Outline = geom.Region{{Closed: true, V: []geom.Vertex{
			geom.V(0, h-stripLead), geom.V(0, -h+stripLead), geom.V(stripLead/2, -h),
			geom.B(stripWidth-rounding, -h, b), geom.V(stripWidth, -h+rounding),
			geom.B(stripWidth, h-rounding, b), geom.V(stripWidth-rounding, h),
			geom.V(stripLead/2, h),
		}}}
		p.Seats = []Seat{{Name: "riding edge", Path: line(0, h-stripLead, 0, -h+stripLead)}}
		p.Drill = []geom.Path{geom.Circle(orb.Point{stripWidth - holeRoom - holeSize/2, h - stripLead - holeRoom}, holeSize/2)}
		p.mark(box{6, 8 - h, stripWidth - 6, h - stripLead - 3*holeRoom - holeSize}, true)
		out = append(out, p)
	}
	return out, nil
}

// cutTop is the greatest height at which the cutter's edge stands out of the fence.
func cutTop(p joint.Pass) float64 {
	top := math.Inf(-1)
	profile := p.Profile()
	for i := range profile.Edges() {
		for _, e := range splitAt(profile.Edge(i), 0, 0) {
			if e.At(0.5)[0] > geom.Tol {
				top = math.Max(top, e.Bound().Max[1])
			}
		}
	}
	return top
}
