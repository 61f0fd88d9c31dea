package joint

import (
	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/cutter"
)

// Request asks for the setting of a joint. Lengths are mm; 0 means not given.
type Request struct {
	Cutter, With *cutter.Cutter
	Stock        float64  // thickness of the flat board
	Other        float64  // thickness of the upright board, a drawer's side; 0 = the same
	Land         float64  // left on the tips on purpose
	Skim         float64  // least cut depth of an edge joint
	Overlay      float64  // drawer lock: the front stands beyond the side by so much
	At           *Landing // matched, edge: where a point of the first cutter's profile is wanted
	Web          float64  // least wood beside the lock for the usable range, 0 = [Web]
}

// Web is the least wood in mm left beside the lock before a stock counts as
// unusually thin. Common practice says 2 to 3, no source.
const Web = 2

// A Setting is the answer to a Request.
type Setting struct {
	Joint         string
	Request       Request
	Passes        []Pass
	Range, Usable [2]float64 // thinnest and thickest stock: geometric, practical
	Centre        orb.Point  // (r, h) of point symmetry; of a matched set the middle of the first key
	Residual      float64    // how far the half turn about Centre misses; of a matched set the clearance
	Warnings      []Message

	kind  *kind
	noise float64 // standard deviation of a measured profile, 0 of a drawn one
	key   key     // of a matched set's first cutter
	mate  mate    // of a matched set
}

// A Pass is one position of cutter and fence and the board that goes past it.
type Pass struct {
	Name    string // flat, upright, turned, second
	Cutter  *cutter.Cutter
	Stock   float64   // thickness of the board in this pass
	Height  float64   // H: z of the profile's h = 0
	Fence   float64   // D: distance of the axis behind the fence face
	CutLine geom.Path // table frame (x, z), upward, the part 0 ≤ z ≤ Stock

	Lies Lie // how the board goes past the cutter

	profile geom.Path // the whole profile in the table's frame
}

// Lie is how a board goes past the cutter.
type Lie byte

// A flat board lies on the table, its end against the fence. An upright board
// stands on its end, one face against the fence.
const (
	Flat Lie = iota
	Upright
)

func (l Lie) String() string {
	if l == Upright {
		return "upright"
	}
	return "flat"
}

// newPass sets cutter, board and place together and derives the cut line.
func newPass(name string, lies Lie, c *cutter.Cutter, stock, height, fence float64) Pass {
	p := Pass{Name: name, Lies: lies, Cutter: c, Stock: stock, Height: height, Fence: fence}
	p.profile = p.Profile()
	p.CutLine = p.profile.Between(0, stock)
	return p
}

// Profile is the cutter's whole profile in the table's frame, upward. Vertices
// that only split a line or an arc are left out. The path is shared: it is not to
// be changed.
func (p Pass) Profile() geom.Path {
	if len(p.profile.V) > 0 {
		return p.profile
	}
	return p.Cutter.Profile.Merge().Move(geom.Shift(-p.Fence, p.Height))
}

// Body is what of the cutter does not cut but is in the way, in the table's
// frame; a path without vertices where the cutter's file states none.
func (p Pass) Body() geom.Path {
	return p.Cutter.Body.Move(geom.Shift(-p.Fence, p.Height))
}

// X is how far out of the fence the cutter's edge stands at the height z: the
// greatest value at a shoulder, -Inf where the cutter has no edge.
func (p Pass) X(z float64) float64 {
	return reach(p.Profile(), z)
}
