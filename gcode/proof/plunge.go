package proof

import (
	"math"

	"github.com/paulmach/orb"
)

// A history is what the program has cut: every stretch in the sheet, in order.
// What is cut to a depth at some time is the union of the discs of the mill along
// the earlier stretches at that depth or deeper (above a mill nothing stands).
// Rapids and moves with the spindle off do not count.
type history struct {
	all   []stretch
	field *field  // over all
	mill  float64 // diameter in mm of the mill that comes
	cut   float64 // mm, width of what a way has cleared for certain
	scan  scan
	near  []int32
	last  int // the stretch that the latest one ran along all its length
}

func newHistory(all []stretch, mill, cut float64) *history {
	c := make([]curve, len(all))
	for i := range all {
		c[i] = all[i].curve
	}
	return &history{all: all, field: newField(c), mill: mill, cut: cut, scan: scan{left: budget}}
}

// earlier puts the ways of all stretches before the n-th that lie at or below z,
// and within d mm of the box, in the scan.
func (h *history) earlier(n int, box orb.Bound, z, d float64) []int32 {
	h.near = h.field.reach(h.near[:0], box, d)
	h.scan.c = h.scan.c[:0]
	h.scan.arena = h.scan.arena[:0]
	for _, i := range h.near {
		s := &h.all[i]
		if int(i) >= n || s.rapid || !s.live {
			continue
		}
		if max(s.z0, s.z1) <= z-s.fuzz {
			h.scan.c = append(h.scan.c, s.curve) // all of it
		} else if o, ok := s.below(z - s.fuzz); ok {
			h.scan.c = append(h.scan.c, o.curve)
		} else {
			continue
		}
		h.scan.arena = append(h.scan.arena, int32(len(h.scan.c)-1))
	}
	return h.scan.arena
}

// depthSlack is by how much in mm two heights may differ and be one: words have
// four decimals.
const depthSlack = 2e-4

// cleared tells whether all that the mill meets at or above the height z along the
// stretch was cut before the n-th: no wider sliver than the given one stands
// anywhere. When in doubt it says no. grain is the length in mm over which the
// mill is taken as one larger disc.
func (h *history) cleared(n int, s *stretch, z, sliver, grain float64) bool {
	if d := sliver - (h.mill-h.cut)/2; d >= 0 && (h.follows(n, &s.curve, z, d) || !h.scanBeyond(n, &s.curve, z, d)) {
		return true // the centre runs where it ran before
	}
	l := s.l
	k := max(1, int(min(32, math.Ceil(l/grain))))
	// Half of a piece lies within half its length of its middle.
	for i := range k {
		q := s.At((float64(i) + 0.5) / float64(k))
		if !h.disc(n, q, h.mill/2+l/float64(2*k), z, sliver) {
			return false
		}
	}
	return true
}

// plunges tells whether the stretch goes down into something uncut.
func (h *history) plunges(n int, s *stretch, sliver float64) bool {
	return h.meets(n, s, math.Inf(1), 0, sliver, h.mill/16)
}

// slots tells whether the stretch takes a layer thicker than step, over more than
// side of the mill's width. The sheet's top is at top.
func (h *history) slots(n int, s *stretch, top, step, side float64) bool {
	return h.meets(n, s, top, step, side, h.mill/4)
}

// level is the fall in mm over which a stretch is held to its lowest point. A
// helix has to be looked at in pieces: its turn before lies higher by the pitch
// everywhere, not only at the lowest point.
const level = 0.02

// meets tells whether anything below top and more than step above the stretch was
// not cut before. A stretch that falls is parted until it is level enough.
func (h *history) meets(n int, s *stretch, top, step, sliver, grain float64) bool {
	z := s.low() + step + depthSlack
	if z >= top || h.cleared(n, s, z, sliver, grain) {
		return false
	}
	if math.Abs(s.z1-s.z0) <= level {
		return true
	}
	m := (s.z0 + s.z1) / 2
	one, two := *s, *s
	one.z1, two.z0 = m, m
	if s.l > 0 {
		one.curve, two.curve = s.between(0, 0.5), s.between(0.5, 1)
	}
	return h.meets(n, &one, top, step, sliver, grain) || h.meets(n, &two, top, step, sliver, grain)
}

// follows tells whether all of c is within d of one of the stretches after the one
// that was found last: a layer runs as the layer above it did.
func (h *history) follows(n int, c *curve, z, d float64) bool {
	for i := h.last; i < min(h.last+3, n); i++ {
		if h.along(i, c, z, d) {
			h.last = i
			return true
		}
	}
	return false
}

