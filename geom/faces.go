package geom

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// This file answers which sides of the pieces of an arrangement are inside.
//
// Every piece is two half-edges, 2i from a to b and 2i+1 back. A half-edge has a
// face on its left; following the faces' borders at every node gives rings. The
// winding numbers change from ring to ring by the pieces' jumps, so one ray for
// each connected part is enough, and what bounds a set of faces is always closed,
// whatever rounding did to the geometry.

type faces struct {
	*arrangement
	turn  []int32 // the half-edge that follows on the border of the same face
	ring  []int32 // the ring of each half-edge
	in    []bool  // by ring
	first []int32 // a half-edge of each ring
}

func (a *arrangement) from(h int32) int32 {
	if h&1 == 0 {
		return a.pieces[h>>1].a
	}
	return a.pieces[h>>1].b
}

func (a *arrangement) to(h int32) int32 { return a.from(h ^ 1) }

func (a *arrangement) edge(h int32) Edge {
	e := a.pieces[h>>1].e
	if h&1 == 1 {
		return e.Reverse()
	}
	return e
}

// faces finds the rings and labels them by the rule, which is given the winding
// numbers of both groups.
func (a *arrangement) faces(inside func(w [2]int32) bool) *faces {
	f := &faces{arrangement: a}
	f.link()
	w, area, round, outer := f.wind()
	f.in = make([]bool, len(w))
	for i := range w {
		f.in[i] = inside(w[i])
	}
	f.fillGaps(w, area, round, outer)
	f.fillSlivers(area, round)
	return f
}

// link finds, for every half-edge, the next one round its face: the first met when
// turning clockwise from the way back.
func (f *faces) link() {
	n := int32(2 * len(f.pieces))
	f.turn = make([]int32, n)
	start := make([]int32, len(f.at)+1)
	for i := range f.pieces {
		if p := &f.pieces[i]; !p.dead {
			start[p.a+1]++
			start[p.b+1]++
		}
	}
	for i := 1; i < len(start); i++ {
		start[i] += start[i-1]
	}
	out := make([]int32, start[len(start)-1]) // half-edges by the node they leave
	fill := slices.Clone(start)
	for h := range n {
		if f.pieces[h>>1].dead {
			continue
		}
		k := f.from(h)
		out[fill[k]] = h
		fill[k]++
	}
	type ray struct {
		angle float64
		h     int32
	}
	var rays []ray
	for k := range f.at {
		hs := out[start[k]:start[k+1]]
		if len(hs) > 2 {
			// Seen on a circle about the node that all leave, pieces that start
			// tangent to each other stand in their right order. Two with the same ends
			// part within half their chord.
			s := math.Inf(1)
			for _, h := range hs {
				s = math.Min(s, dist(f.pieces[h>>1].e.A, f.pieces[h>>1].e.B)/2)
			}
			rays = rays[:0]
			for _, h := range hs {
				u := f.edge(h).leaves(s)
				rays = append(rays, ray{math.Atan2(u[1], u[0]), h})
			}
			slices.SortFunc(rays, func(a, b ray) int {
				if c := cmp.Compare(a.angle, b.angle); c != 0 {
					return c
				}
				return cmp.Compare(a.h, b.h)
			})
			for i := range rays {
				hs[i] = rays[i].h
			}
			f.settle(hs)
		}
		for i, h := range hs {
			f.turn[h^1] = hs[(i+len(hs)-1)%len(hs)]
		}
	}
}

// settle exchanges neighbours round a node whose directions are all but the same,
// if, seen as far off as the shorter of the two reaches, they stand the other way
// round: a third piece may have been too short to tell them apart.
func (f *faces) settle(hs []int32) {
	for range hs {
		again := false
		for i := range hs {
			j := (i + 1) % len(hs)
			e, g := f.edge(hs[i]), f.edge(hs[j])
			s := math.Min(dist(e.A, e.B), dist(g.A, g.B)) / 2
			if u, v := e.leaves(s), g.leaves(s); dot(u, v) > 0.99 && cross(u, v) < 0 && len(hs) > 2 {
				hs[i], hs[j] = hs[j], hs[i]
				again = true
			}
		}
		if !again {
			return
		}
	}
}

