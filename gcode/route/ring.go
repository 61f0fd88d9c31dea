package route

import (
	"math"
	"sort"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// A ring is a closed path that is asked often.
type ring struct {
	upto   []float64 // mm from the start to each vertex
	length float64
	index  *geom.Index
	edges  geom.Path
}

func newRing(p geom.Path) *ring {
	r := &ring{edges: p, index: geom.NewIndex(p)}
	for i := range p.Edges() {
		r.upto = append(r.upto, r.length)
		r.length += p.Edge(i).Length()
	}
	return r
}

func newRings(ps []geom.Path) []*ring {
	var out []*ring
	for _, p := range ps {
		out = append(out, newRing(p))
	}
	return out
}

// at is the ring's point s mm along it, which may be less than 0 or more than its
// length, and the way it goes there.
func (r *ring) at(s float64) (q, u orb.Point) {
	s = wrap(s, r.length)
	i := sort.Search(len(r.upto), func(i int) bool { return r.upto[i] > s }) - 1
	e := r.edges.Edge(i)
	t := 0.0
	if l := e.Length(); l > 0 {
		t = math.Min(1, (s-r.upto[i])/l)
	}
	return e.At(t), e.Direction(t)
}

// passes is the place at which the ring runs through q, in mm along it; false if
// it is farther away than d.
func (r *ring) passes(q orb.Point, d float64) (float64, bool) {
	n := r.index.NearestWithin(q, d)
	if n.Dist > d {
		return 0, false
	}
	return r.upto[n.Edge] + n.T*r.edges.Edge(n.Edge).Length(), true
}

// between is the way along the ring from a to b, if both lie on it and the way is
// as long as wanted, or shorter by what a lane saves in a shallow inside corner.
func (r *ring) between(a, b orb.Point, want float64) (gap, bool) {
	s0, ok0 := r.passes(a, 1e-5)
	if !ok0 {
		return gap{}, false
	}
	s1, ok1 := r.passes(b, 1e-5)
	if !ok1 {
		return gap{}, false
	}
	s1 = ahead(s1, s0, r.length)
	return gap{s0, s1}, s1-s0 < want+1e-3 && s1-s0 > want-0.5
}
