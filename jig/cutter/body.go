package cutter

import (
	"fmt"

	"blockwright/geom"
	"blockwright/jig/source"
)

// bodyInside reports a body that stands out of the cutting edge: the stock would
// run against it before it is cut. The body may touch the edge, and may end or
// begin where it does.
func bodyInside(f *source.File, v source.Value, c *Cutter) {
	d, h, ok := c.Body.Beyond(c.Profile)
	if ok && d > geom.Tol {
		f.Fault(v, fmt.Sprintf("body stands %.4g mm out of the cutting edge at h = %.4g mm", d, h), "a body behind the edge")
	}
}
