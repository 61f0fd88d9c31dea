package trace

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// This file answers how much of the outline the profile leaves out, and how much of the
// profile no outline shows.

// A doubt is what was taken for dirt, a chip or a sharp tip and need not be.
type doubt struct {
	apart float64 // mm, root mean square over the profile of what departs by more than noise
	shift float64 // mm by which x = 0 lies elsewhere if it is none
}

// doubts compares the profile with the outline as it was first found, both ways. A sharp
// tip that blur rounds off is no doubt, nor for where x = 0 lies a blunt one of which the
// half turn about the centre, if there is one, shows that it was sharp.
func (f *profile) doubts(centre *orb.Point) doubt {
	var out doubt
	a, b := f.path.Start(), f.path.End()
	limit := 4*math.Max(f.noise, f.pitch/20) + f.pitch/4
	g := math.Max(0.1, 2*f.blur)
	x := geom.NewIndex(f.path)
	for _, c := range f.cuts {
		sum := 0.0
		line := despike(c.pts)
		for i, p := range line {
			if i == 0 || p[1] < g && p[0] > a[0] || p[1] > c.thick-g && p[0] > b[0] {
				continue // on a face
			}
			d := x.Nearest(p).Dist
			if p[0] > a[0] {
				d = math.Min(d, math.Abs(p[1]))
			}
			if p[0] > b[0] {
				d = math.Min(d, math.Abs(c.thick-p[1]))
			}
			if d > limit {
				sum += d * d * math.Min(dist(line[i-1], p), 0.2)
			}
		}
		sum += f.faceEnds(c, x)
		back, far := f.notShown(line, limit, centre)
		out.apart = math.Max(out.apart, math.Sqrt((sum+back)/f.path.Length()))
		out.shift = math.Max(out.shift, far)
	}
	if far := f.standsOut(); far > limit {
		out.shift = math.Hypot(out.shift, far)
	}
	return out
}

// standsOut is how far in mm a piece so short that it may be dirt stands out of all the
// others: x = 0 would lie on it.
func (f *profile) standsOut() float64 {
	n := len(f.pieces)
	if f.path.Edges() != n {
		return 0
	}
	all, long := math.Inf(1), math.Inf(1)
	for i, p := range f.pieces {
		x := f.path.Edge(i).LeastX()[0]
		all = math.Min(all, x)
		if i == 0 || i == n-1 || p.span() > smallest {
			long = math.Min(long, x)
		}
	}
	if math.IsInf(long, 1) {
		return 0
	}
	return long - all
}

// notShown sums up, over the length of the profile, the squared distances of what lies
// farther than limit from every point of the line, and gives by how much what of it ends
// at a face stands out of the line.
func (f *profile) notShown(line []orb.Point, limit float64, centre *orb.Point) (sum, shift float64) {
	const step = 0.1
	n := f.path.Edges()
	for i := range n {
		e := f.path.Edge(i)
		m := max(1, int(e.Length()/step))
		for k := range m {
			p := e.At((float64(k) + 0.5) / float64(m))
			near := math.Inf(1)
			for _, q := range line {
				near = math.Min(near, dist(p, q))
			}
			near -= f.pitch // half of what lies between two points
			for side, last := range [2]int{0, n - 1} {
				if i == last && dist(p, f.tip(side)) < f.rounded(side) {
					near = 0
				}
			}
			if near > limit {
				sum += near * near * e.Length() / float64(m)
			}
		}
	}
	out := math.Inf(1)
	for _, q := range line {
		out = math.Min(out, q[0])
	}
	least := leastX(f.path)
	if d := out - least; d > limit+2*f.blur+2*f.pitch && f.tip(0)[0] > least+limit && f.tip(1)[0] > least+limit {
		shift = d // a corner that nobody sees
	}
	for side := range 2 {
		if tip := f.tip(side); tip[0] < least+limit {
			d := out - tip[0]
			hidden := limit
			if f.wedge(side) > shallow { // else blur hides so much that it might be anything
				hidden += f.rounded(side)
			}
			if d > hidden && !f.torn(side, d, line) && !f.turnedSeen(side, d, line, centre) {
				shift = math.Max(shift, d+limit)
			}
		}
	}
	for side := range 2 {
		if d := f.blunt(side, line, centre); d > limit {
			shift = math.Max(shift, d)
		}
	}
	return sum, shift
}

