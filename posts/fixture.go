package posts

import (
	"github.com/paulmach/orb"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/gcode/route"
	"blockwright/geom"
	"blockwright/jig/adjust"
	"blockwright/jig/joint"
	"blockwright/jig/plate"
	"blockwright/jig/shelf"
	"blockwright/jig/shop"
)

// A Request asks for one fixture.
type Request struct {
	Shop    *shop.Shop
	Joint   joint.Request // cutter, thicknesses, land
	Stock   Measure       // the stock as its user wrote it; its length is Joint.Stock
	Kind    string        // one of Kinds
	Pass    int           // block, gauge: of the joint's passes
	Variant string        // names the pass in the ID, where a joint's passes differ
	From    string        // gauge: "pin" or "cutter"; "" = pin where the shop has one
	Width   float64       // strip: width of the board along the fence, mm
	Mill    float64       // diameter in mm of the end mill to use; 0 = the largest that will do
	Sheet   string        // name of the sheet; "" = the first
	Zero    string        // "table" or "top"; "" = as the shop has it
	Hold    string        // "tabs", "screws" or "skin"; "" = as the shop has it
	Posts   []string      // names of writers; none = all
	Version string        // of the program, stated in every file
	// Measured makes two programs: one roughs and mills a witness to measure, the
	// other finishes with what was Found. Without Found the first one is made.
	Measured bool
	Found    *adjust.Found
	roughed  string // name of the end mill that the first program was for; "" = not known
	// Applied is by how much block or gauge set the cutter otherwise than computed,
	// because a test cut said so.
	Applied shelf.Correction
}

// A Program is the moves of one milling program before they are written.
type Program struct {
	Kind  proof.Kind
	Pen   bool        // drawn by a pen, not milled
	Stage route.Stage // of milling: which passes it has
	Moves []gcode.Move
	Notes map[int]string // comment before Moves[i]
	Lines []string       // more lines for the head
	Mill  float64        // mm that the tool cuts; 0 where none turns
	Top   bool           // Z zero on the sheet's top, else on the spoilboard
}

// A Fixture is everything known about one fixture: one layout on one sheet, cut
// with one mill, its letters with the engraving tool.
type Fixture struct {
	ID, Kind, Title string
	Request         Request
	Setting         *joint.Setting // as computed
	Made            *joint.Setting // that the plates set: with the correction
	Pass            joint.Pass
	Sheet           shop.Sheet
	Mill            shop.Mill
	Diameter        float64              // mm that the mill truly cuts in the sheet's material
	Fitted          []plate.Cut          // in their own coordinates
	At              []orb.Point          // where on the sheet their origins lie
	Plates          []plate.Cut          // in their places on the sheet
	Bound           orb.Bound            // of all walls
	RPM, Feed       float64              // of milling
	Figures         *plate.Figures       // of a block
	Contact         *plate.Contact       // of a gauge
	Facing          *plate.FacingFigures // of a facing
	Hints           []string             // what the operator has to know
	Milling         Program
	Witness         *adjust.Witness // what is measured after roughing; nil where one program does all
	Finishing       *Program        // the second program of a measured fixture; nil otherwise
	Engraving       *Program        // nil where there is nothing to engrave or no tool for it
	Frame           Program
	Drive           gcode.Drive // of the machine, for times
	Seconds         float64     // of milling and engraving

	saidInUse []string // those of the hints that the sheet's steps of use say in their own words

	rough geom.Region // what roughing leaves of the walls
	held  []held      // proved so far
}

// Kinds are the fixtures that [Make] knows.
func Kinds() []string { return []string{"block", "gauge", "strip", "coupon", "trial", "facing"} }

// hintInUse adds hints that the sheet says in the steps of its use.
func (f *Fixture) hintInUse(hints ...string) {
	f.Hints, f.saidInUse = append(f.Hints, hints...), append(f.saidInUse, hints...)
}
