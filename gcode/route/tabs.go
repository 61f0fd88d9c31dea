package route

import (
	"fmt"
	"math"
	"sort"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// A site is a stretch of wall that may stay as a tab: smooth, free of seats, with
// every lane running parallel to it.
type site struct {
	contour  *contour
	root     *root
	wide     int       // which of root.wide, -1 without
	wall     geom.Path // travelled like the loops
	mid      orb.Point
	straight bool
	exact    gap // on the finishing loop
	near     gap // on the root
	far      gap // on the far lane
}

const (
	stock    = 2.0   // mm of sheet that must remain beyond the kerf at a tab
	maxTurn  = 0.7   // rad by which a tab's wall may bend
	fineness = 0.002 // mm by which a tab is narrower than stated, so that rounded words keep the limit
)

// uncut is the length of wall that a tab leaves uncut.
func (t *Tool) uncut() float64 { return t.TabWidth + t.Diameter - fineness }

// A holder places the tabs of one job.
type holder struct {
	tool     *Tool
	job      *Job
	title    string
	levels   *levels
	rough    *rough
	contours []*contour
	seats    *geom.Index
	exact    []*ring       // of the contours
	near     []*ring       // of the roots
	far      [][]*ring     // of the roots' far lanes
	others   []*geom.Index // walls of the other jobs
	kerf     float64       // mm from the wall to the kerf's far side
	tried    map[string]int
	longest  float64 // mm, of smooth wall seen
}

// place chooses the tabs of every outline of the job, spread around it, and
// enters them in roots and contours.
func (h *holder) place() ([]*site, error) {
	h.seats = geom.NewIndex(h.job.Keep...)
	for _, c := range h.contours {
		h.exact = append(h.exact, c.ring)
	}
	for _, k := range h.rough.roots {
		h.near = append(h.near, newRing(geom.Path{V: k.run.V[:len(k.run.V)-1], Closed: true}))
		h.far = append(h.far, newRings(k.wide))
	}
	var all []*site
	for _, w := range h.levels.wall {
		if inward(w, h.job.Climb) {
			continue
		}
		h.tried, h.longest = map[string]int{}, 0
		got := h.spread(h.sites(w))
		if len(got) < h.tool.Tabs {
			return nil, fmt.Errorf("route: %s: %d of %d tabs can be placed: %s", h.title, len(got), h.tool.Tabs, h.why())
		}
		all = append(all, got...)
	}
	for _, s := range all {
		s.contour.tabs = append(s.contour.tabs, bridge{s.exact, s.root.left + h.tool.KerfExtra/2})
		s.root.tabs = append(s.root.tabs, rootTab{s.near, s.far, s.wide})
	}
	for _, c := range h.contours {
		sort.Slice(c.tabs, func(a, b int) bool { return c.tabs[a].s0 < c.tabs[b].s0 })
	}
	for _, k := range h.rough.roots {
		sort.Slice(k.tabs, func(a, b int) bool { return k.tabs[a].near.s0 < k.tabs[b].near.s0 })
	}
	return all, nil
}

// why says what stood in the way of more tabs.
func (h *holder) why() string {
	t := h.tool
	s := fmt.Sprintf("each needs %.3f mm of smooth free wall, %.3f mm away from every seat", t.TabWidth+t.Diameter, t.Diameter)
	if h.longest < t.uncut() {
		return s + fmt.Sprintf("; the longest smooth stretch is %.3f", h.longest)
	}
	var names []string
	for n := range h.tried {
		names = append(names, n)
	}
	sort.Slice(names, func(a, b int) bool {
		if h.tried[names[a]] != h.tried[names[b]] {
			return h.tried[names[a]] > h.tried[names[b]]
		}
		return names[a] < names[b]
	})
	if len(names) > 0 {
		s += "; most places are " + names[0]
	}
	return s
}

const (
	tooNear    = "too near to a seat"
	notClear   = "in a corner or a narrow gap"
	noStock    = "without sheet beyond the kerf"
	tooCrowded = "too near to another tab"
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
			if s := h.site(w, wrap(at, total)); s != nil {
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
		if a[0]*b[0]+a[1]*b[1] < math.Cos(1e-4) {
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

// site examines the stretch of wall that starts s mm along it.
func (h *holder) site(w geom.Path, s float64) *site {
	t := h.tool
	rho, g := t.Diameter/2, t.uncut()
	piece := w.Cut(s, s+g)
	if piece.Edges() == 0 {
		return nil
	}
	turn := 0.0
	for i := range piece.Edges() {
		turn += piece.Edge(i).Sweep()
	}
	if math.Abs(turn) > maxTurn {
		return nil
	}
	first, last := piece.Edge(0), piece.Edge(piece.Edges()-1)
	x := &site{wall: piece, wide: -1, straight: math.Abs(turn) < 1e-9}
	x.mid = piece.Point(piece.AtLength(g / 2))
	if !h.clearOfSeats(piece) {
		h.tried[tooNear]++
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
	for k := 0; k <= n; k++ {
		q := piece.Point(piece.AtLength(l * float64(k) / float64(n)))
		if h.seats.Closer(q, h.tool.Diameter+l/float64(2*n)+0.01) {
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

// spread picks sites far from each other, straight ones first: the farthest
// pair, then always the one whose nearest neighbour is farthest.
func (h *holder) spread(from []*site) []*site {
	bad := map[*site]bool{}
	checked := map[*site]bool{}
	usable := func(s *site) bool {
		if !checked[s] {
			checked[s] = true
			if bad[s] = !h.holds(s); bad[s] {
				h.tried[noStock]++
			}
		}
		return !bad[s]
	}
	var best []*site
	for len(best) == 0 {
		var a, b *site
		far := 0.0
		for i, p := range from {
			if bad[p] {
				continue
			}
			for _, q := range from[i+1:] {
				if d := distance(p.mid, q.mid) * weight(p) * weight(q); d > far && !bad[q] && h.apart(p, q) {
					a, b, far = p, q, d
				}
			}
		}
		if a == nil {
			break
		}
		if usable(a) && usable(b) {
			best = []*site{a, b}
		}
	}
	if len(best) == 0 { // not even two: say how many
		for _, p := range from {
			if usable(p) {
				return []*site{p}
			}
		}
		return nil
	}
	for len(best) < h.tool.Tabs {
		var next *site
		far := 0.0
		for _, p := range from {
			if bad[p] {
				continue
			}
			near, ok := math.Inf(1), true
			for _, q := range best {
				near = math.Min(near, distance(p.mid, q.mid))
				ok = ok && h.apart(p, q)
			}
			if ok && near*weight(p) > far {
				next, far = p, near*weight(p)
			}
		}
		if next == nil {
			h.tried[tooCrowded]++
			return best
		}
		if usable(next) {
			best = append(best, next)
		}
	}
	return best
}

func weight(s *site) float64 {
	if s.straight {
		return 1
	}
	return 0.6
}

// apart tells whether between two sites enough way remains to ramp and to lead.
func (h *holder) apart(p, q *site) bool {
	if p.contour != q.contour {
		return true
	}
	if p.root == q.root && p.wide != q.wide {
		return false
	}
	l := p.contour.ring.length
	need := shortLoop + h.tool.Diameter
	return ahead(q.exact.s0, p.exact.s0, l)-p.exact.s1 >= need && ahead(p.exact.s0, q.exact.s0, l)-q.exact.s1 >= need
}