// blunt is by how much x = 0 would lie farther out if the profile's short last piece at a
// face, taken for a land or a flank, were the break of a chipped tip; 0 if it is none, or
// if the line shows it turned about the centre.
func (f *profile) blunt(side int, line []orb.Point, centre *orb.Point) float64 {
	n := len(f.pieces)
	if n < 2 || f.path.Edges() < 2 {
		return 0
	}
	last, next := f.pieces[0], f.pieces[1]
	if side == 1 {
		last, next = f.pieces[n-1], f.pieces[n-2]
	}
	tip := f.tip(side)
	if last.span() > 2*speck || next.span() < chipped {
		return 0
	}
	hit, ok := next.atHeight(tip[1], tip)
	if !ok || dist(hit, tip) > chipped {
		return 0
	}
	out := leastX(f.path) - hit[0]
	if out <= 0 || f.turnedSeen(side, last.span(), line, centre) {
		return 0
	}
	return out
}

// turnedSeen tells whether the line shows the profile's last d mm at a face turned about
// the centre.
func (f *profile) turnedSeen(side int, d float64, line []orb.Point, centre *orb.Point) bool {
	if centre == nil {
		return false
	}
	e := f.path.Edge(0)
	if side == 1 {
		e = f.path.Edge(f.path.Edges() - 1)
		e = geom.Edge{A: e.B, B: e.A, Bulge: -e.Bulge}
	}
	const steps = 20
	seen := 0
	for k := range steps {
		t := (float64(k) + 0.5) / steps * d / e.Length()
		if t > 1 {
			return false // farther than the edge is long
		}
		p := e.At(t)
		p = orb.Point{2*centre[0] - p[0], 2*centre[1] - p[1]}
		near := math.Inf(1)
		for _, q := range line {
			near = math.Min(near, dist(p, q))
		}
		if near < f.pitch+3*f.noise {
			seen++
		}
	}
	return seen >= steps*3/4
}

// tip is the profile's end at the lower face, or at the upper one.
func (f *profile) tip(side int) orb.Point {
	if side == 0 {
		return f.path.Start()
	}
	return f.path.End()
}

// rounded is how much of the profile's end at a face blur hides: where a wedge is thinner
// than 1.35 standard deviations, its middle is less than half as bright as wood.
func (f *profile) rounded(side int) float64 {
	return 1.5*0.67*f.blur/math.Tan(math.Max(f.wedge(side), 0.02)/2) + 2*f.pitch
}

// shallow is the angle in rad of the wedge of wood between face and cut below which a tip
// fades out instead of ending: 30°. Derived here.
const shallow = 0.52

// wedge is the angle in rad of the wood between a face and the profile's end there.
func (f *profile) wedge(side int) float64 {
	u := f.path.Edge(0).Direction(0)
	if side == 1 {
		u = f.path.Edge(f.path.Edges() - 1).Direction(1)
		u[0], u[1] = -u[0], -u[1]
	}
	return math.Acos(math.Max(-1, math.Min(1, u[0])))
}

// torn tells whether the line ends raggedly where the profile's last d mm are missing: a
// land would be square to the face. Nothing can be told of a shallow wedge.
func (f *profile) torn(side int, d float64, line []orb.Point) bool {
	const ragged = 0.08 // mm
	if f.wedge(side) < shallow {
		return false
	}
	tip := f.tip(side)
	n, lo, hi := 0, math.Inf(1), math.Inf(-1)
	for _, q := range line {
		if z := math.Abs(q[1] - tip[1]); z > 1.2*f.blur+0.5*f.pitch && z < 0.8*d && q[0] < tip[0]+2*d {
			n, lo, hi = n+1, math.Min(lo, q[0]), math.Max(hi, q[0])
		}
	}
	return n >= 3 && hi-lo > ragged+4*f.noise
}
