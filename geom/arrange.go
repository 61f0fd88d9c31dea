package geom

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// This file answers into which pieces closed paths cut each other.

// near is the distance in mm under which the plane is cut as if two things were
// one: vertices, a vertex and an edge, a line and a circle it almost touches. A
// tenth of Tol, so that a few operations in a row stay within Tol, and that pieces
// of Tol, the shortest left, are ten times as long as they may have been moved.
const near = Tol / 10

// An arrangement is the plane cut by closed paths: nodes, and pieces between them
// that meet nowhere else. Every piece knows by how much the winding numbers of two
// groups of paths are higher on its left than on its right, and from which edges
// it came.
type arrangement struct {
	at     []orb.Point // nodes; a path's vertex before a crossing, so vertices keep their digits
	grid   map[[2]int32]int32
	next   []int32 // nodes of one cell of the grid
	same   []int32 // the node for which a node stands: itself, unless contracted
	pieces []piece
	source []Edge
	ends   []int32 // how many pieces end at a node, those that coincide counted each
	moved  float64 // the farthest that a point was moved to its node
}

type piece struct {
	e      Edge // its ends are the nodes' places
	a, b   int32
	source int32
	t0, t1 float64  // which part of the source's length
	jump   [2]int32 // winding number on the left less that on the right, by group
	also   int32    // the next piece that coincides with this one, or -1
	dead   bool     // coincides with an earlier piece, or bounds nothing
}

// arrange cuts the plane by the closed paths of two groups.
func arrange(groups ...[]Region) *arrangement {
	n := 0
	for _, g := range groups {
		for _, r := range g {
			for _, p := range r {
				n += len(p.V)
			}
		}
	}
	a := &arrangement{
		at:     make([]orb.Point, 0, n+n/4),
		next:   make([]int32, 0, n+n/4),
		same:   make([]int32, 0, n+n/4),
		grid:   make(map[[2]int32]int32, n),
		pieces: make([]piece, 0, n+n/4),
		source: make([]Edge, 0, n),
	}
	for k, g := range groups {
		for _, r := range g {
			for _, p := range r {
				a.add(p, k)
			}
		}
	}
	// A crossing that fell on a node moved its pieces by up to near. Cut again
	// until nothing moves: the pieces then meet at nodes only.
	for range 6 {
		cut := a.cut()
		if !a.contract() && (!cut || a.moved < join) {
			break
		}
	}
	a.unite()
	return a
}

func (a *arrangement) add(p Path, group int) {
	if !p.Closed || len(p.V) < 2 {
		return
	}
	for _, v := range p.V { // so written, what is no number fails too
		if !(math.Abs(v.X()) < 1e9 && math.Abs(v.Y()) < 1e9 && math.Abs(v.Bulge) < 1.001) {
			return
		}
	}
	first := a.node(p.V[0].Point)
	from := first
	for i := range p.V {
		e := p.Edge(i)
		to := first
		if i+1 < len(p.V) {
			to = a.node(e.B)
		}
		s := int32(len(a.source))
		a.source = append(a.source, e)
		if from != to {
			q := piece{e: Edge{a.at[from], a.at[to], e.Bulge}, a: from, b: to, source: s, t1: 1, also: -1}
			q.jump[group] = 1
			a.pieces = append(a.pieces, q)
		}
		from = to
	}
}

// A split is a node on a piece, at the fraction t of its length.
type split struct {
	piece, node int32
	t           float64
}

// cut splits all pieces where they meet and tells whether any was split.
func (a *arrangement) cut() bool {
	a.moved = 0
	var splits []split
	spans := make([]span, len(a.pieces))
	for i := range spans {
		spans[i] = a.pieces[i].e.span()
	}
	put := func(i int, k int32) {
		if p := &a.pieces[i]; k != p.a && k != p.b {
			_, _, t := p.e.Nearest(a.at[k])
			splits = append(splits, split{int32(i), k, t})
		}
	}
	var tree boxTree
	plant(&tree, spans)
	var h hits
	tree.pairs(near, nil, func(i, j int) {
		p, q := &a.pieces[i], &a.pieces[j]
		// the ends of one on the other: a touch, or an end of an overlap
		for _, k := range [2]int32{q.a, q.b} {
			if k != p.a && k != p.b && spans[i].dist(a.at[k]) <= near {
				put(i, k)
			}
		}
		for _, k := range [2]int32{p.a, p.b} {
			if k != q.a && k != q.b && spans[j].dist(a.at[k]) <= near {
				put(j, k)
			}
		}
		h.find(&spans[i], &spans[j], near)
		for m := range h.n {
			if h.end[m] {
				continue
			}
			k := a.node(h.at[m])
			put(i, k)
			put(j, k)
		}
	})
	if len(splits) == 0 {
		return false
	}
	slices.SortFunc(splits, func(x, y split) int {
		if c := cmp.Compare(x.piece, y.piece); c != 0 {
			return c
		}
		if c := cmp.Compare(x.t, y.t); c != 0 {
			return c
		}
		return cmp.Compare(x.node, y.node)
	})
	out := make([]piece, 0, len(a.pieces)+len(splits))
	s := 0
	for i, p := range a.pieces {
		from, t := p.a, 0.0
		put := func(to int32, t1 float64) {
			if to == from {
				return
			}
			q := p
			q.a, q.b = from, to
			q.t0, q.t1 = p.t0+t*(p.t1-p.t0), p.t1
			if t1 < 1 {
				q.t1 = p.t0 + t1*(p.t1-p.t0)
			}
			q.e = Edge{a.at[from], a.at[to], p.e.Bulge}
			if p.e.Bulge != 0 && (t > 0 || t1 < 1) {
				q.e.Bulge = math.Tan((q.t1 - q.t0) * math.Atan(a.source[p.source].Bulge))
			}
			out = append(out, q)
			from, t = to, t1
		}
		for ; s < len(splits) && int(splits[s].piece) == i; s++ {
			put(splits[s].node, splits[s].t)
		}
		put(p.b, 1)
	}
	a.pieces = out
	return true
}

// unite makes one of pieces that coincide and drops those with the same winding
// numbers on both sides, which bound nothing.
func (a *arrangement) unite() {
	seen := make(map[[2]int32]int32, len(a.pieces))
	chain := make([]int32, len(a.pieces)) // pieces between the same two nodes
	for i := range a.pieces {
		p := &a.pieces[i]
		key := [2]int32{min(p.a, p.b), max(p.a, p.b)}
		head, ok := seen[key]
		if !ok {
			head = -1
		}
		for k := head; k >= 0; k = chain[k] {
			q := &a.pieces[k]
			if dist(p.e.At(0.5), q.e.At(0.5)) > 2*near {
				continue
			}
			sign := int32(1)
			if q.a != p.a {
				sign = -1
			}
			for g := range q.jump {
				q.jump[g] += sign * p.jump[g]
			}
			p.dead, p.also, q.also = true, q.also, int32(i)
			break
		}
		if !p.dead {
			chain[i] = head
			seen[key] = int32(i)
		}
	}
	a.ends = make([]int32, len(a.at))
	for i := range a.pieces {
		p := &a.pieces[i]
		a.ends[p.a]++
		a.ends[p.b]++
		if p.jump == [2]int32{} {
			p.dead = true
		}
	}
}
