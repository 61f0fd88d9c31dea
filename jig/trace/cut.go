package trace

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A cut is one cut end of one board, seen in the board's own frame.
type cut struct {
	scan   string
	b      *board
	right  bool    // the board's right end in the picture
	flip   bool    // the upper face in the picture was down
	x0     float64 // u of x = 0 in the board's turned frame, against x
	pts    []orb.Point
	thick  float64
	finder *stepFinder
	least  float64 // height of step that counts
}

func newCut(scan string, b *board, e end, flip bool) *cut {
	c := &cut{scan: scan, b: b, right: e.right, flip: flip, thick: b.thick}
	for _, p := range e.line {
		c.pts = append(c.pts, c.into(p))
	}
	if flip {
		slices.Reverse(c.pts)
	}
	least := math.Inf(1)
	for _, p := range c.pts {
		least = math.Min(least, p[0])
	}
	c.shift(least)
	return c
}

// shift moves the frame's origin by d to greater x.
func (c *cut) shift(d float64) {
	c.x0 += d
	for i := range c.pts {
		c.pts[i][0] -= d
	}
}

// into carries a place in the picture into the frame (x, z) of the cut.
func (c *cut) into(p orb.Point) orb.Point {
	q := c.b.into(p)
	if c.right {
		q[0] = -q[0]
	}
	if c.flip {
		q[1] = c.thick - q[1]
	}
	q[0] -= c.x0
	return q
}

// out is the reverse of into.
func (c *cut) out(q orb.Point) orb.Point {
	q[0] += c.x0
	if c.right {
		q[0] = -q[0]
	}
	if c.flip {
		q[1] = c.thick - q[1]
	}
	return c.b.out(q)
}

// measure finds the outline near a place q along the direction out, both in the
// frame of the cut.
func (c *cut) measure(q, out orb.Point) (orb.Point, bool) {
	p := c.out(q)
	d := sub(c.out(orb.Point{q[0] + out[0], q[1] + out[1]}), p)
	off, _, ok := c.finder.find(p, d, c.least)
	return along(q, out, off), ok
}

// between are the points of the cut away from the faces by more than g, in their
// order from the lower face up.
func (c *cut) between(g float64) []orb.Point {
	first, last := -1, -1
	for i, p := range c.pts {
		if p[1] > g && first < 0 && c.leaves(i, g) {
			first = i
		}
		if p[1] < c.thick-g {
			last = i
		}
	}
	// From the last point on the lower face to the first on the upper one.
	for i, p := range c.pts {
		if p[1] < g && i < len(c.pts)/2 && i+1 > first {
			first = i + 1
		}
	}
	for i := len(c.pts) - 1; i >= 0; i-- {
		if c.pts[i][1] > c.thick-g && i > first {
			last = i - 1
		}
	}
	if first < 0 || last <= first {
		return nil
	}
	return c.pts[first : last+1]
}

func (c *cut) leaves(i int, g float64) bool {
	for k := i; k < min(i+4, len(c.pts)); k++ {
		if c.pts[k][1] <= g {
			return false
		}
	}
	return true
}

// undercut tells whether the outline as it was found falls by more than d mm on its way
// up.
func (c *cut) undercut(d float64) bool {
	most := math.Inf(-1)
	for _, p := range despike(c.pts) {
		if p[1] < most-d {
			return true
		}
		most = math.Max(most, p[1])
	}
	return false
}
