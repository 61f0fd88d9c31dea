package joint

import (
	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/cutter"
)

// Request asks for the setting of a joint. Lengths are mm.
type Request struct {
	Cutter, With *cutter.Cutter
	Stock        float64 // thickness of the flat board
	Other        float64 // thickness of the upright board, 0 = the same
	Land         float64 // left on the tips on purpose
	Skim         float64 // least cut depth of an edge joint
}

// A Pass is one position of cutter and fence.
type Pass struct {
	Name    string // flat, upright, turned, second
	Cutter  *cutter.Cutter
	Stock   float64   // thickness of the board in this pass
	Height  float64   // H: z of the profile's h = 0
	Fence   float64   // D: distance of the axis behind the fence face
	CutLine geom.Path // table frame (x, z), upward, the part 0 ≤ z ≤ Stock
}

// A Setting is the answer to a Request.
type Setting struct {
	Joint         string
	Request       Request
	Passes        []Pass
	Range, Usable [2]float64 // thickest and thinnest stock: geometric, practical
	Centre        orb.Point  // (r, h) of point symmetry
	Residual      float64    // how far the half turn about Centre misses
	Warnings      []string
}
