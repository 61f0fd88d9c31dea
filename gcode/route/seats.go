package route

import (
	"math"
	"sort"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// A hop takes the mill off an outside corner just before a seat, so that the
// seat's line is passed by the overtravel and then approached from the waste:
// all seats with the same lost motion of the machine.
type hop struct {
	s0, s1 float64     // mm along the loop: where the mill leaves, where it is back
	way    []geom.Edge // out, round the corner, and in
}

const backAngle = 0.2 // share of the corner's arc after which the mill leaves

// approach plans the hops of the contour. It returns a point on each seat that is
// still approached from inside the plate.
func (c *contour) approach(j *Job, t *Tool) (missed []orb.Point) {
	if t.Overtravel <= 0 {
		return nil
	}
	rho := t.Diameter / 2
	rise := math.Min(t.Overtravel, j.Allowance+t.KerfExtra/2)
	for _, k := range j.Keep {
		s, n, ok := c.seatStart(k, j, rho)
		if !ok || c.comesInward(s, n) {
			continue
		}
		h, ok := c.hopBefore(s, n, rise, j, t)
		if !ok {
			missed = append(missed, k.Point(k.AtLength(k.Length()/2)))
			continue
		}
		c.hops = append(c.hops, h)
	}
	sort.SliceStable(c.hops, func(a, b int) bool { return c.hops[a].s0 < c.hops[b].s0 })
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
	w := geom.Nearest(c.levels.wall, k.Point(mid))
	v := c.levels.wall[w.Path].Edge(w.Edge).Direction(w.T)
	if u[0]*v[0]+u[1]*v[1] < 0 {
		k = k.Reverse()
	}
	e := k.Edge(0)
	n = outward(e.Direction(0), j.Climb)
	at := c.loop.Nearest(plus(e.A, n, rho))
	return c.loop.LengthTo(geom.Place{Edge: at.Edge, T: at.T}), n, at.Dist < 1e-3
}

// comesInward tells whether the last motion along n before s was towards the
// plate.
func (c *contour) comesInward(s float64, n orb.Point) bool {
	total := c.length
	q := c.loop.Point(c.loop.AtLength(wrap(s, total)))
	for d := 0.02; d < total; d += 0.02 {
		p := c.loop.Point(c.loop.AtLength(wrap(s-d, total)))
		if y := (p[0]-q[0])*n[0] + (p[1]-q[1])*n[1]; math.Abs(y) > 1e-3 {
			return y > 0
		}
	}
	return false
}

// hopBefore builds the hop at the outside corner whose arc ends at s or at the
// beginning of the straight way that leads to s.
func (c *contour) hopBefore(s float64, n orb.Point, rise float64, j *Job, t *Tool) (hop, bool) {
	rho := t.Diameter / 2
	at := c.loop.AtLength(wrap(s-1e-4, c.length))
	i := at.Edge
	for range c.loop.Edges() {
		if !c.loop.Edge(i).Straight() {
			break
		}
		i = (i + c.loop.Edges() - 1) % c.loop.Edges()
	}
	e := c.loop.Edge(i)
	if e.Straight() || (e.Bulge < 0) != j.Climb || rise <= 0 {
		return hop{}, false
	}
	corner, r := e.Arc()
	u := e.Direction(1)
	if math.Abs(r-rho) > 1e-6 || u[0]*n[0]+u[1]*n[1] > 1e-6 || u[0]*n[0]+u[1]*n[1] < -1e-6 {
		return hop{}, false
	}
	a, b := e.Split(backAngle)
	s1 := c.loop.LengthTo(geom.Place{Edge: i, T: 1})
	h := hop{s0: s1 - b.Length(), s1: s1}
	// The way in is an arc of radius q that touches the loop at e.B and starts on
	// the circle of radius rho + rise about the corner:
	// 1 − cos φ = ((rho + rise)² − rho²) / 2q(q + rho). With φ = 90° it is shortest.
	k := ((rho+rise)*(rho+rise) - rho*rho) / 2
	q := 2 * rise
	if k/(q*(q+rho)) > 1 {
		q = (math.Sqrt(rho*rho+4*k) - rho) / 2
	}
	phi := math.Acos(1 - k/(q*(q+rho)))
	in := plus(plus(e.B, u, -q*math.Sin(phi)), n, q*(1-math.Cos(phi)))
	bulge := math.Tan(phi / 4)
	if !j.Climb {
		bulge = -bulge
	}
	m := outward(a.Direction(1), j.Climb)
	off := plus(a.B, m, rise)
	turn := math.Atan2(in[1]-corner[1], in[0]-corner[0]) - math.Atan2(off[1]-corner[1], off[0]-corner[0])
	turn = math.Remainder(turn, 2*math.Pi)
	if (turn < 0) != j.Climb || math.Abs(turn) > math.Abs(b.Sweep()) {
		return hop{}, false // the corner is too flat to have room
	}
	h.way = []geom.Edge{{A: a.B, B: off}, {A: off, B: in, Bulge: math.Tan(turn / 4)}, {A: in, B: e.B, Bulge: bulge}}
	for _, x := range []orb.Point{off, h.way[1].At(0.5), in} {
		if _, n := c.rough.nearestRoot(x); n.Dist+geom.Nearest(c.levels.wide, x).Dist > t.KerfExtra+0.02 {
			return hop{}, false
		}
	}
	for _, x := range h.way {
		for k := 0; k <= 8; k++ {
			if geom.Nearest(c.levels.wall, x.At(float64(k)/8)).Dist < rho-1e-9 {
				return hop{}, false
			}
		}
	}
	return h, true
}
