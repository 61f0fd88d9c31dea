package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// An Index answers questions about many edges in a time that grows with the
// logarithm of their number. It keeps its own copy of what it needs: later
// changes of the paths do not reach it. It may be asked from several goroutines.
type Index struct {
	tree  boxTree
	spans []span
	path  []int32
	edge  []int32
}

// NewIndex takes the edges of all paths; a path of one vertex counts as a point.
func NewIndex(ps ...Path) *Index {
	n := 0
	for _, p := range ps {
		n += max(p.Edges(), min(1, len(p.V)))
	}
	x := &Index{spans: make([]span, 0, n), path: make([]int32, 0, n), edge: make([]int32, 0, n)}
	for i, p := range ps {
		add := func(s span, j int) {
			x.spans = append(x.spans, s)
			x.path = append(x.path, int32(i))
			x.edge = append(x.edge, int32(j))
		}
		if len(p.V) == 1 {
			add(newSpan(p.V[0].Point, p.V[0].Point, 0), 0)
		}
		for j := range p.Edges() {
			add(p.Edge(j).span(), j)
		}
	}
	plant(&x.tree, x.spans)
	return x
}

// plant builds the tree over the spans' boxes.
func plant(t *boxTree, s []span) {
	b := t.build(len(s))
	for i := range b {
		b[i] = s[i].box()
	}
	t.grow()
}

// Nearest is the point of all edges nearest to q. Without an edge the distance
// is infinite. Of several at one distance any may be given.
func (x *Index) Nearest(q orb.Point) Near { return x.NearestWithin(q, math.Inf(1)) }

// NearestWithin is Nearest for distances up to d mm; where nothing is so near,
// the distance given is infinite.
func (x *Index) NearestWithin(q orb.Point, d float64) Near {
	best, at := d, -1
	x.tree.search(q[0], q[1], d*d, func(i int) float64 {
		if e := x.spans[i].dist(q); e < best || e == best && at < 0 {
			best, at = e, i
		}
		return best * best
	})
	if at < 0 {
		return Near{Dist: math.Inf(1)}
	}
	s := &x.spans[at]
	n := Near{Path: int(x.path[at]), Edge: int(x.edge[at])}
	n.At, n.Dist, n.T = Edge{s.a, s.b, s.bulge}.Nearest(q)
	return n
}

// Closer tells whether some edge lies nearer to q than d mm.
func (x *Index) Closer(q orb.Point, d float64) bool { return closer(&x.tree, x.spans, q, d) }

func closer(t *boxTree, s []span, q orb.Point, d float64) bool {
	if len(s) == 0 {
		return false
	}
	type node struct{ l, i int32 }
	var stack [40]node // one more than levels
	stack[0].l = int32(len(t.level) - 1)
	d2 := d * d
	for n := 1; n > 0; {
		n--
		l, i := stack[n].l, stack[n].i
		switch {
		case t.level[l][i].dist2(q[0], q[1]) > d2:
		case l == 0:
			if s[i].dist(q) < d {
				return true
			}
		default:
			if int(2*i+1) < len(t.level[l-1]) {
				stack[n] = node{l - 1, 2*i + 1}
				n++
			}
			stack[n] = node{l - 1, 2 * i}
			n++
		}
	}
	return false
}

// Pairs calls each once for every pair of different edges, one of x and one of
// y, whose boxes come within near mm; y may be x itself.
func (x *Index) Pairs(y *Index, near float64, each func(a, b Near)) {
	id := func(x *Index, i int) Near {
		return Near{Path: int(x.path[i]), Edge: int(x.edge[i])}
	}
	if x == y {
		x.tree.pairs(near, nil, func(i, j int) { each(id(x, i), id(x, j)) })
		return
	}
	x.tree.across(&y.tree, near, func(i, j int) { each(id(x, i), id(y, j)) })
}

// Winding is how often the closed paths run round q in sum: 1 inside, 0 outside
// a proper region. On a path it is that of one of the two sides.
func (x *Index) Winding(q orb.Point) int { return winding(&x.tree, x.spans, q) }

func winding(t *boxTree, s []span, q orb.Point) int {
	w := 0
	t.ray(q[0], q[1], func(i int) {
		w += Edge{s[i].a, s[i].b, s[i].bulge}.crossings(q)
	})
	return w
}
