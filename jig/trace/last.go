package trace

import "math"

// This file answers how the outline runs over its last stretch before a face, where few
// points are left.

// unbend makes the two last pieces at either face lines, if the last is a short arc and
// two lines do as well: over so few points the blur of a corner looks like an arc, and
// that need not reach the face. A corner's own points count for nothing. What may be the
// round break of a chipped tip stays.
func (f *profile) unbend() {
	n := len(f.pieces)
	if n < 3 {
		return
	}
	if a, b := f.unbent(f.pieces[n-2], f.pieces[n-1], true); a != nil {
		f.pieces[n-2], f.pieces[n-1] = a, b
	}
	if a, b := f.unbent(f.pieces[0], f.pieces[1], false); a != nil {
		f.pieces[0], f.pieces[1] = a, b
	}
}

// unbent gives two lines for the pieces p and o, of which the last, or the first, lies at
// a face; nil if it is no short arc, or the lines do worse.
func (f *profile) unbent(p, o *piece, last bool) (*piece, *piece) {
	short, long := o, p
	if !last {
		short, long = p, o
	}
	if !short.round || long.round || short.span() > smallest || len(long.q) < 8 {
		return nil, nil
	}
	if f.chipLike(short, long, last) {
		return nil, nil
	}
	q := append(append(p.q[:0:0], p.q...), o.q...)
	floor := f.pitch / 20
	clear := 1.5*f.blur + f.pitch // of the corner
	var best [2]*piece
	least := math.Inf(1)
	for k := 4; k+4 <= len(q); k++ {
		if at := len(p.q); k < at-len(short.q)-2 || k > at+len(short.q)+2 {
			continue
		}
		a, okA := fitPiece(q[:k], false, floor)
		b, okB := fitPiece(q[k:], false, floor)
		if !okA || !okB || a.dir[1] < -0.02 || b.dir[1] < -0.02 {
			continue
		}
		m, ok := meet(a, b, q[k])
		if !ok || math.Abs(cross(a.dir, b.dir)) < 0.1 {
			continue
		}
		worst, sum := 0.0, 0.0
		for i, x := range q {
			s := a
			if i >= k {
				s = b
			}
			e := math.Abs(s.off(x))
			if dist(x, m) > clear {
				worst = math.Max(worst, math.Min(e, 0.1))
			}
			sum += math.Min(e*e, 0.01)
		}
		end := b
		if !last {
			end = a
		}
		if worst > math.Max(4*f.noise+f.pitch/4, 1.5*worstOf(long)) || len(end.q) > 2*len(short.q)+4 {
			continue
		}
		if sum < least {
			least, best = sum, [2]*piece{a, b}
		}
	}
	return best[0], best[1]
}

// worstOf is the greatest distance of the piece's own points, none counted beyond a tenth
// of a millimetre.
func worstOf(p *piece) float64 {
	w := 0.0
	for _, e := range p.e {
		w = math.Max(w, math.Min(math.Abs(e), 0.1))
	}
	return w
}

// chipLike tells whether the short piece lies within the tip that the long one makes with
// the face, no farther from its point than a chip is large.
func (f *profile) chipLike(short, long *piece, last bool) bool {
	z, near := 0.0, long.q[0]
	if last {
		z, near = f.cuts[0].thick, long.q[len(long.q)-1]
	}
	hit, ok := long.atHeight(z, near)
	if !ok {
		return false
	}
	for _, q := range short.q {
		if dist(q, hit) > 1.3*chipped || long.off(q) > speck/3 {
			return false
		}
	}
	return true
}
