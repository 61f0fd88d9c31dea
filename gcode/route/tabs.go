package route

import (
	"sort"
	"strconv"

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
	stem     = 2.0   // mm of part that a tab hangs on; common practice, no source
	maxTurn  = 0.7   // rad by which a tab's wall may bend
	maxKink  = 0.35  // rad by which it may bend at one vertex
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
	h.seats = geom.NewIndex(append(h.job.apart(), h.job.Bare...)...)
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
		if h.job.Stage == Finishing {
			got, err := h.left(w)
			if err != nil {
				return nil, err
			}
			all = append(all, got...)
			continue
		}
		got := h.spread(h.sites(w))
		if len(got) < h.tool.Tabs {
			return nil, refuse("%s: %s of %s tabs can be placed: %s", h.title, strconv.Itoa(len(got)), strconv.Itoa(h.tool.Tabs), h.why())
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
func (h *holder) why() Hint {
	t := h.tool
	s := Hint{"each needs %s of smooth free wall, %s away from every seat", []float64{t.TabWidth + t.Diameter, t.Diameter}}
	if h.longest < t.uncut() {
		return Hint{s.Text + "; the longest smooth stretch is %s", append(s.MM, h.longest)}
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
		s.Text += "; most places are " + names[0]
	}
	return s
}

const (
	tooNear    = "too near to a seat"
	notClear   = "in a corner or a narrow gap"
	tooThin    = "where the part is too thin"
	noStock    = "without sheet beyond the kerf"
	tooCrowded = "too near to another tab"
)
