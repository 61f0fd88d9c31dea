package geom

import (
	"container/heap"
	"math"

	"github.com/paulmach/orb"
)

// Farthest is the point of seat that lies farthest from the paths: at is a point
// of seat, d its distance in mm to the nearest point of from, and no point of seat
// is farther from them than d + tol. A tol below 1e-9 counts as 1e-9. Without a
// path in from the distance is infinite; without a vertex in seat it is 0.
//
// Branch and bound. On a piece of seat the distance to all paths is at most the
// distance to any one edge f of them, and that has its maximum over the piece in
// closed form (farthestFrom). The bound is therefore exact where one edge is
// nearest all along, however long the piece: a path that runs beside another at a
// constant distance needs no subdivision. Where two edges compete, the piece is
// split where they are equally near.
func Farthest(seat Path, from []Path, tol float64) (d float64, at orb.Point) {
	if len(seat.V) == 0 {
		return 0, at
	}
	return newSearch(from, tol).farthest(seat)
}

// FarthestOf is [Farthest] over several seats, for the price of one search of the
// paths: the farthest point of all seats, -1 where no seat has a vertex.
func FarthestOf(seats, from []Path, tol float64) (d float64, at orb.Point) {
	s := newSearch(from, tol)
	for _, p := range seats {
		if len(p.V) > 0 {
			s.farthest(p)
		}
	}
	return s.best, s.at
}

func (s *search) farthest(seat Path) (d float64, at orb.Point) {
	if len(s.to) == 0 {
		s.found(seat.V[0].Point, math.Inf(1))
		return s.best, s.at
	}
	if seat.Edges() == 0 {
		_, d := s.nearest(seat.V[0].Point)
		s.found(seat.V[0].Point, d)
		return s.best, s.at
	}
	for _, v := range seat.V {
		s.reach(v.Point)
	}
	for i := range seat.Edges() {
		s.start(seat.Edge(i))
	}
	for len(s.open) > 0 && s.open[0].bound > s.enough() {
		p := heap.Pop(&s.open).(stretch)
		a, b := p.e.Split(s.splitAt(p))
		s.push(a, p.to)
		s.push(b, p.to)
	}
	return s.best, s.at
}

// Hausdorff is the greatest distance in mm from a point of either set of paths to
// the other set, too small by at most tol. It is infinite if one set is empty and
// the other is not.
func Hausdorff(a, b []Path, tol float64) (d float64, at orb.Point) {
	for _, way := range [2][2][]Path{{a, b}, {b, a}} {
		if one, q := FarthestOf(way[0], way[1], tol); one > d {
			d, at = one, q
		}
	}
	return d, at
}

// A search keeps the farthest point known and the stretches that may hold a
// farther one.
type search struct {
	to   []span
	tree boxTree
	open queue
	best float64
	at   orb.Point
	tol  float64
	size float64 // the greatest coordinate
}

func newSearch(from []Path, tol float64) *search {
	n := 0
	for _, p := range from {
		n += len(p.V)
	}
	s := &search{best: -1, tol: math.Max(tol, join), to: make([]span, 0, n)}
	for _, p := range from {
		for i := range p.Edges() {
			s.to = append(s.to, p.Edge(i).span())
		}
		if len(p.V) == 1 {
			s.to = append(s.to, newSpan(p.V[0].Point, p.V[0].Point, 0))
		}
	}
	for i := range s.to {
		s.reach(s.to[i].a)
		s.reach(s.to[i].b)
	}
	plant(&s.tree, s.to)
	return s
}

func (s *search) nearest(q orb.Point) (int32, float64) {
	k, d := int32(-1), math.Inf(1)
	s.tree.search(q[0], q[1], d, func(i int) float64 {
		if l := s.to[i].dist(q); l < d {
			k, d = int32(i), l
		}
		return d * d
	})
	return k, d
}

// enough is the bound below which a stretch need not be looked at: tol more than
// what is known, or what digits can tell, far beyond the range that is promised.
func (s *search) enough() float64 { return s.best + math.Max(s.tol, 1e-14*s.size) }

// reach takes note of how large the coordinates are.
func (s *search) reach(q orb.Point) {
	s.size = math.Max(s.size, math.Max(math.Abs(q[0]), math.Abs(q[1])))
}