// leaves is the direction from A in which the edge crosses the circle of radius s
// about A, s at most the chord: the tangent turned by half the angle swept.
func (e Edge) leaves(s float64) orb.Point {
	p := e.span()
	si := s * p.k / 2
	co := math.Sqrt(math.Max(0, 1-si*si))
	return orb.Point{co*p.t0[0] - si*p.t0[1], co*p.t0[1] + si*p.t0[0]}
}

// wind gives each ring's winding numbers, signed area and length, and the ring
// round the outside of each connected part.
func (f *faces) wind() (w [][2]int32, area, round []float64, outer []int32) {
	f.ring = make([]int32, len(f.turn))
	for h := range f.ring {
		f.ring[h] = -1
	}
	var first []int32 // a half-edge of each ring
	for h := range f.turn {
		if f.ring[h] >= 0 || f.pieces[h>>1].dead {
			continue
		}
		k := int32(len(first))
		first = append(first, int32(h))
		o := f.at[f.from(int32(h))]
		s, l := 0.0, 0.0
		for g := int32(h); f.ring[g] < 0; g = f.turn[g] {
			f.ring[g] = k
			e := f.edge(g)
			s += (e.A[0]-o[0])*(e.B[1]-o[1]) - (e.A[1]-o[1])*(e.B[0]-o[0]) + 2*e.segmentArea()
			l += e.Length()
		}
		area, round = append(area, s/2), append(round, l)
	}

	// Connected parts, and of each the ring that goes round its outside, the one
	// with the most negative area.
	part := make([]int32, len(first))
	for i := range part {
		part[i] = -1
	}
	var queue []int32
	for i := range first {
		if part[i] >= 0 {
			continue
		}
		k := int32(len(outer))
		outer = append(outer, int32(i))
		part[i] = k
		queue = append(queue[:0], int32(i))
		for len(queue) > 0 {
			r := queue[len(queue)-1]
			queue = queue[:len(queue)-1]
			if area[r] < area[outer[k]] {
				outer[k] = r
			}
			f.round(first[r], func(h int32) {
				if o := f.ring[h^1]; part[o] < 0 {
					part[o] = k
					queue = append(queue, o)
				}
			})
		}
	}

	w = make([][2]int32, len(first))
	known := make([]bool, len(first))
	base := f.depths(part, outer, first)
	for k, o := range outer {
		w[o], known[o] = base[k], true
		queue = append(queue[:0], o)
		for len(queue) > 0 {
			r := queue[len(queue)-1]
			queue = queue[:len(queue)-1]
			f.round(first[r], func(h int32) {
				o := f.ring[h^1]
				if known[o] {
					return
				}
				j := f.pieces[h>>1].jump
				if h&1 == 1 {
					j[0], j[1] = -j[0], -j[1]
				}
				w[o] = [2]int32{w[r][0] - j[0], w[r][1] - j[1]}
				known[o] = true
				queue = append(queue, o)
			})
		}
	}
	f.first = first
	return w, area, round, outer
}

// round calls each for every half-edge of the ring of h.
func (f *faces) round(h int32, each func(int32)) {
	for g := h; ; {
		each(g)
		if g = f.turn[g]; g == h {
			return
		}
	}
}

// depths gives for each connected part the winding numbers of all other parts
// about it.
func (f *faces) depths(part, outer, first []int32) [][2]int32 {
	w := make([][2]int32, len(outer))
	if len(outer) < 2 {
		return w
	}
	type box struct {
		b     orb.Bound
		known bool
	}
	boxes := make([]box, len(outer))
	of := make([][]int32, len(outer)) // pieces by part
	for i := range f.pieces {
		if f.pieces[i].dead {
			continue
		}
		k := part[f.ring[2*i]]
		of[k] = append(of[k], int32(i))
		if b := f.pieces[i].e.Bound(); boxes[k].known {
			boxes[k].b = boxes[k].b.Union(b)
		} else {
			boxes[k] = box{b, true}
		}
	}
	for k, o := range outer {
		q := f.at[f.from(first[o])]
		for j := range outer {
			b := boxes[j].b
			if j == k || q[0] < b.Min[0] || q[0] > b.Max[0] || q[1] < b.Min[1] || q[1] > b.Max[1] {
				continue
			}
			for _, i := range of[j] {
				p := &f.pieces[i]
				c := int32(p.e.crossings(q))
				w[k][0] += c * p.jump[0]
				w[k][1] += c * p.jump[1]
			}
		}
	}
	return w
}
