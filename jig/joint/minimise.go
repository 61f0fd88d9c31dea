package joint

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// Minimum is the setting that a search finds without knowing of a centre.
type Minimum struct {
	Height, Fence float64 // of the first pass, mm
	Gap           float64 // root mean square of the normal gap there, mm
}

// Minimise looks for the setting with the least normal gap between the boards
// held flush: over a grid of heights, then from its best places by steps that
// make the sum of the squared normal distances between the two cut lines least.
// It never looks for a centre, so it checks [Solve] independently: for a
// point-symmetric cutter both agree within 1e-6 mm. For others the two differ,
// and the closed form is the one to use.
//
// Of several settings without gap the one is taken whose cut line departs most
// from a straight line: a board that meets a flank only closes as well, but as a
// plain miter. Joints without a half turn have no such search: theirs is zero.
func (s *Setting) Minimise() Minimum {
	if !s.TurnsOver() || len(s.Passes) == 0 {
		return Minimum{}
	}
	p := s.Passes[0].Cutter.Profile.Merge()
	c, rms := leastGap(p, s.kind.span(s.Request, p))
	h, d := s.kind.centred(s.Request, p, c)
	return Minimum{Height: h, Fence: d, Gap: rms}
}

// gridHeights is the number of heights tried at first. A lock's smallest feature
// of about a millimetre on an edge of 50 mm is then hit by some ten of them.
const gridHeights = 500

// leastGap finds the point for which the half turn of the profile's part within
// the span lies nearest to the profile.
func leastGap(p geom.Path, s span) (c orb.Point, rms float64) {
	lo, hi := heights(p)
	lock := func(c orb.Point) float64 {
		half := s.half(c[1])
		return bow(p.Between(c[1]-half, c[1]+half))
	}
	type start struct {
		c    orb.Point
		miss float64 // in whole 1e-7 mm, so that a level stretch is level
	}
	var grid, starts []start
	for i := range gridHeights + 1 {
		h := s.from + (s.to-s.from)*float64(i)/gridHeights
		r, miss := meanLine(p, h, s.half(h))
		grid = append(grid, start{orb.Point{r, h}, math.Round(miss * 1e7)})
	}
	for i, g := range grid { // the first of each level stretch below its neighbours
		k := i
		for k < gridHeights && grid[k+1].miss == g.miss {
			k++
		}
		if (i == 0 || grid[i-1].miss > g.miss) && (k == gridHeights || grid[k+1].miss > g.miss) {
			starts = append(starts, g)
		}
	}
	slices.SortStableFunc(starts, func(a, b start) int {
		if a.miss != b.miss {
			return cmp.Compare(a.miss, b.miss)
		}
		return cmp.Compare(lock(b.c), lock(a.c))
	})
	if len(starts) > 16 {
		starts = starts[:16]
	}
	long := newTarget(prolong(p, hi-lo))
	rms = math.Inf(1)
	for _, g := range starts {
		at, miss := settle(p, long, g.c, s)
		const same = 1e-7 // gaps that differ by less are both none
		if miss < rms-same || miss < rms+same && lock(at) > lock(c) {
			c, rms = at, miss
		}
	}
	return c, rms
}

// meanLine is the r about which profile and half turn at the height h balance,
// and their mean distance along r from it.
func meanLine(p geom.Path, h, half float64) (r, miss float64) {
	const n = 64
	var m [n]float64
	for i := range n {
		t := half * (float64(i) + 0.5) / n
		m[i] = (reach(p, h+t) + reach(p, h-t)) / 2
	}
	sorted := m
	slices.Sort(sorted[:])
	r = (sorted[n/2-1] + sorted[n/2]) / 2
	for _, v := range m {
		miss += math.Abs(v-r) / n
	}
	return r, miss
}

