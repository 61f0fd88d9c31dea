package geom

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// A Symmetry is how nearly a half turn carries a rising path onto itself.
type Symmetry struct {
	Centre   orb.Point
	Overlap  float64 // mm: turned and unturned path share the heights Centre ± Overlap
	Residual float64 // mm, the farthest that the path, over the shared heights, lies from itself turned
	Path     Path    // what was looked at: the path with its edges merged, or fitted to what was measured
	Noise    float64 // mm, standard deviation of a measured path from Path; 0 if nothing was fitted
}

// Centre finds the centre of point symmetry of a rising path, one whose y never
// falls: a half turn about it carries the path onto itself. Level stretches are
// allowed. Of several places with the least residual it is the one with the
// greatest overlap min(y - lowest, highest - y). A place where the half turn may
// slide, such as the middle of a single flank, is none: that flank lies on itself
// wherever it is turned about one of its points.
//
// A path made symmetric gives its centre within 1e-9 mm and a residual of that
// size. One that is symmetric but for clearances gives the centre of what matches,
// by length, and the greatest clearance as residual. A path of many short lines,
// measured with noise, is fitted first ([FitPath]) and its centre found from all
// its points; the error is about that of their mean. Dividing an edge changes
// nothing.
//
// It fails on a path without extent in height and on one with no such place.
//
// Candidates are half way between vertices, between parallel lines, two by two,
// and between the centres of arcs. Each is judged by how firmly what matches holds
// it: the smaller eigenvalue of Σ ρ·n·nᵀ over the path's length, n the normal and ρ
// falling from 1 with the distance to the path turned. Sliding has eigenvalue 0.
func Centre(p Path) (Symmetry, error) {
	for i, v := range p.V {
		// so written, what is no number fails too
		if !(math.Abs(v.X()) < 1e9 && math.Abs(v.Y()) < 1e9 && math.Abs(v.Bulge) <= 1) {
			return Symmetry{}, fmt.Errorf("geom: vertex %d (%g, %g, bulge %g); want numbers below 1e9 mm and a bulge within 1", i, v.X(), v.Y(), v.Bulge)
		}
	}
	m := Path{V: p.V}.Merge()
	s := Symmetry{Path: m}
	if m.Edges() == 0 {
		return s, fmt.Errorf("geom: a path without edges has no centre of symmetry")
	}
	var err error
	if m.measured() {
		if t, err := s.exactOfMany(); err == nil {
			return t, nil
		}
		return s.fitted()
	}
	s.Centre, err = m.centre(true)
	if err != nil {
		return s, err
	}
	s.judge()
	return s, nil
}

// judge fills in overlap and residual.
func (s *Symmetry) judge() {
	t := newTurning(s.Path)
	s.Overlap = t.overlap(s.Centre)
	s.Residual = t.residual(s.Centre)
}

// centre of the merged path p; fine asks for the last digits where nothing matches
// exactly.
func (p Path) centre(fine bool) (orb.Point, error) {
	t := newTurning(p)
	refine := t.refine
	if !fine {
		refine = func(c orb.Point) orb.Point { return c }
	}
	if !(t.hi-t.lo > Tol) {
		return orb.Point{}, fmt.Errorf("geom: a path of %g mm height has no centre of symmetry", t.hi-t.lo)
	}
	type judged struct {
		c    orb.Point
		hold float64
	}
	var all []judged
	for _, c := range t.candidates() {
		all = append(all, judged{c, t.hold(c, 48)})
	}
	slices.SortStableFunc(all, func(a, b judged) int { return cmp.Compare(b.hold, a.hold) })
	if len(all) == 0 || all[0].hold < 1e-3*(t.hi-t.lo) {
		return orb.Point{}, fmt.Errorf("geom: no half turn carries any stretch of the path but straight flanks onto the path: no centre of symmetry")
	}
	best := refine(all[0].c)
	res := t.residual(best)
	for _, j := range all[1:min(len(all), 12)] {
		if j.hold < all[0].hold/2 {
			break
		}
		if t.overlap(j.c) > t.overlap(best)+Tol {
			if c := refine(j.c); t.residual(c) <= res+join && t.overlap(c) > t.overlap(best)+Tol {
				best, res = c, t.residual(c)
			}
		}
	}
	return best, nil
}

