package geom

import (
	"fmt"
	"math"
	"sync"

	"github.com/paulmach/orb"
)

// Offset returns the paths that run |d| mm beside p: to its left if d is
// positive, to its right if d is negative. They run in the sense of p. No path
// and no error means that no point on that side is far enough from p: the tool
// is too big for the pocket.
//
// One definition holds: the result is the boundary of the points on the given
// side whose distance from p is at least |d| - Tol/2. A point is on the side on
// which its nearest point of p sees it. Exact fits follow: where two walls stand
// 2|d| apart, less at most Tol, the tool passes and the result runs to and fro on
// the line between them, joined with the rest; a hole of radius |d| gives a
// closed path of one vertex, its centre.
//
//   - Outside corners give an arc about the corner. Corners flatter than a rise of
//     1e-8 mm give a vertex instead.
//   - A cusp of angle zero gives a half circle about its tip where the tip points
//     into the side, and nothing in the side between its edges. Where its edges
//     run back one on the other, the winding of a closed path tells which of the
//     two it is; on an open path both sides are beside such a spike.
//   - Edges of the result shorter than 2 Tol become one vertex.
//   - An open path has no end caps: the result ends square to its ends, or where
//     it comes nearer than |d| to any part of p, its right side and ends included.
//     It is open, but for rounds that close within a bay.
//   - What touches or crosses itself by less than Tol counts as touching: points
//     within Tol of each other are one, as everywhere in this package. So an exact
//     fit's to-and-fro lines can be offset back.
//   - A path that crosses itself gives what lies to the left of its nearest edge.
//     Where left and right of two strands meet the result ends: it is open there.
//   - A path of one vertex gives the circle about it, clockwise for positive d.
//
// Guarantee, for coordinates up to 10 m: every point of the result lies |d| from
// p give or take 2·[Tol], and no point of the set's boundary is farther than
// 10·Tol from the result.
//
//	(1) Offset(p, 0) is p, and so is a |d| up to 2·Tol
//	(2) Offset(p.Reverse(), -d) is Offset(p, d) reversed
//	(3) a closed convex counter-clockwise p of length L and area A has at -d the
//	    length L+2πd and the area A+Ld+πd² (Steiner)
//
// It fails on a path without vertices and on values that are no numbers.
func (p Path) Offset(d float64) ([]Path, error) {
	if err := p.offsettable(d); err != nil {
		return nil, err
	}
	if math.Abs(d) <= 2*Tol {
		return []Path{p.Clone()}, nil
	}
	o := offsetters.Get().(*offsetter)
	defer offsetters.Put(o)
	return o.paths([]Path{p}, d, d < 0, false), nil
}

// Offset grows the region by d mm, or shrinks it by -d if d is negative: the
// result is bounded by the points at distance |d| from the region's boundary,
// outside or inside it. Outers, holes and islands act on each other. The result
// is a region again, outers counter-clockwise and holes clockwise.
//
// Exact fits stay in, as in [Path.Offset]: a gap of width 2d in a growing region
// leaves a to-and-fro line in its middle, a hole of radius d a hole of one
// vertex, and shrinking by d brings gap and hole back. A part of a region that
// has no width grows to a slot or disc where it lies outside all other parts,
// and shrinking widens it where it lies inside.
//
// The guarantee is that of [Path.Offset].
func (r Region) Offset(d float64) (Region, error) {
	for i, p := range r {
		if err := p.offsettable(d); err != nil {
			return nil, fmt.Errorf("%w (path %d)", err, i)
		}
		if !p.Closed {
			return nil, fmt.Errorf("geom: path %d of the region is open; want it closed", i)
		}
	}
	if math.Abs(d) <= 2*Tol {
		out := make(Region, len(r))
		for i, p := range r {
			out[i] = p.Clone()
		}
		return out, nil
	}
	if len(r) == 0 {
		return nil, nil
	}
	o := offsetters.Get().(*offsetter)
	defer offsetters.Put(o)
	return o.paths(r, d, d > 0, true), nil
}

