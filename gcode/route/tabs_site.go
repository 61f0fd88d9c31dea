package route

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// sites are the places on one wall loop where a tab may stand.
func (h *holder) sites(w geom.Path) []*site {
	g := h.tool.uncut()
	total := w.Length()
	step := math.Max(1, total/100)
	var out []*site
	for _, c := range smooth(w) {
		l := c.s1 - c.s0
		h.longest = math.Max(h.longest, l)
		if l < g {
			continue
		}
		n := int(math.Ceil((l - g) / step))
		n += n % 2 // the middle is one of them
		for k := 0; k <= n; k++ {
			at := c.s0
			if n > 0 {
				at += (l - g) * float64(k) / float64(n)
			}
			if h.job.measured() && h.site(w, wrap(at-2*lap, total), g+4*lap) == nil {
				continue // no room for the second program
			}
			if s := h.site(w, wrap(at, total), g); s != nil {
				out = append(out, s)
			}
		}
	}
	return out
}

// smooth cuts a closed path at its corners; a loop without any is one stretch
// and a little more than itself.
func smooth(w geom.Path) []gap {
	var kinks []float64
	s := 0.0
	n := w.Edges()
	for i := range n {
		a, b := w.Edge((i+n-1)%n).Direction(1), w.Edge(i).Direction(0)
		if math.Abs(bend(a, b)) > maxKink {
			kinks = append(kinks, s)
		}
		s += w.Edge(i).Length()
	}
	if len(kinks) == 0 {
		return []gap{{0, s}}
	}
	var out []gap
	for i, k := range kinks {
		out = append(out, gap{k, ahead(kinks[(i+1)%len(kinks)], k+tiny, s)})
	}
	return out
}

// bend is the angle in radians from direction a to direction b.
func bend(a, b orb.Point) float64 {
	return math.Atan2(a[0]*b[1]-a[1]*b[0], a[0]*b[0]+a[1]*b[1])
}

// site examines the stretch of wall that starts s mm along it and is g mm long.
func (h *holder) site(w geom.Path, s, g float64) *site {
	t := h.tool
	rho := t.Diameter / 2
	piece := w.Cut(s, s+g)
	if piece.Edges() == 0 {
		return nil
	}
	turn := 0.0
	for i := range piece.Edges() {
		if i > 0 {
			turn += bend(piece.Edge(i-1).Direction(1), piece.Edge(i).Direction(0))
		}
		turn += piece.Edge(i).Sweep()
	}
	if math.Abs(turn) > maxTurn {
		return nil
	}
	first, last := piece.Edge(0), piece.Edge(piece.Edges()-1)
	x := &site{wall: piece, wide: -1, straight: math.Abs(turn) < 1e-9}
	x.mid = piece.Point(piece.AtLength(g / 2))
	if h.job.Stage != Finishing && !h.clearOfSeats(piece) {
		h.tried[tooNear]++
		return nil
	}
	if !h.thick(piece) {
		h.tried[tooThin]++
		return nil
	}
	n0, n1 := outward(first.Direction(0), h.job.Climb), outward(last.Direction(1), h.job.Climb)
	side := -1.0
	if h.job.Climb {
		side = 1
	}
	parallel := func(r *ring, d float64) (gap, bool) {
		return r.between(plus(first.A, n0, d), plus(last.B, n1, d), g-side*d*turn)
	}
	ok := false
	for i, r := range h.exact {
		if x.exact, ok = parallel(r, rho); ok {
			x.contour = h.contours[i]
			break
		}
	}
	ok = x.contour != nil && x.contour.outline
	var far []*ring
	if ok {
		ok = false
		for i, k := range h.rough.roots {
			if x.near, ok = parallel(h.near[i], rho+k.left); ok {
				x.root, far = k, h.far[i]
				break
			}
		}
	}
	if ok && t.KerfExtra > 0 {
		ok = false
		for i, r := range far {
			if x.far, ok = parallel(r, rho+x.root.left+t.KerfExtra); ok {
				x.wide = i
				break
			}
		}
	}
	if ok {
		for _, k := range x.root.kids {
			if at := ahead(k.at, x.near.s0-rho, x.root.run.Length()); at < x.near.s1+rho {
				ok = false
			}
		}
	}
	if !ok {
		h.tried[notClear]++
		return nil
	}
	return x
}

// clearOfSeats tells whether the whole stretch is more than a mill diameter away
// from every seat. Between two samples a distance falls by at most half their
// distance.
func (h *holder) clearOfSeats(piece geom.Path) bool {
	l := piece.Length()
	n := int(math.Ceil(l / 0.5))
	away := h.tool.Diameter
	if h.job.measured() {
		away += wider + lap
	}
	for k := 0; k <= n; k++ {
		q := piece.Point(piece.AtLength(l * float64(k) / float64(n)))
		if h.seats.Closer(q, away+l/float64(2*n)+0.01) {
			return false
		}
	}
	return true
}

// thick tells whether the part is nowhere thinner than stem where the tab meets it: a
// disc of that width fits in beside the wall.
func (h *holder) thick(piece geom.Path) bool {
	const samples = 8
	rho := h.tool.Diameter / 2
	l := piece.Length() - 2*rho
	for k := 0; k <= samples; k++ {
		at := piece.AtLength(rho + l*float64(k)/samples)
		n := outward(piece.Edge(at.Edge).Direction(at.T), h.job.Climb)
		if h.levels.wallIndex.Closer(plus(piece.Point(at), n, -stem/2), stem/2-1e-3) {
			return false
		}
	}
	return true
}

// holds tells whether sheet remains beyond the kerf at the site: nothing else is
// cut across the bridge or right behind it.
func (h *holder) holds(s *site) bool {
	t := h.tool
	rho := t.Diameter / 2
	own := h.levels.wallIndex
	end := h.kerf + stock
	g := s.wall.Length()
	const cols = 4
	for c := 0; c <= cols; c++ {
		at := s.wall.AtLength(g * float64(c) / cols)
		n := outward(s.wall.Edge(at.Edge).Direction(at.T), h.job.Climb)
		q := s.wall.Point(at)
		for d := h.kerf - rho + 0.5; ; d += 1 {
			d = math.Min(d, end)
			x := plus(q, n, d)
			if own.Nearest(x).Dist < math.Min(d, h.kerf)-1e-6 {
				return false
			}
			for _, o := range h.others {
				if outside(o, x) < h.kerf {
					return false
				}
			}
			if !t.Sheet.IsZero() && !t.Sheet.Contains(x) {
				return false
			}
			if d == end {
				break
			}
		}
	}
	return true
}
