package proof_test

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/gcode/proof"
	"blockwright/geom"
)

// pair is two plates, each with a bay on the side that faces the other, gap apart, and
// the program that cuts round both.
func pair(t *testing.T, gap float64) (*hand, proof.Part) {
	k := math.Tan(math.Pi / 8)
	// Counter-clockwise from the middle of the left side; the bay on the right side
	// is 10 deep and 20 wide, rounded by 2.
	left := geom.Path{Closed: true, V: []geom.Vertex{
		geom.V(20, 50), geom.V(20, 20), geom.V(60, 20), geom.V(60, 40),
		geom.B(52, 40, -k), geom.V(50, 42), geom.B(50, 58, -k), geom.V(52, 60),
		geom.V(60, 60), geom.V(60, 80), geom.V(20, 80), geom.V(20, 50),
	}}
	right := geom.Path{Closed: true}
	for _, v := range left.Reverse().V {
		right.V = append(right.V, geom.B(120+gap-v.X(), v.Y(), -v.Bulge))
	}
	p := proof.Part{Wall: geom.Region{left, right}, Sheet: sheet, Thick: thick, Rules: proof.House()}
	h := start()
	for _, w := range p.Wall {
		require.Greater(t, w.Area(), 0.0)
		ways, err := w.Offset(-mill / 2)
		require.NoError(t, err)
		require.Len(t, ways, 1)
		l := ways[0].Length()
		h.kerf(ways[0], [2]float64{0.05 * l, 0.05*l + 7}, [2]float64{0.95 * l, 0.95*l + 7})
	}
	return h, p
}

// The kerfs of two plates close the mouths of their bays: what is in the bays is
// loose, though no plate has a hole. Where a strip of the sheet is left between them
// it holds the waste in the bays.
func TestHoldWasteBetweenPlates(t *testing.T) {
	h, p := pair(t, mill)
	assert.Contains(t, codes(proof.Hold(h.ms, mill, p)), proof.Slug)
	p.Rules.Loose = true
	assert.NotContains(t, codes(proof.Hold(h.ms, mill, p)), proof.Slug, "what was milled away before is not known")

	h, p = pair(t, 2*mill+1)
	assert.NotContains(t, codes(proof.Hold(h.ms, mill, p)), proof.Slug)
	h, p = pair(t, 2*mill+0.1) // a strip that holds nothing
	assert.Contains(t, codes(proof.Hold(h.ms, mill, p)), proof.Slug)
}

// A core in a bore is loose, in a plate or beside it.
func TestHoldCoreOfABore(t *testing.T) {
	ms, p := bored(8, 2, 1)
	p.Rules.Loose = false
	assert.Contains(t, codes(proof.Hold(ms, 2, p)), proof.Slug)
	ms, p = bored(3.9, 2, 0.4)
	p.Rules.Loose = false
	assert.NotContains(t, codes(proof.Hold(ms, 2, p)), proof.Slug)
}

// A ring cut into the sheet beside the plate leaves a disc, which a bridge holds or
// does not.
func TestHoldBridge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		radius := rapid.Float64Range(3, 20).Draw(t, "radius")
		turn := rapid.Float64Range(0, 2*math.Pi).Draw(t, "turn")
		centre := orb.Point{rapid.Float64Range(150, 160).Draw(t, "x"), rapid.Float64Range(60, 70).Draw(t, "y")}
		bridge := rapid.OneOf(rapid.Float64Range(-2, -0.01), rapid.Float64Range(0.75, 3)).Draw(t, "bridge")
		if bridge+mill > 2*radius-1 {
			t.Skip("no ring")
		}
		open := 2 * math.Asin((bridge+mill)/(2*radius)) // radians
		at := func(a float64) orb.Point {
			return orb.Point{centre[0] + radius*math.Cos(a), centre[1] + radius*math.Sin(a)}
		}
		h, part := good(), plate()
		h.to(at(turn)[0], at(turn)[1])
		h.down(deep) // how it comes down is another check's question
		for k := range 8 {
			step := (2*math.Pi - open) / 8
			a := turn + float64(k)*step
			h.edge(geom.Edge{A: at(a), B: at(a + step), Bulge: math.Tan(step / 4)}, deep)
		}
		h.up()
		got := codes(proof.Hold(h.ms, mill, part))
		if bridge < 0 && radius > mill+1 {
			require.Contains(t, got, proof.Slug)
		} else if bridge > 0 {
			require.NotContains(t, got, proof.Slug)
		}
	})
}
