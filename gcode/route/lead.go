package route

import (
	"math"
	"sort"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// A lead is where the finishing pass of a contour begins and ends.
type lead struct {
	s       float64   // mm along the loop where the mill comes to the wall
	over    float64   // mm beyond s that are cut a second time
	down    orb.Point // where the mill goes down, in the roughed kerf
	in, out geom.Edge // arcs to and from the wall; of no length without a lead
}

const clearance = 0.5 // mm between a lead's stretch of wall and a seat, at least

// leadFor chooses the lead of a contour: from the middle of the widened kerf if
// there is one, else from a roughing lane, else on the finishing way itself where
// roughing went along it; by an arc if one fits; far from seats, on straight wall
// if possible.
func (c *contour) leadFor(j *Job, t *Tool) (lead, error) {
	rho := t.Diameter / 2
	a := j.Allowance
	c.seats = geom.NewIndex(j.apart()...)
	type place struct {
		s, free  float64
		straight bool
		long     float64
	}
	var places []place
	s := 0.0
	for i := range c.loop.Edges() {
		e := c.loop.Edge(i)
		l := e.Length()
		for _, f := range []float64{0.5, 0.3, 0.7, 0.1, 0.9} {
			free := 3 * t.Diameter
			if len(j.apart()) > 0 {
				free = math.Min(free, c.seats.Nearest(e.At(f)).Dist-rho)
			}
			if free > clearance {
				places = append(places, place{s + f*l, free, e.Straight(), l})
			}
		}
		s += l
	}
	sort.SliceStable(places, func(x, y int) bool {
		p, q := places[x], places[y]
		if p.straight != q.straight {
			return p.straight
		}
		if p.free != q.free {
			return p.free > q.free
		}
		return p.long > q.long
	})
	places = places[:min(len(places), 1000)]
	for _, from := range c.rough.starts(a, t) {
		for _, p := range places {
			for _, over := range []float64{math.Max(rho, t.Overtravel), rho, 0.5} {
				for _, r := range []float64{rho, 2 * from.rise, from.rise, 0} {
					if l, ok := c.tryLead(j, t, p.s, over, from, r); ok {
						return l, nil
					}
				}
			}
		}
	}
	q := c.loop.V[0].Point
	return lead{}, refuse("%s: the wall near X %s Y %s has no free place for the finishing pass to begin; %s away from every seat and tab are wanted",
		c.title, q[0], q[1], clearance)
}

// A beginning is where a lead may start: rise mm from the wall, either between the
// near lane and the far one, or on a lane itself.
type beginning struct {
	rise    float64
	between bool
}

// starts are the beginnings that the roughing allows, best first.
func (r *rough) starts(a float64, t *Tool) []beginning {
	var out []beginning
	if t.KerfExtra > 0 {
		out = append(out, beginning{a + t.KerfExtra/2, true})
	}
	for _, left := range allowances(a) {
		out = append(out, beginning{left, false})
	}
	return out
}

// tryLead builds the lead at s with arcs of radius r, or straight steps if r is 0,
// and checks it.
func (c *contour) tryLead(j *Job, t *Tool, s, over float64, from beginning, r float64) (lead, bool) {
	h := from.rise
	if h == 0 && r > 0 || r > 0 && h > r*1.0000001 {
		return lead{}, false
	}
	total := c.ring.length
	at := func(s float64) (q, u, n orb.Point) {
		q, u = c.ring.at(s)
		return q, u, outward(u, j.Climb)
	}
	run, bulge := 0.0, 0.0
	if r > 0 {
		phi := math.Acos(math.Max(0, 1-h/r))
		run, bulge = r*math.Sin(phi), math.Tan(phi/4)
		if !j.Climb {
			bulge = -bulge
		}
	}
	if over+2*run+0.5 > total || c.tabWithin(s-run-0.2, s+over+run+0.2) {
		return lead{}, false
	}
	if len(j.apart()) > 0 {
		n := int(math.Ceil((over+2*run)/0.5)) + 1
		for k := 0; k <= n; k++ {
			q, _, _ := at(s - run + (over+2*run)*float64(k)/float64(n))
			if c.seats.Closer(q, t.Diameter/2+clearance) {
				return lead{}, false
			}
		}
	}
	q, u, n := at(s)
	e, eu, en := at(s + over)
	l := lead{s: s, over: over, down: plus(plus(q, u, -run), n, h)}
	l.in = geom.Edge{A: l.down, B: q, Bulge: bulge}
	l.out = geom.Edge{A: e, B: plus(plus(e, eu, run), en, h), Bulge: bulge}
	for _, way := range []geom.Edge{l.in, l.out} {
		for k := 0; k <= 8; k++ {
			if c.levels.wallIndex.Closer(way.At(float64(k)/8), t.Diameter/2-1e-9) {
				return lead{}, false
			}
		}
	}
	if from.between {
		return l, c.inKerf(l.down, u, t) && c.inKerf(l.out.B, eu, t)
	}
	return l, c.rough.onTrack(l.down, h) && c.rough.onTrack(l.out.B, h)
}

// tabWithin tells whether a tab lies between two places of the loop.
func (c *contour) tabWithin(lo, hi float64) bool {
	total := c.ring.length
	for _, g := range c.tabs {
		if ahead(wrap(g.s0, total), lo, total) < hi || ahead(wrap(g.s1, total), lo, total) < hi ||
			ahead(wrap(lo, total), g.s0, total) < g.s1 {
			return true
		}
	}
	return false
}

// inKerf tells whether the mill, looking along u, stands wholly in the roughed
// kerf: between the two lanes, which run parallel around here.
func (c *contour) inKerf(q, u orb.Point, t *Tool) bool {
	for _, d := range []float64{0, -0.5, 0.5} {
		x := plus(q, u, d)
		_, n := c.rough.nearestRoot(x)
		if n.Dist+c.levels.wideIndex.Nearest(x).Dist > t.KerfExtra+0.02 {
			return false
		}
	}
	return true
}

// onTrack tells whether a roughing track that leaves h on the wall runs through q.
func (r *rough) onTrack(q orb.Point, h float64) bool {
	for _, k := range r.all {
		if math.Abs(k.left-h) < tiny && k.near(q).Dist < 1e-8 {
			return true
		}
	}
	return false
}
