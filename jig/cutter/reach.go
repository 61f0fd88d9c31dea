package cutter

import (
	"math"

	"github.com/paulmach/orb"
)

// Bottom is the height of the cutting edge's end nearest the shank, Top of the
// other one, both in mm in the cutter's frame, without the body.
func (c *Cutter) Bottom() float64 { return c.Profile.Start()[1] }

// Top is the height of the cutting edge's far end.
func (c *Cutter) Top() float64 { return c.Profile.End()[1] }

// RadiusAt is the radius in mm of the cutting edge at the height h, the greatest
// at a shoulder, exact on arcs. It is false above and below the edge.
func (c *Cutter) RadiusAt(h float64) (r float64, ok bool) { return c.Profile.XAt(h) }

// MaxRadius is the greatest radius in mm of cutting edge and body together: what
// an opening has to pass.
func (c *Cutter) MaxRadius() float64 {
	r, _ := c.MaxRadiusBetween(math.Inf(-1), math.Inf(1))
	return r
}

// MaxRadiusBetween is the greatest radius in mm of cutting edge and body between
// the heights lo and hi, both included. It is false where there is neither.
func (c *Cutter) MaxRadiusBetween(lo, hi float64) (r float64, ok bool) {
	at, ok := c.WidestBetween(lo, hi)
	if b, okB := c.Body.MostX(lo, hi); okB && (!ok || b[0] > at[0]) {
		at, ok = b, true
	}
	return at[0], ok
}

// WidestBetween is the point (r, h) of the cutting edge with the greatest radius
// between the heights lo and hi, both included; of several the lowest.
func (c *Cutter) WidestBetween(lo, hi float64) (at orb.Point, ok bool) {
	return c.Profile.MostX(lo, hi)
}

// Lowest is the least height in mm of cutting edge and body, Highest the
// greatest.
func (c *Cutter) Lowest() float64 {
	if len(c.Body.V) > 0 {
		return math.Min(c.Bottom(), c.Body.Start()[1])
	}
	return c.Bottom()
}

// Highest is the greatest height in mm of cutting edge and body.
func (c *Cutter) Highest() float64 {
	if len(c.Body.V) > 0 {
		return math.Max(c.Top(), c.Body.End()[1])
	}
	return c.Top()
}
