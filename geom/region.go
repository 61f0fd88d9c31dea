package geom

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// Contains tells whether q lies in the region or within Tol of its boundary.
func (r Region) Contains(q orb.Point) bool {
	return r.Winding(q) > 0 || Nearest(r, q).Dist <= Tol
}

// ContainsPath tells whether the whole path lies in the region or within Tol of its
// boundary. If it does not, at is a point of the path outside.
func (r Region) ContainsPath(p Path) (at orb.Point, ok bool) {
	x, y := NewIndex(r...), NewIndex(p)
	out := func(q orb.Point) bool {
		return x.Winding(q) <= 0 && x.Nearest(q).Dist > Tol
	}
	for _, v := range p.V {
		if out(v.Point) {
			return v.Point, false
		}
	}
	// Between two meetings with the boundary an edge lies on one side.
	cuts := make([][]float64, p.Edges())
	y.Pairs(x, Tol, func(a, b Near) {
		if p.Edges() == 0 || len(r[b.Path].V) < 2 {
			return
		}
		c := Intersect(p.Edge(a.Edge), r[b.Path].Edge(b.Edge))
		for i := range c.N {
			cuts[a.Edge] = append(cuts[a.Edge], c.Meet[i].TA)
		}
	})
	for i, ts := range cuts {
		e := p.Edge(i)
		ts = append(ts, 0, 1)
		slices.Sort(ts)
		for k := 1; k < len(ts); k++ {
			if q := e.At((ts[k-1] + ts[k]) / 2); ts[k] > ts[k-1] && out(q) {
				return q, false
			}
		}
	}
	return at, true
}

// A Fault says where and why a set of paths is no proper [Region].
type Fault struct {
	At   orb.Point
	Path int // index of the path
	Why  string
}

func (f *Fault) Error() string {
	return fmt.Sprintf("geom: path %d at (%.4f, %.4f): %s", f.Path, f.At[0], f.At[1], f.Why)
}

// Check gives the first fault that keeps the paths from being a region, a *[Fault]:
// a path that is open, bounds no area or has coordinates that are no numbers; two
// edges that cross or overlap, of one path or of two; an outer boundary that runs
// clockwise or a hole that runs counter-clockwise. Paths may touch.
func (r Region) Check() error {
	for i, p := range r {
		for _, v := range p.V {
			if !finite(v.X()) || !finite(v.Y()) || !finite(v.Bulge) {
				return &Fault{v.Point, i, "is no place"}
			}
		}
		switch {
		case len(p.V) == 0:
			return &Fault{Path: i, Why: "has no vertex"}
		case !p.Closed:
			return &Fault{p.Start(), i, "is open; want it closed"}
		case len(p.V) == 1:
			return &Fault{p.Start(), i, "is a point and bounds no area"}
		}
	}
	for i, p := range r {
		for _, c := range SelfCrossings(p) {
			switch c.Kind {
			case Crosses:
				return &Fault{crossing(c.Cross), i, fmt.Sprintf("edges %d and %d cross", c.I, c.J)}
			case Overlap:
				return &Fault{c.Meet[0].At, i, fmt.Sprintf("edges %d and %d overlap", c.I, c.J)}
			}
		}
		for j := range i {
			for _, c := range Crossings(p, r[j]) {
				switch c.Kind {
				case Crosses:
					return &Fault{crossing(c.Cross), i, fmt.Sprintf("crosses path %d", j)}
				case Overlap:
					return &Fault{c.Meet[0].At, i, fmt.Sprintf("overlaps path %d", j)}
				}
			}
		}
	}
	for i, p := range r {
		if a := p.Area(); a == 0 {
			return &Fault{p.Start(), i, "bounds no area"}
		} else if depth := r.depth(i); a > 0 && depth != 0 {
			return &Fault{p.Start(), i, fmt.Sprintf("runs counter-clockwise with winding number %d about it; want 0, or clockwise for a hole", depth)}
		} else if a < 0 && depth != 1 {
			return &Fault{p.Start(), i, fmt.Sprintf("runs clockwise with winding number %d about it; want 1, or counter-clockwise for an outer boundary", depth)}
		}
	}
	return nil
}

// crossing is the first point in which two edges cross.
func crossing(c Cross) orb.Point {
	for _, m := range c.Meet[:c.N] {
		if m.Kind == Crosses {
			return m.At
		}
	}
	return c.Meet[0].At
}

// depth is the winding number of the other paths about path i, taken at the point
// of it that is farthest from them.
func (r Region) depth(i int) int {
	w, far := 0, -1.0
	for k := range r[i].V {
		for _, t := range [2]float64{0, 0.5} {
			q := r[i].Edge(k).At(t)
			d, v := math.Inf(1), 0
			for j, p := range r {
				if j != i {
					d = min(d, p.Nearest(q).Dist)
					v += p.Winding(q)
				}
			}
			if d > far {
				far, w = d, v
			}
		}
		if far > 1e-3 {
			break // sure enough
		}
	}
	return w
}
