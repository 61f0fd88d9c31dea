package plate

import (
	"errors"
	"math"
	"sort"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/joint"
)

// MinSeat is the least length in mm of a seat after easing and relief; a shorter
// one would be crushed by the first touch. Common practice, no source.
const MinSeat = 2.0

// A pair is the two cut-line edges that set a cutter, travelled with the plate
// on their left.
type pair struct{ height, fence geom.Path }

// A contact is an edge of the cut line with the direction in which it faces.
type contact struct {
	edge  geom.Edge // downward, plate on the left
	face  orb.Point // unit normal at its middle, out of the plate
	proud bool      // convex at both ends: a land of the plate that enters a groove of the cutter
}

// candidates are the pairs of cut-line edges that can set height and fence, best
// first. The board end is travelled upward.
//
// A contact with normal n, measured from a reference whose normal is m, keeps of
// an error w of the milled offset the amount w(1 - n·m)/|n·m|: nothing where it
// faces the same way as its reference, the more the farther it turns away. The
// height is measured from the table edge, which faces down, the fence from the
// ear, which faces -x. So the height seat is the edge that faces most nearly
// down, the fence seat the one that faces most nearly to -x; of equally directed
// edges a proud land comes before the bottom of a groove, a longer edge before a
// shorter. Derived here.
//
// An edge turned more than 60° from its reference is no candidate, nor one turned
// 10° more than the best: a block with a worse seat than the cutter offers is not
// worth its sheet, a smaller mill is. A pair whose normals are less than 20° apart
// would fix only one direction.
func candidates(end, profile geom.Path) ([]pair, error) {
	down := end.Reverse()
	n := down.Edges()
	var all []contact
	for i := range n {
		e := down.Edge(i)
		if e.Length() < MinSeat || !onProfile(e, profile) && !overTop(e, profile) {
			continue
		}
		c := contact{edge: e, face: outward(e.Direction(0.5))}
		c.proud = i > 0 && i < n-1 &&
			turn(down.Edge(i-1).Direction(1), e.Direction(0)) > 0 &&
			turn(e.Direction(1), down.Edge(i+1).Direction(0)) > 0
		all = append(all, c)
	}
	heights := facing(all, orb.Point{0, -1})
	fences := facing(all, orb.Point{-1, 0})
	var out []pair
	for _, h := range heights {
		for _, f := range fences {
			if h.edge == f.edge || math.Abs(turn(h.face, f.face)) < 20*math.Pi/180 {
				continue
			}
			out = append(out, pair{height: pathOf(h.edge), fence: pathOf(f.edge)})
		}
	}
	switch {
	case len(heights) == 0:
		return nil, joint.Refuse("block: no edge of the cut line at least %s long faces down, so nothing could set the height; use a gauge", MinSeat)
	case len(fences) == 0:
		return nil, joint.Refuse("block: no edge of the cut line at least %s long faces the fence, so nothing could set the fence; use a gauge", MinSeat)
	case len(out) == 0:
		return nil, errors.New("block: the edges that could set height and fence face the same way, so they would fix only one of the two; use a gauge")
	}
	return out, nil
}

// onProfile tells whether an edge of the board's end lies on the cutter: where the
// cutter does not reach, the end is the board's own.
func onProfile(e geom.Edge, profile geom.Path) bool {
	for _, t := range [3]float64{0, 0.5, 1} {
		if profile.Nearest(e.At(t)).Dist > geom.Tol {
			return false
		}
	}
	return true
}

// overTop tells whether an edge of the board's end lies level on the cutter's top,
// which cuts with its outermost corner: the board's lip bears there.
func overTop(e geom.Edge, profile geom.Path) bool {
	top := profile.End()
	return e.Straight() && math.Abs(e.A[1]-top[1]) < geom.Tol && math.Abs(e.B[1]-top[1]) < geom.Tol &&
		math.Abs(math.Max(e.A[0], e.B[0])-top[0]) < geom.Tol
}

// splitBends splits the arcs of a board's end, travelled upward, where they may bear:
// the part that faces nearly down, and the part that faces nearly to -x, are edges of
// their own. A round-over or a cove has no other place to touch.
func splitBends(end geom.Path) geom.Path {
	var v []geom.Vertex
	for i := range end.Edges() {
		e := end.Edge(i)
		from := 0.0
		for _, t := range bearings(e) {
			a, b := e.Split((t - from) / (1 - from))
			v = append(v, geom.Vertex{Point: a.A, Bulge: a.Bulge})
			e, from = b, t
		}
		v = append(v, geom.Vertex{Point: e.A, Bulge: e.Bulge})
	}
	return geom.Path{V: append(v, geom.Vertex{Point: end.End()})}
}

// Of an arc the part within bearAngle of the reference's direction bears, of a small
// one as much more as a seat needs, up to bearMost. Derived here: the farther the
// part reaches, the more of the mill's error it keeps.
const (
	bearAngle = math.Pi / 6
	bearMost  = 44 * math.Pi / 180
	bearRoom  = MinSeat + 0.6 // length of a seat and of an eased end, mm
)

// bearings are the fractions of an arc's length, travelled with the plate on its
// right, at which a part that faces down or to -x begins or ends; none of a line.
func bearings(e geom.Edge) []float64 {
	if e.Straight() {
		return nil
	}
	_, r := e.Arc()
	a := math.Min(bearMost, math.Max(bearAngle, bearRoom/r))
	d := e.Direction(0)
	from := math.Atan2(d[0], -d[1]) // the outward normal, on the left
	sweep := 4 * math.Atan(e.Bulge)
	var ts []float64
	for _, dir := range [2]float64{-math.Pi / 2, math.Pi} {
		for _, end := range [2]float64{dir - a, dir + a} {
			for turn := -2.0; turn <= 2; turn++ {
				if t := (end + turn*2*math.Pi - from) / sweep; t > 1e-6 && t < 1-1e-6 {
					ts = append(ts, t)
				}
			}
		}
	}
	sort.Float64s(ts)
	return ts
}

// facing are the contacts turned at most 60° from the direction, best first.
func facing(all []contact, dir orb.Point) []contact {
	dot := func(c contact) float64 { return c.face[0]*dir[0] + c.face[1]*dir[1] }
	var out []contact
	for _, c := range all {
		if dot(c) >= 0.5-1e-12 {
			out = append(out, c)
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i], out[j]
		if d := dot(a) - dot(b); math.Abs(d) > 1e-9 {
			return d > 0
		}
		if a.proud != b.proud {
			return a.proud
		}
		return a.edge.Length() > b.edge.Length()+geom.Tol
	})
	angle := func(c contact) float64 { return math.Acos(math.Min(1, dot(c))) }
	for i, c := range out {
		if angle(c) > angle(out[0])+10*math.Pi/180 {
			return out[:i]
		}
	}
	return out
}
