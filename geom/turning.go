package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// This file answers how well a path matches itself turned about a point.

// A turning holds a rising path for being turned about many centres.
type turning struct {
	p      Path
	lo, hi float64
	spans  []span
	tree   boxTree
	scale  float64 // distance at which a match counts half
}

func newTurning(p Path) *turning {
	t := &turning{p: p}
	b := p.Bound()
	t.lo, t.hi = b.Min[1], b.Max[1]
	t.scale = 0.005 * (t.hi - t.lo)
	t.spans = make([]span, p.Edges())
	for i := range t.spans {
		t.spans[i] = p.Edge(i).span()
	}
	plant(&t.tree, t.spans)
	return t
}

func (t *turning) overlap(c orb.Point) float64 { return math.Min(c[1]-t.lo, t.hi-c[1]) }

// shared is the part of the path at the heights that it shares with itself turned
// about c, without level stretches at their limits, which have no counterpart
// where the path goes on.
func (t *turning) shared(c orb.Point) Path {
	o := t.overlap(c)
	q := t.p.Between(c[1]-o, c[1]+o)
	level := func(e Edge, y float64) bool { return math.Abs(e.A[1]-y) <= join && math.Abs(e.B[1]-y) <= join }
	for q.Edges() > 1 && level(q.Edge(0), c[1]-o) {
		q.V = q.V[1:]
	}
	for n := q.Edges(); n > 1 && level(q.Edge(n-1), c[1]+o); n-- {
		q.V = q.V[:n]
	}
	return q
}

func (t *turning) residual(c orb.Point) float64 {
	q := t.shared(c)
	if q.Edges() == 0 {
		return math.Inf(1)
	}
	d, _ := Farthest(q.Move(HalfTurn(c)), []Path{t.p}, join)
	return d
}

func (t *turning) nearest(q orb.Point) (int, float64) {
	if len(t.spans) < 24 {
		k, d := -1, math.Inf(1)
		for i := range t.spans {
			if l := t.spans[i].dist(q); l < d {
				k, d = i, l
			}
		}
		return k, d
	}
	k, d := -1, math.Inf(1)
	t.tree.search(q[0], q[1], d, func(i int) float64 {
		if l := t.spans[i].dist(q); l < d {
			k, d = i, l
		}
		return d * d
	})
	return k, d
}

// A sample is a point of the path for a piece of its length.
type sample struct {
	at, n  orb.Point
	length float64
}

// samples takes about n points of the shared part, at least two on every edge.
func (t *turning) samples(c orb.Point, n int) []sample {
	q := t.shared(c)
	l := q.Length()
	var out []sample
	for i := range q.Edges() {
		e := q.Edge(i)
		k := max(2, int(math.Ceil(float64(n)*e.Length()/l)))
		for j := range k {
			f := (float64(j) + 0.5) / float64(k)
			u := e.Direction(f)
			out = append(out, sample{e.At(f), orb.Point{-u[1], u[0]}, e.Length() / float64(k)})
		}
	}
	return out
}

// hold is how firmly the centre c is held, in mm of path.
func (t *turning) hold(c orb.Point, n int) float64 {
	var xx, xy, yy float64
	for _, s := range t.samples(c, n) {
		_, d := t.nearest(orb.Point{2*c[0] - s.at[0], 2*c[1] - s.at[1]})
		w := s.length / (1 + d/t.scale)
		xx, xy, yy = xx+w*s.n[0]*s.n[0], xy+w*s.n[0]*s.n[1], yy+w*s.n[1]*s.n[1]
	}
	return (xx+yy)/2 - math.Hypot((xx-yy)/2, xy)
}
