package geom

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// This file answers where the centre of a path of many short lines lies.

// measured tells whether the merged path is of so many lines that it must come
// from measuring or from sampling: nobody draws a profile of more than 60 edges.
func (p Path) measured() bool { return p.Edges() > 60 }

// exactOfMany looks for an exact centre of a path of many edges, such as a sampled
// curve: edges that occur seldom are paired with equal ones.
func (s Symmetry) exactOfMany() (Symmetry, error) {
	// A half turn carries an edge onto one with the same vector.
	at := map[[3]int64][]int{}
	key := func(e Edge) [3]int64 {
		return [3]int64{
			int64(math.Round((e.B[0] - e.A[0]) * 1e6)), int64(math.Round((e.B[1] - e.A[1]) * 1e6)),
			int64(math.Round(math.Abs(e.Bulge) * 1e6)),
		}
	}
	n := s.Path.Edges()
	for i := range n {
		k := key(s.Path.Edge(i))
		at[k] = append(at[k], i)
	}
	t := newTurning(s.Path)
	tried := map[[2]int64]bool{}
	best := Symmetry{}
	for i := 0; i < n && len(tried) < 40; i += max(1, n/200) {
		e := s.Path.Edge(i)
		same := at[key(e)]
		if len(same) > 8 {
			continue
		}
		for _, j := range same {
			f := s.Path.Edge(j)
			c := orb.Point{(e.A[0] + f.B[0]) / 2, (e.A[1] + f.B[1]) / 2}
			k := [2]int64{int64(math.Round(c[0] * 1e6)), int64(math.Round(c[1] * 1e6))}
			if tried[k] || t.overlap(c) <= best.Overlap+Tol {
				continue
			}
			tried[k] = true
			if !t.matches(c, 16) {
				continue
			}
			if r := t.residual(c); r <= 1e-7 && t.hold(c, n) > 1e-3*(t.hi-t.lo) {
				best = Symmetry{Centre: c, Overlap: t.overlap(c), Residual: r, Path: s.Path}
			}
		}
	}
	if best.Overlap == 0 {
		return s, fmt.Errorf("geom: no two edges match")
	}
	return best, nil
}

// matches tells whether the path passes c and n of its vertices, turned about c,
// lie on it where they share its heights.
func (t *turning) matches(c orb.Point, n int) bool {
	if _, d := t.nearest(c); d > Tol {
		return false
	}
	o := t.overlap(c)
	for i := 0; i < len(t.p.V); i += max(1, len(t.p.V)/n) {
		q := t.p.V[i].Point
		if math.Abs(q[1]-c[1]) >= o {
			continue
		}
		if _, d := t.nearest(orb.Point{2*c[0] - q[0], 2*c[1] - q[1]}); d > 1e-7 {
			return false
		}
	}
	return true
}

// fitted finds the centre of a measured path.
func (s Symmetry) fitted() (Symmetry, error) {
	q := make([]orb.Point, len(s.Path.V))
	for i, v := range s.Path.V {
		q[i] = v.Point
	}
	f, err := FitPath(q)
	if err != nil {
		return s, err
	}
	s.Path, s.Noise = f.Path.Merge(), f.Noise
	c, err := s.Path.centre(false)
	if err != nil {
		return s, err
	}
	s.Centre = f.balance(q, c)
	s.judge()
	return s, nil
}

// balance improves the centre: every measured point, turned, ought to lie on the
// line or circle fitted to its counterpart. The mean over all points has the least
// error that the noise allows. Points whose counterpart is a corner, and those that
// do not match within the noise, such as a clearance, are left out: Tukey's
// biweight (A. Beaton, J. Tukey, Technometrics 16 (1974) 147-185).
func (f *FittedPath) balance(q []orb.Point, c orb.Point) orb.Point {
	// Each piece between the feet of its first and last points.
	spans := make([]span, len(f.fits))
	for i := range f.fits {
		g := &f.fits[i]
		a, b := g.foot(q[g.first]), g.foot(q[g.end-1])
		spans[i] = newSpan(a, b, 0)
		if g.round {
			mid := g.foot(q[(g.first+g.end)/2])
			if l := dist(a, b); l > 0 {
				// of the half arc: sagitta over half the chord, as far as a half circle
				h := cross(sub(mid, a), sub(b, a)) / l
				spans[i] = newSpan(a, b, math.Max(-1, math.Min(1, 2*h/l)))
			}
		}
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range q {
		lo, hi = math.Min(lo, p[1]), math.Max(hi, p[1])
	}
	scale := 4.685 * math.Max(f.Noise, 1e-6)
	for k := range 30 {
		cut := scale
		if k < 5 {
			cut = scale * float64(6-k) // the start is off by about the noise
		}
		o := math.Min(c[1]-lo, hi-c[1])
		var xx, xy, yy, bx, by float64
		for i := range f.fits {
			for _, p := range q[f.fits[i].first:f.fits[i].end] {
				if math.Abs(p[1]-c[1]) > o {
					continue
				}
				t := orb.Point{2*c[0] - p[0], 2*c[1] - p[1]}
				j, d := -1, math.Inf(1)
				for m := range spans {
					if l := spans[m].dist(t); l < d {
						j, d = m, l
					}
				}
				if d >= cut || !spans[j].faces(t) {
					continue
				}
				off, n := f.fits[j].off(t), f.fits[j].normal(t)
				w := 1 - (off/cut)*(off/cut)
				w *= w
				xx, xy, yy = xx+w*n[0]*n[0], xy+w*n[0]*n[1], yy+w*n[1]*n[1]
				bx, by = bx-w*off*n[0]/2, by-w*off*n[1]/2
			}
		}
		det := xx*yy - xy*xy
		if !(det > 1e-9*(xx+yy)*(xx+yy)) {
			return c
		}
		v := orb.Point{(bx*yy - by*xy) / det, (by*xx - bx*xy) / det}
		c = orb.Point{c[0] + v[0], c[1] + v[1]}
		if k > 5 && math.Hypot(v[0], v[1]) < 1e-9 {
			break
		}
	}
	return c
}
