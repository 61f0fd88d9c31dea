package proof

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// A loop is one closed path of the part's boundary: an outer wall, the wall of a
// hole, or a bore.
type loop struct {
	path     geom.Path
	from, to int // its curves in solid.all
	outer    bool
	bore     bool
	waste    bool // a bore outside every plate: nothing to gouge
	parent   int  // the smallest outer wall around it; -1: none
}

// A solid is the part as the mill meets it: its boundary as a field of curves.
type solid struct {
	loops  []loop
	region geom.Region // walls, and bores as holes
	all    []curve     // of all loops, in order
	owner  []int32     // loop of each curve
	field  *field      // what the mill must not cut into; its curves are all[:guarded]
}

// newSolid collects the boundary. It fails on a part that is none: open walls,
// walls turned the wrong way, bores that cross a wall.
func newSolid(p *Part) (*solid, error) {
	s := &solid{}
	for i, w := range p.Wall {
		if !w.Closed || w.Edges() < 2 || !whole(w) {
			return nil, fmt.Errorf("wall %d is no closed path; want one", i+1)
		}
		s.loops = append(s.loops, loop{path: w, outer: w.Area() > 0, parent: -1})
		s.region = append(s.region, w)
	}
	if n := len(s.loops); n > 0 {
		outers := 0
		for _, l := range s.loops {
			if l.outer {
				outers++
			}
		}
		if outers == 0 {
			return nil, fmt.Errorf("none of %d walls runs counter-clockwise, so nothing is left standing; want an outer wall", n)
		}
	}
	for i, d := range p.Drill {
		if !d.Closed || d.Edges() < 2 || !whole(d) {
			return nil, fmt.Errorf("bore %d is no closed path; want a circle", i+1)
		}
		if d.Area() > 0 {
			d = d.Reverse()
		}
		l := loop{path: d, bore: true, parent: -1}
		l.waste = p.Wall.Winding(d.Start()) <= 0
		s.loops = append(s.loops, l)
		if !l.waste {
			s.region = append(s.region, d)
		}
	}
	// Bores in the waste come last, so that the guarded curves lie together.
	order := make([]int, 0, len(s.loops))
	for _, waste := range []bool{false, true} {
		for i := range s.loops {
			if s.loops[i].waste == waste {
				order = append(order, i)
			}
		}
	}
	sorted := make([]loop, len(order))
	for k, i := range order {
		sorted[k] = s.loops[i]
	}
	s.loops = sorted
	guarded := 0
	for i := range s.loops {
		l := &s.loops[i]
		l.from = len(s.all)
		for k := range l.path.Edges() {
			s.all = curves(s.all, l.path.Edge(k))
		}
		l.to = len(s.all)
		for len(s.owner) < l.to {
			s.owner = append(s.owner, int32(i))
		}
		if !l.waste {
			guarded = l.to
		}
	}
	s.field = newField(s.all[:guarded])
	s.nest()
	for i := range s.loops {
		if l := &s.loops[i]; l.bore && s.crossed(i) {
			return nil, fmt.Errorf("the bore at %s crosses a wall; want it inside or outside", place(l.path.Start()))
		}
	}
	return s, nil
}

func whole(p geom.Path) bool {
	for _, v := range p.V {
		if bad(v.X()) || bad(v.Y()) || bad(v.Bulge) || math.Abs(v.Bulge) > 1 {
			return false
		}
	}
	return true
}

func bad(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }

// nest finds the smallest outer wall around each loop.
func (s *solid) nest() {
	for i := range s.loops {
		q := s.loops[i].path.Start()
		least := math.Inf(1)
		for k := range s.loops {
			o := &s.loops[k]
			if k == i || !o.outer {
				continue
			}
			if a := o.path.Area(); a < least && o.path.Winding(q) > 0 {
				least, s.loops[i].parent = a, k
			}
		}
	}
}

// crossed tells whether the loop meets another one.
func (s *solid) crossed(i int) bool {
	l := &s.loops[i]
	for k := l.from; k < l.to; k++ {
		for j := range s.field.c {
			if j >= l.from && j < l.to {
				continue
			}
			a, b := &s.all[k], &s.all[j]
			if apart2(&a.box, &b.box) == 0 && nearest(a, b) == 0 {
				return true
			}
		}
	}
	return false
}

func (s *solid) inside(q orb.Point) bool { return s.region.Winding(q) > 0 }
