package trace

import (
	"math"

	"blockwright/geom"
)

// This file answers whether several cuts show one profile, and lays them on one
// another.

// register shifts the cuts in x onto the path of the first and holds them against it.
func (f *profile) register() *Refusal {
	ref := f.cuts[0]
	path := f.path
	for k, c := range f.cuts[1:] {
		off, ok := c.onto(path)
		limit := math.Max(0.12, 4*f.pitch)
		if ok && off <= limit {
			continue
		}
		hint := "pieces cut with one cutter at one height, all with the same face down: scan the others by themselves"
		name := c.scan
		if name == "" || name == ref.scan {
			name = "one scan"
		} else {
			name = ref.scan + " and " + name
		}
		// Perhaps it lies the other way up.
		turned := newCut(c.scan, c.b, c.b.ends[c.end()], !c.flip)
		if o, ok := turned.onto(path); ok && o <= limit {
			return refuse(Different, hint, "piece %d lies with the other face down than piece 1 in %s", k+2, name)
		}
		return refuse(Different, hint, "two different profiles in %s: piece %d is off piece 1 by %.2f mm", name, k+2, off)
	}
	return nil
}

// end is the index of the cut's end of its board.
func (c *cut) end() int {
	if c.right {
		return 1
	}
	return 0
}

// onto shifts the cut in x so that it lies on the path over the heights that both
// have, and gives how far it then lies off: of the nine tenths of its points that
// depart least, the greatest distance in mm. It is false without common heights.
func (c *cut) onto(path geom.Path) (off float64, ok bool) {
	x := geom.NewIndex(path)
	top := math.Min(c.thick, path.End()[1]) - 0.3
	for range 20 {
		var ds []float64
		sum, w := 0.0, 0.0
		for i, p := range c.pts {
			if p[1] < 0.3 || p[1] > top || i%3 != 0 {
				continue
			}
			n := x.Nearest(p)
			ds = append(ds, n.Dist)
			dx := p[0] - n.At[0]
			// squared components count: a shift in x is told by steep stretches
			if n.Dist > 1e-9 {
				u := dx / n.Dist
				g := 1 / (0.05 + n.Dist)
				sum, w = sum+g*u*u*dx, w+g*u*u
			} else {
				w++
			}
		}
		if len(ds) < 20 {
			return 0, false
		}
		off = quantile(ds, 0.9)
		if w == 0 {
			return off, true
		}
		c.shift(sum / w)
		if math.Abs(sum/w) < 1e-5 {
			break
		}
	}
	return off, true
}
