package geom

import (
	"math"
)

// This file answers how the boundary of the chosen faces runs, and puts edges
// together again that were cut for nothing.

// trace follows the border between inside and outside, the inside on the left.
func (f *faces) trace() Region {
	chosen := func(h int32) bool { return f.in[f.ring[h]] && !f.in[f.ring[h^1]] }
	used := make([]bool, len(f.turn))
	where := make([]int32, len(f.at)) // 1 + place on the stack of the half-edge that leaves the node
	var stack []int32
	var out Region
	take := func(loop []int32) {
		if p := f.path(loop); len(p.V) > 1 {
			out = append(out, p)
		}
	}
	for h := range int32(len(f.turn)) {
		if f.pieces[h>>1].dead || used[h] || !chosen(h) {
			continue
		}
		stack = stack[:0]
		for g := h; !used[g]; {
			used[g] = true
			where[f.from(g)] = int32(len(stack)) + 1
			stack = append(stack, g)
			k := f.to(g)
			if w := where[k]; w > 0 { // a loop closes at this node
				loop := stack[w-1:]
				take(loop)
				for _, l := range loop {
					where[f.from(l)] = 0
				}
				stack = stack[:w-1]
			}
			// Turn inside the inside: pass over pieces with the inside on both sides.
			for g = f.turn[g]; !chosen(g); {
				g = f.turn[g^1]
			}
		}
	}
	return out
}

// A run is a stretch of one source edge, or of pieces that lie in line.
type run struct {
	source int32
	t0, t1 float64 // t0 > t1 if travelled backwards
	h0, h1 int32   // first and last half-edge
	e      Edge
}

// path makes a closed path of half-edges, one edge for each stretch of a source.
func (f *faces) path(loop []int32) Path {
	// Begin where two different sources meet, if anywhere.
	n := len(loop)
	first := 0
	for i := range loop {
		if _, ok := f.onward(loop[(i+n-1)%n], loop[i], -1); !ok {
			first = i
			break
		}
	}
	var runs []run
	for i := range loop {
		h := loop[(first+i)%n]
		if k := len(runs) - 1; k >= 0 {
			if s, ok := f.onward(runs[k].h1, h, runs[k].source); ok {
				if runs[k].source != s {
					runs[k].source = s
				}
				runs[k].h1 = h
				continue
			}
		}
		runs = append(runs, run{source: -1, h0: h, h1: h})
	}
	for i := range runs {
		f.finish(&runs[i])
	}
	runs = f.straighten(runs)
	p := Path{Closed: true, V: make([]Vertex, len(runs))}
	for i, r := range runs {
		p.V[i] = Vertex{r.e.A, r.e.Bulge}
	}
	if 2*math.Abs(p.Area()) < Tol*p.Length() {
		return Path{}
	}
	return p
}

// onward tells whether half-edge h goes on along a source edge on which g lies, and
// which; want, unless negative, is the only source that counts.
func (f *faces) onward(g, h, want int32) (int32, bool) {
	for i := g >> 1; i >= 0; i = f.pieces[i].also {
		p := &f.pieces[i]
		if want >= 0 && p.source != want {
			continue
		}
		for j := h >> 1; j >= 0; j = f.pieces[j].also {
			q := &f.pieces[j]
			if q.source != p.source {
				continue
			}
			// the same way along the source, and at the same place
			if (p.b == f.to(g)) == (q.b == f.to(h)) && (p.t1 == q.t0 || p.t0 == q.t1) {
				return p.source, true
			}
		}
	}
	return 0, false
}

// finish makes the run's edge from its first and last piece.
func (f *faces) finish(r *run) {
	if r.h0 == r.h1 {
		r.e = f.edge(r.h0)
		return
	}
	span := func(h int32) (from, to float64) {
		for i := h >> 1; i >= 0; i = f.pieces[i].also {
			if p := &f.pieces[i]; p.source == r.source {
				if p.b == f.to(h) {
					return p.t0, p.t1
				}
				return p.t1, p.t0
			}
		}
		return 0, 0
	}
	r.t0, _ = span(r.h0)
	_, r.t1 = span(r.h1)
	b := f.source[r.source].Bulge
	if d := r.t1 - r.t0; d == -1 {
		b = -b
	} else if d != 1 && b != 0 {
		b = math.Tan(d * math.Atan(b))
	}
	r.e = Edge{f.at[f.from(r.h0)], f.at[f.to(r.h1)], b}
}

// straighten joins neighbouring runs that lie in line where paths meet: at a node
// of a crossing, or at a vertex that several paths share.
func (f *faces) straighten(runs []run) []run {
	if len(runs) < 3 {
		return runs
	}
	out := runs[:1]
	for _, r := range runs[1:] {
		l := &out[len(out)-1]
		if f.ends[f.from(r.h0)] > 2 {
			if e, _, ok := inLine(l.e, r.e); ok {
				l.e, l.h1 = e, r.h1
				continue
			}
		}
		out = append(out, r)
	}
	if n := len(out); n > 2 && f.ends[f.from(out[0].h0)] > 2 {
		if e, _, ok := inLine(out[n-1].e, out[0].e); ok {
			out[0].e, out[0].h0 = e, out[n-1].h0
			out = out[:n-1]
		}
	}
	return out
}
