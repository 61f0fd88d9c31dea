package plate

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// reliefSlack is how much larger in mm than the mill's a relief's radius is, so
// that the mill passes into it and is not wedged. Common practice, no source.
const reliefSlack = 0.05

// onSeat tells whether a seat ends at the point.
func onSeat(p Plate, at orb.Point) bool {
	for _, s := range p.Seats {
		for _, q := range [2]orb.Point{s.Path.Start(), s.Path.End()} {
			if near(q, at) {
				return true
			}
		}
	}
	return false
}

// relief is the ground to cut at an inside corner: the way of a disc from where
// both edges stop it to where it frees the corner. Beside a seat it runs along
// the seat and ends tangent to it just past the corner, so that the seat loses
// nothing. Where neither edge or both are seats it runs down the bisector, or
// along one of the edges where on the bisector it would cut into a seat; and
// beyond the corner by twice the clearance that the corner asks for, or just by
// that, as the seats allow. An arc that the mill cannot enter counts as a corner
// at its middle.
func relief(p Plate, c Corner, r float64) (geom.Path, bool) {
	r += reliefSlack
	best, most := geom.Path{}, math.Inf(-1)
	for _, deeper := range [2]float64{2 * c.Clear, c.Clear} {
		for _, w := range ways(p, c, r) {
			back := func(q orb.Point) orb.Point { return orb.Point{q[0] - deeper*w.n[0], q[1] - deeper*w.n[1]} }
			from, to := back(w.from), back(w.to)
			centres := geom.Path{V: []geom.Vertex{{Point: from}, {Point: to}}}
			room := math.Inf(1)
			for _, s := range p.Seats {
				seat := eased(p, s.Path)
				room = math.Min(room, math.Min(seat.Nearest(from).Dist, seat.Nearest(to).Dist)-r)
				room = math.Min(room, math.Min(centres.Nearest(seat.Start()).Dist, centres.Nearest(seat.End()).Dist)-r)
			}
			if room > most+geom.Tol {
				best, most = geom.Slot(from, to, 2*r), room
			}
			if room >= -geom.Tol {
				return best, true
			}
		}
	}
	return best, len(best.V) > 0
}

// A way is that of a relieving disc's centre; n points from the material into the
// waste, against the depth.
type way struct{ from, to, n orb.Point }

// past is the way carried on beyond the corner, against u which points from the
// corner along the seat, so that an error of the milled offset does not bring the
// cutter's corner against the relief before the seat.
func (w way) past(u orb.Point) way {
	w.to = orb.Point{w.to[0] - pastCorner*u[0], w.to[1] - pastCorner*u[1]}
	return w
}

// pastCorner is half the usual clearance in mm.
const pastCorner = 0.2

// ways are those that free the corner for a disc of radius r, best first.
func ways(p Plate, c Corner, r float64) []way {
	for _, outline := range p.Outline {
		for i, v := range outline.V {
			if !near(v.Point, c.At) {
				continue
			}
			corner, ok := outline.Corner(i)
			if !ok {
				return nil
			}
			return cornerWays(p, corner, outline, i, r)
		}
	}
	for _, outline := range p.Outline {
		if q := outline.Nearest(c.At); q.Dist < geom.Tol {
			n := outward(outline.Edge(q.Edge).Direction(q.T))
			at := orb.Point{c.At[0] + r*n[0], c.At[1] + r*n[1]}
			return []way{{at, at, n}}
		}
	}
	return nil
}

func cornerWays(p Plate, c geom.Corner, outline geom.Path, i int, r float64) []way {
	mid := func(disc geom.Path) orb.Point {
		a, b := disc.V[0].Point, disc.V[1].Point // a circle of two halves
		return orb.Point{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
	}
	toward := func(to orb.Point) orb.Point {
		return orb.Point{(to[0] - c.At[0]) / r, (to[1] - c.At[1]) / r}
	}
	bisector, in, out := mid(c.Bisector(r)), mid(c.Along(r, false)), mid(c.Along(r, true))
	b := toward(bisector)
	k := r / math.Sin(c.Angle/2)
	fillet := orb.Point{c.At[0] + k*b[0], c.At[1] + k*b[1]}
	n := len(outline.V)
	seatIn, seatOut := isSeat(p, tail(outline.Edge((i+n-1)%n))), isSeat(p, head(outline.Edge(i)))
	alongIn, alongOut := way{fillet, in, toward(in)}, way{fillet, out, toward(out)}
	switch {
	case seatIn && !seatOut:
		return []way{alongIn.past(c.U)}
	case seatOut && !seatIn:
		return []way{alongOut.past(c.V)}
	}
	return []way{{fillet, bisector, b}, alongIn, alongOut}
}

// eased is the seat less what is cut off at its eased ends.
func eased(p Plate, seat geom.Path) geom.Path {
	l := seat.Length()
	from, to := 0.0, l
	for _, e := range p.Ease {
		if near(e.At, seat.Start()) {
			from = math.Min(e.Leg, 0.45*l)
		}
		if near(e.At, seat.End()) {
			to = l - math.Min(e.Leg, 0.45*l)
		}
	}
	return seat.Cut(from, to)
}

func isSeat(p Plate, e geom.Edge) bool {
	for _, s := range p.Seats {
		if s.Path.Nearest(e.At(0.5)).Dist < geom.Tol {
			return true
		}
	}
	return false
}
