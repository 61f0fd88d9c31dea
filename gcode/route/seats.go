package route

import (
	"math"
	"sort"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// A hop takes the mill off the wall just before a seat, back a little, and to the
// same place again on an arc, so that the seat's line is approached from the
// waste: every seat with the same lost motion of the machine.
type hop struct {
	s   float64     // mm along the loop
	way []geom.Edge // out, back and in
}

// before is how far before a seat in mm the mill hops, a quarter of it in a tight
// relief. On an arc of radius r it still has before²/2r to rise: a few µm.
const before = 0.05

// slight is the way in mm that counts as no motion: a relief may lie that much
// deeper than the seat it serves.
const slight = 5e-3

// approach plans the hops of the contour. It returns the middle of each seat that
// is still approached from inside the plate.
func (c *contour) approach(j *Job, t *Tool) (missed []orb.Point) {
	if t.Overtravel <= 0 {
		return nil
	}
	for _, k := range j.Keep {
		s, n, ok := c.seatStart(k, j, t.Diameter/2)
		if !ok || c.comesInward(s, n) {
			continue
		}
		for _, d := range []float64{before, before / 4} {
			var h hop
			if h, ok = c.hopAt(wrap(s-d, c.ring.length), j, t); ok {
				c.hops = append(c.hops, h)
				break
			}
		}
		if !ok {
			missed = append(missed, k.Point(k.AtLength(k.Length()/2)))
		}
	}
	sort.SliceStable(c.hops, func(a, b int) bool { return c.hops[a].s < c.hops[b].s })
	return missed
}

// seatStart is the place on the loop at which the mill reaches the seat, and the
// seat's outward normal there. A seat of another contour is none.
func (c *contour) seatStart(k geom.Path, j *Job, rho float64) (s float64, n orb.Point, ok bool) {
	if k.Edges() == 0 {
		return 0, n, false
	}
	mid := k.AtLength(k.Length() / 2)
	u := k.Edge(mid.Edge).Direction(mid.T)
	w := c.levels.wallIndex.Nearest(k.Point(mid))
	v := c.levels.wall[w.Path].Edge(w.Edge).Direction(w.T)
	if u[0]*v[0]+u[1]*v[1] < 0 {
		k = k.Reverse()
	}
	e := k.Edge(0)
	n = outward(e.Direction(0), j.Climb)
	s, ok = c.ring.passes(plus(e.A, n, rho), 1e-3)
	return s, n, ok
}

// comesInward tells whether the last motion along n before s, if it was more than
// slight, was towards the plate.
func (c *contour) comesInward(s float64, n orb.Point) bool {
	q, _ := c.ring.at(s)
	for d := 0.02; d < c.ring.length; d += 0.02 {
		p, _ := c.ring.at(s - d)
		if y := (p[0]-q[0])*n[0] + (p[1]-q[1])*n[1]; math.Abs(y) > slight {
			return y > 0
		}
	}
	return false
}

// hopAt builds the hop at s: as far off the wall as the roughed kerf and the
// overtravel allow.
func (c *contour) hopAt(s float64, j *Job, t *Tool) (hop, bool) {
	q, u := c.ring.at(s)
	n := outward(u, j.Climb)
	bulge := math.Tan(math.Pi / 8)
	if !j.Climb {
		bulge = -bulge
	}
	if c.onSeat(q, j, t.Diameter/2) {
		return hop{}, false
	}
	for i, rise := range []float64{j.Allowance + t.KerfExtra/2, j.Allowance, j.Allowance / 2, j.Allowance / 4} {
		between := i == 0
		if rise = math.Min(rise, t.Overtravel); rise < 0.02 {
			continue
		}
		off := plus(q, n, rise)
		in := plus(off, u, -rise)
		for _, way := range [][]geom.Edge{
			{{A: q, B: off}, {A: off, B: in}, {A: in, B: q, Bulge: bulge}},
			{{A: q, B: off}, {A: off, B: q}}, // in a relief there is no room for the arc
		} {
			h := hop{s, way}
			if h.clear(c, t.Diameter/2) && c.roughedAt(off, t, between) && c.roughedAt(way[len(way)-1].A, t, between) {
				return h, true
			}
		}
	}
	return hop{}, false
}

// onSeat tells whether the mill at q touches the inside of a seat.
func (c *contour) onSeat(q orb.Point, j *Job, rho float64) bool {
	w := c.levels.wallIndex.Nearest(q).At
	for _, k := range j.Keep {
		n := k.Nearest(w)
		if n.Dist < before/8 && distance(n.At, k.Start()) > before/8 && distance(n.At, k.End()) > before/8 {
			return true
		}
	}
	return false
}

// clear tells whether the hop keeps off the wall, and well off it where it turns:
// in a narrow groove the other side may be a seat too.
func (h *hop) clear(c *contour, rho float64) bool {
	rise := h.way[0].Length()
	for _, e := range h.way[1:] {
		if c.levels.wallIndex.Closer(e.A, rho+rise/2) {
			return false
		}
	}
	for _, e := range h.way {
		for k := 0; k <= 8; k++ {
			if c.levels.wallIndex.Closer(e.At(float64(k)/8), rho-1e-9) {
				return false
			}
		}
	}
	return true
}

// roughedAt tells whether the mill at q stands between the lanes, or, where there
// is no far lane, so near to a roughing track that it meets no more than the
// finishing pass may.
func (c *contour) roughedAt(q orb.Point, t *Tool, between bool) bool {
	if between {
		_, n := c.rough.nearestRoot(q)
		return n.Dist+c.levels.wideIndex.Nearest(q).Dist <= t.KerfExtra+0.05
	}
	for _, k := range c.rough.all {
		if k.near(q).Dist <= 2*engage {
			return true
		}
	}
	return false
}