// candidates are the possible centres, each once. The centre of a symmetric rising
// path lies on the path, so what lies far from it is left out.
func (t *turning) candidates() []orb.Point {
	type key [2]int64
	seen := map[key]bool{}
	var out []orb.Point
	far := 0.05 * (t.hi - t.lo)
	put := func(c orb.Point) {
		if t.overlap(c) < far {
			return
		}
		k := key{int64(math.Round(c[0] * 1e8)), int64(math.Round(c[1] * 1e8))}
		if seen[k] {
			return
		}
		if _, d := t.nearest(c); d > far {
			return
		}
		seen[k] = true
		out = append(out, c)
	}
	for i := range t.p.V {
		for j := i; j < len(t.p.V); j++ {
			a, b := t.p.V[i].Point, t.p.V[j].Point
			put(orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2})
		}
	}
	// n·c = d for every two parallel lines that a half turn about c exchanges
	type line struct {
		n orb.Point
		d float64
	}
	var ls []line
	for i := range t.spans {
		for j := i; j < len(t.spans); j++ {
			a, b := &t.spans[i], &t.spans[j]
			switch {
			case a.k == 0 && b.k == 0 && math.Abs(cross(a.t0, b.t0)) < 1e-3 && len(ls) < 64:
				n := orb.Point{-a.t0[1], a.t0[0]}
				ls = append(ls, line{n, (dot(n, a.middle(a.a, a.b)) + dot(n, b.middle(b.a, b.b))) / 2})
			case a.k != 0 && b.k != 0 && a.k < 0 != (b.k < 0):
				o, q := a.centre(), b.centre()
				put(orb.Point{(o[0] + q[0]) / 2, (o[1] + q[1]) / 2})
			}
		}
	}
	for i := range ls {
		for j := range i {
			det := cross(ls[i].n, ls[j].n)
			if math.Abs(det) < 1e-2 {
				continue
			}
			put(orb.Point{
				(ls[i].d*ls[j].n[1] - ls[j].d*ls[i].n[1]) / det,
				(ls[i].n[0]*ls[j].d - ls[j].n[0]*ls[i].d) / det,
			})
		}
	}
	return out
}

// refine moves a centre to the least sum of distances over the length, as
// reweighted least squares, if it is then held more firmly: what matches exactly
// stays so, and paths whose figures were rounded get the mean.
func (t *turning) refine(c orb.Point) orb.Point {
	if t.residual(c) <= join {
		return c
	}
	best, old := c, t.hold(c, 400)
	eps := t.scale / 10
	for range 40 {
		var xx, xy, yy, bx, by float64
		for _, s := range t.samples(c, 200) {
			q := orb.Point{2*c[0] - s.at[0], 2*c[1] - s.at[1]}
			i, _ := t.nearest(q)
			if i < 0 || !t.spans[i].faces(q) {
				continue
			}
			a := &t.spans[i]
			d, u := a.side(q), a.tangent(q)
			n := orb.Point{-u[1], u[0]}
			w := s.length / math.Max(math.Abs(d), eps)
			// moving c by v moves q by 2v
			xx, xy, yy = xx+w*n[0]*n[0], xy+w*n[0]*n[1], yy+w*n[1]*n[1]
			bx, by = bx-w*d*n[0]/2, by-w*d*n[1]/2
		}
		det := xx*yy - xy*xy
		if !(det > 1e-9*(xx+yy)*(xx+yy)) {
			break
		}
		v := orb.Point{(bx*yy - by*xy) / det, (by*xx - bx*xy) / det}
		if math.Hypot(v[0], v[1]) > t.scale*10 {
			break
		}
		c = orb.Point{c[0] + v[0], c[1] + v[1]}
		eps = math.Max(eps/2, 1e-10)
		if math.Hypot(v[0], v[1]) < 1e-12 {
			break
		}
	}
	if t.overlap(c) > 0 && t.hold(c, 400) > old {
		best = c
	}
	return best
}