// along tells whether all of c is within d of the i-th stretch, and that one wholly
// at or below z.
func (h *history) along(i int, c *curve, z, d float64) bool {
	s := &h.all[i]
	if s.rapid || !s.live || max(s.z0, s.z1) > z-s.fuzz || apart2(&s.box, &c.box) > d*d {
		return false
	}
	a, b := s.dist(c.A), s.dist(c.B)
	return max(a, b) <= d && farthest(c, &s.curve, a, b, c.l) <= d
}

// scanBeyond tells whether some point of c is farther than d from the earlier
// ways at or below z.
func (h *history) scanBeyond(n int, c *curve, z, d float64) bool {
	if h.scan.beyond(c, h.earlier(n, c.box, z, d), d) {
		return true
	}
	for _, i := range h.near {
		if int(i) < n && h.along(int(i), c, z, d) {
			h.last = int(i)
			break
		}
	}
	return false
}

// disc tells whether the disc of radius r about q is covered by the discs of the
// mill along earlier ways at or below z, but for a sliver.
//
// Points nearer to q than the covered distance less q's own distance to the ways
// are covered; the ring that is left is parted into cells.
func (h *history) disc(n int, q orb.Point, r, z, sliver float64) bool {
	cover := h.cut/2 + sliver
	cands := h.earlier(n, orb.Bound{Min: q, Max: q}, z, r+cover)
	if len(cands) == 0 {
		return false
	}
	d := math.Inf(1)
	for _, i := range cands {
		d = min(d, h.scan.c[i].dist(q))
	}
	inner := cover - d
	if inner <= 0 {
		return false
	}
	if inner >= r {
		return true
	}
	const parts = 8
	for i := range parts {
		a := 2 * math.Pi / parts
		if !h.cell(q, inner, r, float64(i)*a, float64(i+1)*a, cover, sliver, cands) {
			return false
		}
	}
	return true
}

// cell tells whether the piece of a ring between two radii and two angles is
// covered. Its hull has corners on the inner circle and where the outer circle's
// tangents meet.
func (h *history) cell(q orb.Point, r0, r1, a0, a1, cover, sliver float64, cands []int32) bool {
	half := (a1 - a0) / 2
	s0, c0 := math.Sincos(a0)
	s1, c1 := math.Sincos(a1)
	sm, cm := math.Sincos((a0 + a1) / 2)
	far := r1 / math.Cos(half)
	hull := [5]orb.Point{
		{q[0] + r0*c0, q[1] + r0*s0}, {q[0] + r0*c1, q[1] + r0*s1},
		{q[0] + r1*c0, q[1] + r1*s0}, {q[0] + r1*c1, q[1] + r1*s1},
		{q[0] + far*cm, q[1] + far*sm},
	}
	m := orb.Point{q[0] + (r0+r1)/2*cm, q[1] + (r0+r1)/2*sm}
	size := 0.0
	for _, p := range hull {
		size = max(size, gap(m, p))
	}
	best := math.Inf(1)
	for _, i := range cands {
		f := &h.scan.c[i]
		d := f.dist(m)
		best = min(best, d)
		if d+size <= cover || d-size <= cover && hullWithin(f, &hull, m, size, cover) {
			return true
		}
	}
	if best > cover || size < sliver/4 || size < 1e-4 {
		return false
	}
	rm, am := (r0+r1)/2, (a0+a1)/2
	if r1-r0 > r1*(a1-a0) {
		return h.cell(q, r0, rm, a0, a1, cover, sliver, cands) && h.cell(q, rm, r1, a0, a1, cover, sliver, cands)
	}
	return h.cell(q, r0, r1, a0, am, cover, sliver, cands) && h.cell(q, r0, r1, am, a1, cover, sliver, cands)
}

// hullWithin tells whether the convex hull of the points, all within size of m,
// lies within d of f; only when sure.
func hullWithin(f *curve, hull *[5]orb.Point, m orb.Point, size, d float64) bool {
	if f.r == 0 { // the distance to a convex set is convex
		for _, p := range hull {
			if f.dist(p) > d {
				return false
			}
		}
		return true
	}
	a, b, ring := true, true, true
	for _, p := range hull {
		a = a && gap(p, f.A) <= d
		b = b && gap(p, f.B) <= d
		ring = ring && f.within(p) && f.over(p) <= d // outside the circle it is convex
	}
	return a || b || ring && size-f.over(m) <= d
}
