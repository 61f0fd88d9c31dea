package joint

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// Makers leave clearance at the tips of tongues on purpose, so the halves of such
// a profile do not match everywhere. Its centre is that of the bearing edges, the
// ones that touch in the closed joint; no wood may run into wood there.

const (
	// centred is the least share of the profile's height on either side of a
	// joint's centre: a flank alone is symmetric about its own middle, which is
	// not the joint's.
	centred = 0.25
	// leastBearing is the share of the edge that must touch.
	leastBearing = 0.1
)

// A bearing is a centre with the length of the edge that touches, in mm.
type bearing struct {
	c      orb.Point
	length float64
}

// bearingCentre is the centre about whose half turn the most of the profile lies
// on itself within tol while nothing of it runs into wood by more than tol. It is
// false if no centre lets [leastBearing] of the edge bear.
//
// Straight edges that bear on one another are parallel, and the centre lies on
// their middle line; round ones have the same radius, and the centre lies midway
// between theirs. Two such middle lines give a candidate.
func bearingCentre(p geom.Path, tol float64) (orb.Point, bool) {
	lo, hi := heights(p)
	var best bearing
	for _, c := range candidates(p, tol) {
		if math.Min(c[1]-lo, hi-c[1]) < centred*(hi-lo) {
			continue
		}
		w, turned := turnAbout(p, c)
		l := 0.0
		for i := range w.Edges() {
			if e := w.Edge(i); touches(e, turned, tol) {
				l += e.Length()
			}
		}
		if l < leastBearing*w.Length() || l < best.length+tol {
			continue
		}
		if left, _ := sides(w, turned); deepest(left, turned) <= tol {
			best = bearing{c, l}
		}
	}
	if best.length == 0 {
		return orb.Point{}, false
	}
	return seatOn(p, best.c, tol), true
}

func touches(e geom.Edge, line geom.Path, tol float64) bool {
	for _, t := range [3]float64{0, 0.5, 1} {
		if line.Nearest(e.At(t)).Dist > tol {
			return false
		}
	}
	return true
}

func deepest(ps []geom.Path, from geom.Path) float64 {
	d := 0.0
	for _, p := range ps {
		v, _ := geom.Farthest(p, []geom.Path{from}, seam)
		d = math.Max(d, v)
	}
	return d
}

// mostEdges is how many of the longest edges are looked at for candidates: their
// pairs' pairs grow with its fourth power.
const mostEdges = 16

// longestEdges are the n longest edges of a path, or all of them, longest first.
func longestEdges(p geom.Path, n int) []geom.Edge {
	var es []geom.Edge
	for i := range p.Edges() {
		es = append(es, p.Edge(i))
	}
	slices.SortStableFunc(es, func(a, b geom.Edge) int { return cmp.Compare(b.Length(), a.Length()) })
	return es[:min(n, len(es))]
}

// candidates are the points at which two middle lines of the profile's edges
// cross, and those midway between equal arcs.
func candidates(p geom.Path, tol float64) []orb.Point {
	es := longestEdges(p, mostEdges)
	type line struct {
		n orb.Point // unit normal
		d float64   // n·c = d
	}
	var lines []line
	var out []orb.Point
	for i, e := range es {
		for _, f := range es[i:] {
			switch {
			case e.Straight() && f.Straight():
				u, v := e.Direction(0), f.Direction(0)
				if off := math.Abs(u[0]*v[1]-u[1]*v[0]) * math.Min(e.Length(), f.Length()); off > 2*tol {
					continue
				}
				n := orb.Point{u[1], -u[0]}
				a, b := e.At(0.5), f.At(0.5)
				lines = append(lines, line{n, (n[0]*(a[0]+b[0]) + n[1]*(a[1]+b[1])) / 2})
			case !e.Straight() && !f.Straight() && e != f:
				a, r := e.Arc()
				b, s := f.Arc()
				if math.Abs(r-s) <= tol && e.Bulge*f.Bulge > 0 {
					out = append(out, orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2})
				}
			}
		}
	}
	for i, a := range lines {
		for _, b := range lines[i+1:] {
			det := a.n[0]*b.n[1] - a.n[1]*b.n[0]
			if math.Abs(det) < 0.05 {
				continue
			}
			out = append(out, orb.Point{(a.d*b.n[1] - b.d*a.n[1]) / det, (a.n[0]*b.d - b.n[0]*a.d) / det})
		}
	}
	near := math.Max(tol, 1e-7) // candidates as close as that are one
	seen := map[[2]int64]bool{}
	return slices.DeleteFunc(out, func(c orb.Point) bool {
		key := [2]int64{int64(math.Round(c[0] / near)), int64(math.Round(c[1] / near))}
		was := seen[key]
		seen[key] = true
		return was
	})
}

// seatOn moves a centre to the least squares of the normal distances over the
// edges that bear on it.
func seatOn(p geom.Path, c orb.Point, tol float64) orb.Point {
	lo, hi := heights(p)
	long := newTarget(prolong(p, hi-lo))
	for range 3 {
		w, turned := turnAbout(p, c)
		var parts []geom.Edge
		for i := range w.Edges() {
			if e := w.Edge(i); touches(e, turned, tol) {
				parts = append(parts, e)
			}
		}
		m := misfitOf(parts, long, c)
		det := m.curve[0]*m.curve[2] - m.curve[1]*m.curve[1]
		if !(det > 1e-9*m.curve[0]*m.curve[2]) {
			break
		}
		r := (m.curve[2]*m.grad[0] - m.curve[1]*m.grad[1]) / det
		h := (m.curve[0]*m.grad[1] - m.curve[1]*m.grad[0]) / det
		if !(math.Hypot(r, h) <= 10*tol) {
			break // what touches does not hold it
		}
		c[0], c[1] = c[0]-r, c[1]-h
	}
	return c
}