func (p Path) offsettable(d float64) error {
	if !finite(d) {
		return fmt.Errorf("geom: offset by %g; want a length in mm", d)
	}
	if len(p.V) == 0 {
		return fmt.Errorf("geom: offset of a path without vertices; want at least one")
	}
	for i := range p.V {
		v := &p.V[i]
		if s := v.Point[0]*0 + v.Point[1]*0 + v.Bulge*0; s != 0 { // NaN if any is no number
			return fmt.Errorf("geom: vertex %d (%g, %g, bulge %g) is no place", i, v.X(), v.Y(), v.Bulge)
		}
	}
	return nil
}

// An offsetter does the work and keeps its memory for the next one. The steps
// are in one file each:
//
//	sources  the edges about their own middle and their tree
//	touch    what touches what; what almost does is made to
//	raws     what each edge and outside corner alone would give
//	events   where raw curves meet
//	groups   the raw curves cut there, each piece held against the distance
//	curtail  pieces that stand for a part of their length only
//	stitch   the pieces that stand, from node to node
//	seat     the working distance |d| - Tol/2 brought to |d|
//
// All decisions are taken at the working distance, where an exact fit is none:
// the curves of a slot of the tool's width lie Tol apart there, and those of a
// slot that is too narrow have changed sides.
type offsetter struct {
	want float64 // |d|
	d    float64 // working distance
	mid  orb.Point

	src     []span // the edges, those of p first, then what only cuts
	own     int    // number of p's edges
	tree    boxTree
	chains  []chain
	closed  bool // all paths are closed
	general bool // they may touch or cross: see lay

	edge   []edgeRaw
	corner []corner
	raw    []raw
	node   []node
	rounds []int // first raw curve of each chain, and the end

	run     []int32 // see runs
	rawTree boxTree
	event   []event
	root    []int32 // nodes that are one point
	cut     []bool  // root nodes where raw curves are cut
	slice   []slice
	group   []group
	head    []int32 // first group from a node
	walked  []slice
	trail   []trail
	verts   []Vertex
}

var offsetters = sync.Pool{New: func() any { return new(offsetter) }}

// paths offsets all paths at once, to the left or to the right. A region's paths
// are closed and do not cross.
func (o *offsetter) paths(ps []Path, d float64, right, region bool) []Path {
	o.want = math.Abs(d)
	o.d = o.want - Tol/2
	o.sources(ps, right)
	o.general = o.touching() || !o.closed
	o.lay()
	o.meetings()
	o.split()
	if o.general {
		o.curtail()
	}
	out, ends := o.stitch()
	if ends && !o.general {
		o.general = true
		o.lay()
		o.meetings()
		o.split()
		o.curtail()
		out, _ = o.stitch()
	}
	if o.general && o.closed {
		out = o.onSide(out, right, region)
	}
	res := make([]Path, 0, len(out))
	points := false
	for i := range out {
		p := o.seat(out[i], right)
		if len(p.V) == 1 {
			if o.near(p.V[0].Point) {
				continue // a round of what is left where edges run together within Tol
			}
			points = true
		}
		res = append(res, p)
	}
	if points && len(res) > 1 {
		res = lonely(res)
	}
	return res
}

// near tells whether q, which stands for a path of the result, lies nearer to the
// edges than the guarantee allows.
func (o *offsetter) near(q orb.Point) bool {
	return closer(&o.tree, o.src[:o.own], orb.Point{q[0] - o.mid[0], q[1] - o.mid[1]}, o.want-2*Tol)
}

// lonely drops the points within 2 Tol of another path: rounding decides whether
// such a point is a path of its own or a part of the other.
func lonely(ps []Path) []Path {
	var rest, points []Path
	for _, p := range ps {
		if len(p.V) > 1 {
			rest = append(rest, p)
		} else {
			points = append(points, p)
		}
	}
	x := NewIndex(rest...)
	for i, p := range points {
		near := x.Closer(p.V[0].Point, 2*Tol)
		for _, q := range points[:i] {
			near = near || dist2(p.V[0].Point, q.V[0].Point) < 4*Tol*Tol
		}
		if !near {
			rest = append(rest, p)
		}
	}
	return rest
}
