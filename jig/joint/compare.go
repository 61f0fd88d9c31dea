package joint

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/cutter"
)

// A Difference is how one cutter's profile differs from another's. Lengths are mm.
type Difference struct {
	Heights [2]float64 // compared: those that both profiles have, of the first
	Shift   orb.Point  // by which the second was moved before it was compared; 0 along a known axis
	Apart   Distance   // as they stand
	Best    Distance   // with the second laid on the first as well as it goes
	Lay     orb.Point  // by which it was moved for that, Shift included

	Centres [2]orb.Point // of both profiles, the second's moved by Shift
	Centred bool         // both have a centre, so that Centres and Change mean something
	Change  orb.Point    // of the centre, from the first to the second; 0 along an axis that is not known
}

// A Distance is that between two lines, each point of one to the nearest of the
// other, both ways.
type Distance struct {
	Largest float64
	At      orb.Point // of the first profile's frame
	RMS     float64   // root of the mean square along both
}

// Compare lays the second cutter on the first, over the heights that both have. They
// stand in the cutter's frame, on one axis with their lowest ends level; where either
// radii or heights are not known, the second is laid as well as it goes that way, and
// so once more both ways, which tells a cutter ground smaller all over from one of
// another shape.
func Compare(a, b *cutter.Cutter) (*Difference, error) {
	known := [2]bool{a.Known[0] && b.Known[0], a.Known[1] && b.Known[1]}
	d := &Difference{}
	var err error
	if d.Shift, err = lay(a.Profile, b.Profile, [2]bool{!known[0], !known[1]}); err != nil {
		return nil, err
	}
	moved := b.Profile.Move(geom.Shift(d.Shift[0], d.Shift[1]))
	if d.Apart, d.Heights, err = between(a.Profile, moved); err != nil {
		return nil, err
	}
	if d.Lay, err = lay(a.Profile, b.Profile, [2]bool{true, true}); err != nil {
		return nil, err
	}
	if d.Best, _, err = between(a.Profile, b.Profile.Move(geom.Shift(d.Lay[0], d.Lay[1]))); err != nil {
		return nil, err
	}
	ca, _, _, errA := centreOf(a.Profile, a.Traced)
	cb, _, _, errB := centreOf(moved, b.Traced)
	if errA == nil && errB == nil {
		d.Centred, d.Centres = true, [2]orb.Point{ca, cb}
		for k := range 2 {
			if known[k] {
				d.Change[k] = cb[k] - ca[k]
			}
		}
	}
	return d, nil
}

// Meeting is what the second cutter does at the setting of the first: the second's
// own right setting, and how far the first's height and fence are from it.
func Meeting(first, second *Setting) (Effect, error) {
	if len(first.Passes) == 0 || len(second.Passes) == 0 || first.Joint != second.Joint {
		return Effect{}, fmt.Errorf("a %s and a %s are not set alike", Words(first.Joint), Words(second.Joint))
	}
	p, q := first.Passes[0], second.Passes[0]
	return second.With(p.Height-q.Height, q.Fence-p.Fence), nil
}

// between measures two rising profiles over the heights that both have.
func between(a, b geom.Path) (Distance, [2]float64, error) {
	la, ha := heights(a)
	lb, hb := heights(b)
	h := [2]float64{math.Max(la, lb), math.Min(ha, hb)}
	if h[1]-h[0] < geom.Tol {
		return Distance{}, h, fmt.Errorf("the profiles have no height in common: %.3f to %.3f and %.3f to %.3f mm", la, ha, lb, hb)
	}
	var d Distance
	sum, length := 0.0, 0.0
	for _, w := range [2][2]geom.Path{{a, b}, {b, a}} {
		part := w[0].Between(h[0], h[1])
		if v, at := geom.Farthest(part, []geom.Path{w[1]}, seam); v > d.Largest {
			d.Largest, d.At = v, at
		}
		index := geom.NewIndex(w[1])
		for i := range part.Edges() {
			e := part.Edge(i)
			l := e.Length()
			// Simpson's rule: exact where the other line is straight.
			n := 2 * max(4, int(math.Ceil(l/0.1)))
			s := 0.0
			for k := 0; k <= n; k++ {
				x := index.Nearest(e.At(float64(k) / float64(n))).Dist
				weight := 2.0
				if k%2 == 1 {
					weight = 4
				}
				if k == 0 || k == n {
					weight = 1
				}
				s += weight * x * x
			}
			sum += s / float64(3*n) * l
			length += l
		}
	}
	d.RMS = math.Sqrt(sum / length)
	return d, h, nil
}

// lay is the shift, along the free axes, that lays b on a with the least mean square
// of the distances: again and again from each point of a to the nearest of b along
// its normal, until the shift no longer changes. It starts with the middles on each
// other.
func lay(a, b geom.Path, free [2]bool) (orb.Point, error) {
	var shift orb.Point
	if free == [2]bool{} {
		return shift, nil
	}
	ba, bb := a.Bound(), b.Bound()
	starts := []orb.Point{{}}
	start := orb.Point{}
	for k := range 2 {
		if free[k] {
			start[k] = (ba.Min[k] + ba.Max[k] - bb.Min[k] - bb.Max[k]) / 2
		}
	}
	starts = append(starts, start)
	best, least := orb.Point{}, math.Inf(1)
	for _, s := range starts {
		s = settleOn(a, b, s, free)
		d, _, err := between(a, b.Move(geom.Shift(s[0], s[1])))
		if err == nil && d.RMS < least-1e-12 {
			best, least = s, d.RMS
		}
	}
	if math.IsInf(least, 1) {
		return shift, fmt.Errorf("the second profile cannot be laid on the first: they have no height in common")
	}
	return best, nil
}

func settleOn(a, b geom.Path, shift orb.Point, free [2]bool) orb.Point {
	index := geom.NewIndex(a)
	for range 60 {
		moved := b.Move(geom.Shift(shift[0], shift[1]))
		la, ha := heights(a)
		part := moved.Between(la, ha)
		if part.Edges() == 0 {
			return shift
		}
		var m [2][2]float64
		var v [2]float64
		total := part.Length()
		n := max(200, int(total/0.1))
		for k := range n {
			q := part.Point(part.AtLength(total * (float64(k) + 0.5) / float64(n)))
			near := index.Nearest(q)
			u := a.Edge(near.Edge).Direction(near.T)
			normal := orb.Point{u[1], -u[0]}
			miss := (near.At[0]-q[0])*normal[0] + (near.At[1]-q[1])*normal[1]
			for i := range 2 {
				for j := range 2 {
					m[i][j] += normal[i] * normal[j]
				}
				v[i] += normal[i] * miss
			}
		}
		var step orb.Point
		switch {
		case free[0] && free[1]:
			det := m[0][0]*m[1][1] - m[0][1]*m[1][0]
			if det < 1e-6*(m[0][0]+m[1][1])*(m[0][0]+m[1][1]) {
				return shift // one flank: it may slide
			}
			step = orb.Point{(v[0]*m[1][1] - v[1]*m[0][1]) / det, (v[1]*m[0][0] - v[0]*m[1][0]) / det}
		case free[0] && m[0][0] > 0:
			step[0] = v[0] / m[0][0]
		case free[1] && m[1][1] > 0:
			step[1] = v[1] / m[1][1]
		}
		shift = orb.Point{shift[0] + step[0], shift[1] + step[1]}
		if math.Hypot(step[0], step[1]) < 1e-10 {
			break
		}
	}
	return shift
}
