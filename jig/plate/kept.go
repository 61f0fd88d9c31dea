package plate

import (
	"math"
	"sort"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/joint"
)

// check finds what is left of the seats, and whether the wall stands clear of
// what must enter the plate.
func (c *Cut) check() error {
	for _, s := range c.Seats {
		k := kept(s.Path, c.Wall)
		if k.Length() < MinSeat-geom.Tol {
			return &TooBig{Part: c.Part, Mill: c.Mill, Why: joint.Saying("it leaves %s of the seat \"%s\"; want at least %s", k.Length(), s.Name, MinSeat)}
		}
		c.Kept = append(c.Kept, k)
	}
	// Three quarters of the clearance must stand free, 0.3 of the usual 0.4: so
	// much is a cutter lowered while the fence is set against it.
	for _, clear := range c.Clear {
		l := clear.Path.Length()
		n := int(math.Ceil(l/0.2)) + 1
		for i := 0; i <= n; i++ {
			q := clear.Path.Point(clear.Path.AtLength(l * float64(i) / float64(n)))
			seat := geom.Nearest(c.Kept, q).Dist
			if want := math.Min(0.75*clear.By, seat/4); c.Wall.SignedDist(q) < want-geom.Tol {
				return &TooBig{Part: c.Part, Mill: c.Mill, Why: joint.Saying("what it leaves %s out of the fence and %s above the table would hold the cutter off", q[0], q[1])}
			}
		}
	}
	return nil
}

// same is the distance in mm under which an edge of the wall lies on a seat.
const same = geom.Tol / 10

// kept is the longest stretch of the seat that is also wall.
func kept(seat geom.Path, wall geom.Region) geom.Path {
	type span struct{ from, to float64 }
	var spans []span
	start := 0.0
	for i := range seat.Edges() {
		e := seat.Edge(i)
		l := e.Length()
		for _, w := range wall {
			for k := range w.Edges() {
				if t0, t1, ok := shared(e, w.Edge(k)); ok {
					spans = append(spans, span{start + t0*l, start + t1*l})
				}
			}
		}
		start += l
	}
	sort.Slice(spans, func(i, j int) bool { return spans[i].from < spans[j].from })
	var best, run span
	for i, s := range spans {
		if i == 0 || s.from > run.to+geom.Tol {
			run = s
		}
		run.to = math.Max(run.to, s.to)
		if run.to-run.from > best.to-best.from {
			best = run
		}
	}
	if best.to <= best.from {
		return geom.Path{}
	}
	return seat.Cut(best.from, best.to)
}

// shared is the stretch of e, as fractions of its length, on which f lies.
func shared(e, f geom.Edge) (t0, t1 float64, ok bool) {
	for _, q := range [3]orb.Point{f.A, f.At(0.5), f.B} {
		if offCarrier(e, q) > same {
			return 0, 0, false
		}
	}
	_, _, t0 = e.Nearest(f.A)
	_, _, t1 = e.Nearest(f.B)
	if t0 > t1 {
		t0, t1 = t1, t0
	}
	if (t1-t0)*e.Length() < same {
		return 0, 0, false
	}
	_, d, _ := f.Nearest(e.At((t0 + t1) / 2))
	return t0, t1, d <= same
}

// offCarrier is how far q lies from the whole line or circle that e is part of.
func offCarrier(e geom.Edge, q orb.Point) float64 {
	if !e.Straight() {
		c, r := e.Arc()
		return math.Abs(math.Hypot(q[0]-c[0], q[1]-c[1]) - r)
	}
	d := e.Direction(0)
	return math.Abs((q[0]-e.A[0])*d[1] - (q[1]-e.A[1])*d[0])
}