// settle moves c by damped Gauss-Newton steps to the least sum of squares of the
// normal distances from the half-turned window to the profile.
// It stays where the edge covers the window.
func settle(p geom.Path, long target, c orb.Point, s span) (orb.Point, float64) {
	const margin = 0.01 // a window of the whole edge must be free to move a little
	look := func(c orb.Point) misfit {
		if c[1] < s.from-margin || c[1] > s.to+margin {
			return misfit{sum: math.Inf(1)}
		}
		half := s.half(c[1])
		w := p.Between(c[1]-half, c[1]+half)
		es := make([]geom.Edge, w.Edges())
		for i := range es {
			es[i] = w.Edge(i)
		}
		return misfitOf(es, long, c)
	}
	m := look(c)
	damp := 1e-9
	for range 60 {
		a, b, d := m.curve[0]*(1+damp)+1e-12, m.curve[1], m.curve[2]*(1+damp)+1e-12
		det := a*d - b*b
		step := orb.Point{-(d*m.grad[0] - b*m.grad[1]) / det, -(a*m.grad[1] - b*m.grad[0]) / det}
		if !(math.Hypot(step[0], step[1]) > 1e-12) {
			break
		}
		next := orb.Point{c[0] + step[0], c[1] + step[1]}
		if n := look(next); n.sum < m.sum {
			slow := n.sum > m.sum*(1-1e-6)
			c, m = next, n
			damp = math.Max(damp/10, 1e-12)
			if slow && m.sum > 1e-10*m.weight {
				break // at the bottom, and it is no closing place
			}
		} else if damp = math.Max(damp*10, 1e-6); damp > 1e6 {
			break
		}
	}
	return c, math.Sqrt(m.sum / m.weight)
}

// A misfit is the sum of squared distances of an edge's half turn about a centre
// to the profile, weighted by length, with half its gradient by the centre and its
// Gauss-Newton matrix (rr, rh, hh).
type misfit struct {
	sum    float64
	grad   orb.Point
	curve  [3]float64
	weight float64
}

// A target is a path that many points are held against.
type target struct {
	path  geom.Path
	index *geom.Index
}

func newTarget(p geom.Path) target { return target{p, geom.NewIndex(p)} }

// manyEdges is where a profile counts as measured or sampled: its edges are so
// short that a point on each says all.
const manyEdges = 200

// misfitOf looks at points of the edges, five on a line and nine on an arc, of
// many edges at the middles.
func misfitOf(es []geom.Edge, long target, c orb.Point) misfit {
	var m misfit
	for _, e := range es {
		k := 5
		if !e.Straight() {
			k = 9
		}
		if len(es) > manyEdges {
			k = 1
		}
		l := e.Length() / float64(k)
		for j := range k {
			q := e.At((float64(j) + 0.5) / float64(k))
			q = orb.Point{2*c[0] - q[0], 2*c[1] - q[1]}
			near := long.index.Nearest(q)
			n := orb.Point{q[0] - near.At[0], q[1] - near.At[1]}
			d := near.Dist
			if d > 1e-9 {
				n[0], n[1] = n[0]/d, n[1]/d
			} else {
				t := long.path.Edge(near.Edge).Direction(near.T)
				n = orb.Point{t[1], -t[0]}
				d = n[0]*(q[0]-near.At[0]) + n[1]*(q[1]-near.At[1])
			}
			m.sum += l * d * d
			m.grad[0] += l * 2 * d * n[0]
			m.grad[1] += l * 2 * d * n[1]
			m.curve[0] += l * 4 * n[0] * n[0]
			m.curve[1] += l * 4 * n[0] * n[1]
			m.curve[2] += l * 4 * n[1] * n[1]
			m.weight += l
		}
	}
	m.weight = math.Max(m.weight, seam)
	return m
}

// prolong takes an upward path on along its end tangents by the given length.
func prolong(p geom.Path, by float64) geom.Path {
	n := p.Edges()
	if n == 0 {
		return p
	}
	a, b := p.Edge(0).Direction(0), p.Edge(n-1).Direction(1)
	out := geom.Path{V: make([]geom.Vertex, 0, n+3)}
	out.V = append(out.V, geom.V(p.Start()[0]-by*a[0], p.Start()[1]-by*a[1]))
	out.V = append(out.V, p.V...)
	return geom.Path{V: append(out.V, geom.V(p.End()[0]+by*b[0], p.End()[1]+by*b[1]))}
}

// bow is how far a path departs from the straight line between its ends, looked
// at in five places of every edge.
func bow(p geom.Path) float64 {
	if len(p.V) == 0 {
		return 0
	}
	a, b := p.Start(), p.End()
	chord := geom.Edge{A: a, B: b}
	d := 0.0
	for i := range p.Edges() {
		for k := range 5 {
			d = math.Max(d, chord.Dist(p.Edge(i).At(float64(k)/4)))
		}
	}
	return d
}