func (s *search) found(q orb.Point, d float64) {
	if d > s.best {
		s.best, s.at = d, q
	}
}

// A stretch is a piece of the seat, the targets that can be nearest on it, and an
// upper bound of the distance to them.
type stretch struct {
	e     Edge
	to    []int32
	bound float64
	top   float64 // fraction of the length at which the bound's target is farthest
}

// start looks at a whole edge of the seat.
func (s *search) start(e Edge) {
	mid, h := e.At(0.5), e.Length()/2
	k, d := s.nearest(mid)
	s.found(mid, d)
	if k < 0 { // coordinates that are no numbers
		return
	}
	es := e.span()
	top, _ := es.farthestFrom(&s.to[k])
	if top = math.Min(top, d+h); top <= s.enough() {
		return
	}
	var to []int32
	within := (top + h) * (top + h)
	s.tree.search(mid[0], mid[1], within, func(i int) float64 {
		to = append(to, int32(i))
		return within
	})
	s.push(e, to)
}

// push bounds a piece and keeps it if it may hold a farther point.
func (s *search) push(e Edge, to []int32) {
	mid, h := e.At(0.5), e.Length()/2
	dm := math.Inf(1)
	ds := make([]float64, len(to))
	for i, k := range to {
		ds[i] = s.to[k].dist(mid)
		dm = math.Min(dm, ds[i])
	}
	s.found(mid, dm)
	es := e.span()
	bound, where := dm+h, orb.Point{}
	for i, k := range to {
		if ds[i] > bound { // at mid already farther than the bound
			continue
		}
		if b, q := es.farthestFrom(&s.to[k]); b < bound {
			bound, where = b, q
		}
		if bound <= s.enough() {
			return
		}
	}
	// A target nearest somewhere on the piece is at most bound + h from its middle.
	kept := make([]int32, 0, len(to))
	for i, k := range to {
		if ds[i] <= bound+h {
			kept = append(kept, k)
		}
	}
	p := stretch{e: e, to: kept, bound: bound, top: 0.5}
	if bound < dm+h {
		d := math.Inf(1)
		for _, k := range kept {
			d = math.Min(d, s.to[k].dist(where))
		}
		s.found(where, d)
		if bound <= s.enough() {
			return
		}
		_, _, p.top = e.Nearest(where)
	}
	heap.Push(&s.open, p)
}

// splitAt is where the targets nearest to the two ends are equally near; without
// such a point, where the bound is reached, or the middle.
func (s *search) splitAt(p stretch) float64 {
	near := func(q orb.Point) (k int32) {
		d := math.Inf(1)
		for _, i := range p.to {
			if l := s.to[i].dist(q); l < d {
				k, d = i, l
			}
		}
		return k
	}
	a, b := near(p.e.A), near(p.e.B)
	t := p.top
	if a != b {
		f := func(t float64) float64 {
			q := p.e.At(t)
			return s.to[a].dist(q) - s.to[b].dist(q)
		}
		// Regula falsi, the weight of an end that stays put halved (Illinois).
		t0, t1, f0, f1 := 0.0, 1.0, f(0), f(1)
		for range 30 {
			if f0 == f1 || (t1-t0)*p.e.Length() < join {
				break
			}
			t = t0 - f0*(t1-t0)/(f1-f0)
			ft := f(t)
			if ft == 0 {
				break
			}
			if ft < 0 {
				t0, f0, f1 = t, ft, f1/2
			} else {
				t1, f1, f0 = t, ft, f0/2
			}
			if math.Abs(ft) < s.tol/4 {
				break
			}
		}
	}
	if !(t > 1e-3 && t < 1-1e-3) {
		// A split so close to an end leaves the piece as long as it was.
		t = 0.5
	}
	return t
}

type queue []stretch

func (q queue) Len() int           { return len(q) }
func (q queue) Less(i, j int) bool { return q[i].bound > q[j].bound }
func (q queue) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)        { *q = append(*q, x.(stretch)) }
func (q *queue) Pop() any {
	o := *q
	x := o[len(o)-1]
	*q = o[:len(o)-1]
	return x
}
