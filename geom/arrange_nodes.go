package geom

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// This file answers which points of an arrangement are one.

// cell width of the grid of nodes: wide enough that two points within near of each
// other lie in the same or in neighbouring cells, even at 10 m.
const cell = 1e-3

// node is the node within near of q, a new one if there is none.
func (a *arrangement) node(q orb.Point) int32 {
	x, y := q[0]/cell, q[1]/cell
	ix, iy := int32(math.Floor(x)), int32(math.Floor(y))
	best, d := int32(-1), near
	look := func(jx, jy int32) {
		if k, ok := a.grid[[2]int32{jx, jy}]; ok {
			for ; k >= 0; k = a.next[k] {
				if l := dist(a.at[k], q); l <= d {
					best, d = k, l
				}
			}
		}
	}
	const edge = near / cell
	fx, fy := x-math.Floor(x), y-math.Floor(y)
	x0, x1, y0, y1 := ix, ix, iy, iy
	if fx < edge {
		x0--
	}
	if fx > 1-edge {
		x1++
	}
	if fy < edge {
		y0--
	}
	if fy > 1-edge {
		y1++
	}
	for jx := x0; jx <= x1; jx++ {
		for jy := y0; jy <= y1; jy++ {
			look(jx, jy)
		}
	}
	if best >= 0 {
		a.moved = math.Max(a.moved, d)
		return a.same[best]
	}
	k := int32(len(a.at))
	key := [2]int32{ix, iy}
	head, ok := a.grid[key]
	if !ok {
		head = -1
	}
	a.at = append(a.at, q)
	a.next = append(a.next, head)
	a.same = append(a.same, k)
	a.grid[key] = k
	return k
}

// contract makes one of the two ends of every piece shorter than Tol, the earlier
// node standing for both, unless that would carry a node farther than Tol. It tells
// whether there was any.
func (a *arrangement) contract() bool {
	any := false
	root := func(k int32) int32 {
		for a.same[k] != k {
			k = a.same[k]
		}
		return k
	}
	for i := range a.pieces {
		p := &a.pieces[i]
		if dist2(a.at[p.a], a.at[p.b]) >= Tol*Tol {
			continue
		}
		if x, y := root(p.a), root(p.b); x != y && dist2(a.at[x], a.at[y]) < Tol*Tol {
			a.same[max(x, y)] = min(x, y)
			any = true
		}
	}
	if !any {
		return false
	}
	for k := range a.same {
		a.same[k] = root(int32(k))
	}
	a.pieces = slices.DeleteFunc(a.pieces, func(p piece) bool { return a.same[p.a] == a.same[p.b] })
	for i := range a.pieces {
		p := &a.pieces[i]
		p.a, p.b = a.same[p.a], a.same[p.b]
		p.e.A, p.e.B = a.at[p.a], a.at[p.b]
	}
	return true
}
