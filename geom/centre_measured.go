package geom

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// This file answers where the centre of a path of many short lines lies.

// measured tells whether the merged path is of so many lines that it must come
// from measuring or from sampling: nobody draws a profile of more than 60 lines,
// and nobody measures arcs.
func (p Path) measured() bool {
	for i := range p.Edges() {
		if !p.Edge(i).Straight() {
			return false
		}
	}
	return p.Edges() > 60
}

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
// error that the noise allows.
//
// What does not match, such as a clearance, must not count. The points of one piece
// that fall on one other are judged together, by the mean of their distances, which
// is known far better than one of them. The least sum of those means over the
// length (reweighted least squares) finds what matches; then the points of the
// pairs whose mean is no more than noise are weighed alike.
func (f *FittedPath) balance(q []orb.Point, c orb.Point) orb.Point {
	b := newBalance(f, q)
	sigma := math.Max(f.Noise, 1e-6)
	for range 12 {
		b.turn(c)
		v, ok := b.step(func(g *pair) float64 {
			return g.length / g.n / math.Max(math.Abs(g.sum/g.n), sigma/10)
		}, 10*sigma)
		if !ok || math.Hypot(v[0], v[1]) > 100*sigma {
			return c
		}
		c = orb.Point{c[0] + v[0], c[1] + v[1]}
	}
	for range 12 {
		b.turn(c)
		v, ok := b.step(func(g *pair) float64 {
			// the mean of n points and the fit to about as many; and a corner's
			// points, which are few, may belong to the neighbour
			if math.Abs(g.sum/g.n) > 4*sigma*math.Sqrt(2/g.n)+sigma/4 {
				return 0
			}
			return 1
		}, 4.7*sigma)
		if !ok {
			return c
		}
		c = orb.Point{c[0] + v[0], c[1] + v[1]}
		if math.Hypot(v[0], v[1]) < 1e-9 {
			break
		}
	}
	return c
}

// A balance holds measured points against the pieces fitted to them.
type balance struct {
	f      *FittedPath
	q      []orb.Point
	spans  []span // each piece between the feet of its first and last points
	lo, hi float64
	pairs  []pair // by piece times pieces plus counterpart
	match  []match
}

// A pair sums up the points of one piece that fall, turned, on another.
type pair struct{ n, sum, length float64 }

type match struct {
	pair   int
	off    float64
	normal orb.Point
}

func newBalance(f *FittedPath, q []orb.Point) *balance {
	b := &balance{f: f, q: q, lo: math.Inf(1), hi: math.Inf(-1)}
	b.spans = make([]span, len(f.fits))
	for i := range f.fits {
		g := &f.fits[i]
		x, y := g.foot(q[g.first]), g.foot(q[g.end-1])
		bulge := 0.0
		if g.round {
			bulge = math.Max(-1, math.Min(1, g.bulge(x, y, q[(g.first+g.end)/2])))
		}
		b.spans[i] = newSpan(x, y, bulge)
	}
	for _, p := range q {
		b.lo, b.hi = math.Min(b.lo, p[1]), math.Max(b.hi, p[1])
	}
	b.pairs = make([]pair, len(f.fits)*len(f.fits))
	b.match = make([]match, 0, len(q))
	return b
}

// turn finds the counterparts of all points turned about c.
func (b *balance) turn(c orb.Point) {
	clear(b.pairs)
	b.match = b.match[:0]
	o := math.Min(c[1]-b.lo, b.hi-c[1])
	last := 0
	for i := range b.f.fits {
		g := &b.f.fits[i]
		length := Edge{b.spans[i].a, b.spans[i].b, b.spans[i].bulge}.Length() / float64(g.end-g.first)
		for _, p := range b.q[g.first:g.end] {
			if math.Abs(p[1]-c[1]) > o {
				continue
			}
			t := orb.Point{2*c[0] - p[0], 2*c[1] - p[1]}
			j, d := last, b.spans[last].dist(t)
			for m := range b.spans {
				if l := b.spans[m].dist(t); l < d {
					j, d = m, l
				}
			}
			last = j
			if !b.spans[j].faces(t) { // nearest to a corner
				continue
			}
			h := &b.f.fits[j]
			m := match{i*len(b.spans) + j, h.off(t), h.normal(t)}
			b.match = append(b.match, m)
			g := &b.pairs[m.pair]
			g.n, g.sum, g.length = g.n+1, g.sum+m.off, g.length+length
		}
	}
}

// step is the least squares step of the centre with a weight for each pair, points
// farther off than cut left out.
func (b *balance) step(weight func(*pair) float64, cut float64) (v orb.Point, ok bool) {
	ws := make([]float64, len(b.pairs))
	for i := range ws {
		if b.pairs[i].n > 0 {
			ws[i] = weight(&b.pairs[i])
		}
	}
	var xx, xy, yy, bx, by float64
	for i := range b.match {
		m := &b.match[i]
		w, n := ws[m.pair], m.normal
		if w == 0 || math.Abs(m.off) > cut {
			continue
		}
		// moving c by v moves the turned point by 2v
		xx, xy, yy = xx+w*n[0]*n[0], xy+w*n[0]*n[1], yy+w*n[1]*n[1]
		bx, by = bx-w*m.off*n[0]/2, by-w*m.off*n[1]/2
	}
	det := xx*yy - xy*xy
	if !(det > 1e-9*(xx+yy)*(xx+yy)) {
		return v, false
	}
	return orb.Point{(bx*yy - by*xy) / det, (by*xx - bx*xy) / det}, true
}
