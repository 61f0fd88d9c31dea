package proof

import (
	"github.com/paulmach/orb"

	"blockwright/gcode"
	"blockwright/geom"
)

// A Part is what the program should leave in the sheet. Coordinates are the
// program's; mm.
type Part struct {
	Wall    geom.Region // outers counter-clockwise, holes clockwise; none: only the motions are checked
	Drill   []geom.Path // bores, circles cut on the inside
	Pockets []Pocket    // cleared to a floor above the sheet's underside
	Engrave []geom.Path // what this program engraves; none if another does
	Keep    []geom.Path // seats: no tab, lead or witness here
	Sheet   orb.Bound   // the zero box: not known, not checked
	Thick   float64     // 0: not known, the deepest cut is taken for the bottom
	Top     float64     // height of the sheet's top: 0, or Thick with zero on the table
	Kind    Kind
	Rules   Rules          // the zero value stands for House()
	Before  []gcode.Move   // commanded by an earlier program with the same mill and zero: its kerf is there already
	Program *gcode.Program // if given, findings name its file and line; of our own, its opening words are checked
	Dialect *gcode.Dialect // of Program; nil: one that has all codes
}

// Worst is the greatest value of something and where it is.
type Worst struct {
	Size  float64 // mm
	At    orb.Point
	Block uint32 // of the move: the one that does it, or the nearest one
}

// A Report is what the moves do to the part.
//
// Gouge is the mill's radius less the signed distance (positive outside the
// part) of its centre to the wall, the greatest of all moves in the sheet:
// negative where the mill never touches the wall, 0 where no move is in the
// sheet. Leftover is the greatest distance of a point of wall or bore to the
// moves that are wholly through the sheet, less the radius, tabs left out.
// Both are certain to [Certain].
type Report struct {
	Gouge, Leftover Worst
	Tabs            []Worst // Size is the length of the uncut wall
	Findings        []gcode.Finding
}
