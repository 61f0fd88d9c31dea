package geom

import (
	"cmp"
	"math"
	"slices"
)

// This file answers what becomes of faces thinner than Tol.

// fillGaps treats the face between two connected parts, one closely inside the
// other, as fillSlivers does a face with one ring.
func (f *faces) fillGaps(w [][2]int32, area, round []float64, outer []int32) {
	if len(outer) < 2 {
		return
	}
	var rs []int32
	for r := range area {
		if area[r] > 0 {
			rs = append(rs, int32(r))
		}
	}
	slices.SortFunc(rs, func(a, b int32) int { return cmp.Compare(area[a], area[b]) })
	for _, o := range outer {
		slack := 2 * Tol * round[o]
		i, _ := slices.BinarySearchFunc(rs, -area[o]-slack, func(r int32, v float64) int { return cmp.Compare(area[r], v) })
		for ; i < len(rs) && area[rs[i]] <= -area[o]+slack; i++ {
			r := rs[i]
			if w[r] != w[o] || 2*math.Abs(area[r]+area[o]) >= Tol*(round[r]+round[o]) || !f.along(o, r) {
				continue
			}
			if a, b := f.beyond(r, nil), f.beyond(o, nil); a > 0 && b > 0 {
				f.in[r], f.in[o] = true, true
			} else if a < 0 && b < 0 {
				f.in[r], f.in[o] = false, false
			}
		}
	}
}

// along tells whether ring o runs within a few Tol of ring r.
func (f *faces) along(o, r int32) bool {
	if f.ring[f.first[o]^1] == r {
		return false
	}
	q := f.edge(f.first[o]).At(0.5)
	d := math.Inf(1)
	f.round(f.first[r], func(h int32) { d = math.Min(d, f.pieces[h>>1].e.Dist(q)) })
	return d < 4*Tol
}

// beyond is the length of the ring's border with the inside beyond it less that
// with the outside, passing over rings that skip names.
func (f *faces) beyond(r int32, skip func(int32) bool) float64 {
	sum := 0.0
	f.round(f.first[r], func(g int32) {
		if o := f.ring[g^1]; o != r && (skip == nil || !skip(o)) {
			if l := f.pieces[g>>1].e.Length(); f.in[o] {
				sum += l
			} else {
				sum -= l
			}
		}
	})
	return sum
}

// fillSlivers gives faces thinner than Tol to the neighbour with which they share
// most of their border.
func (f *faces) fillSlivers(area, round []float64) {
	thin := func(r int32) bool { return area[r] > 0 && 2*area[r] < Tol*round[r] }
	for r := range area {
		if !thin(int32(r)) {
			continue
		}
		if sum := f.beyond(int32(r), thin); sum != 0 {
			f.in[r] = sum > 0
		}
		area[r] = 0 // decided: a neighbour may go by it
	}
}
