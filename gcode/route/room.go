package route

import (
	"math"

	"blockwright/geom"
)

// peel is the share of the mill's diameter that a lane of [contour.widen] takes off
// the side of the kerf at full depth: a quarter begins to count as slotting.
// Common practice, no source.
const peel = 0.2

// widen cuts the roughed kerf wider beside the job's seats, to Room mm, so that a
// caliper's jaw goes in: lane after lane away from the wall, each as long as the
// seat, at full depth.
func (c *contour) widen(p *pen, j *Job, t *Tool, bottom float64) error {
	far := j.Allowance + t.KerfExtra // of the last lane's rim, beyond the mill at the wall
	for _, seat := range j.apart() {
		mid := seat.AtLength(seat.Length() / 2)
		if d := c.levels.wallIndex.Nearest(seat.Point(mid)).Dist; d > geom.Tol {
			return refuse("%s: the flat at X %s Y %s lies %s off the wall", c.title, seat.Point(mid)[0], seat.Point(mid)[1], d)
		}
		w := c.levels.wallIndex.Nearest(seat.Point(mid))
		e := c.levels.wall[w.Path].Edge(w.Edge)
		if !e.Straight() || seat.Edges() != 1 {
			return refuse("%s: the flat at X %s Y %s is not straight", c.title, seat.Point(mid)[0], seat.Point(mid)[1])
		}
		n := outward(e.Direction(0), j.Climb)
		rho := t.Diameter / 2
		from, to := seat.Start(), seat.End()
		d := rho + j.Allowance + t.KerfExtra/2
		p.note(c.title + ": room for a caliper's jaw")
		p.goTo(plus(from, n, d), bottom)
		steps := int(math.Ceil((j.Room - t.Diameter - far) / (peel * t.Diameter)))
		d = rho + far
		p.lineTo(plus(from, n, d))
		for k := 1; k <= steps; k++ {
			d = rho + far + (j.Room-t.Diameter-far)*float64(k)/float64(steps)
			p.lineTo(plus(from, n, d))
			p.lineTo(plus(to, n, d))
			from, to = to, from
		}
		p.lift()
	}
	return nil
}
