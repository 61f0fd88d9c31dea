package route

import (
	"math"
	"slices"
	"sort"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// A track is a way the mill is fed along at every roughing step.
type track struct {
	run  geom.Path // open; a loop ends where it starts
	loop bool
	left float64 // mm it leaves on the wall
	kids []kid   // sorted by at

	index *geom.Index // of run, once it is asked
}

// near is the point of the track nearest to q.
func (t *track) near(q orb.Point) geom.Near {
	if t.index == nil {
		t.index = geom.NewIndex(t.run)
	}
	return t.index.Nearest(q)
}

// place is how far along the track a point of it lies, in mm.
func (t *track) place(n geom.Near) float64 {
	return t.run.LengthTo(geom.Place{Edge: n.Edge, T: n.T})
}

// A kid is a track that is left and entered level from a place on another one.
type kid struct {
	at float64 // mm along the parent's run
	t  *track
}

// A root is a track on which the mill is ramped down.
type root struct {
	track
	wide  []geom.Path // loops of the kerf's far lane, closed
	start float64     // mm along the run where the mill enters the sheet
	tabs  []rootTab   // where it is not cut below the tabs' top, in the loop's order
	done  bool        // it is in the program already
}

// A rootTab is one tab as the root's lanes meet it.
type rootTab struct {
	near gap // on the root's run
	far  gap // on the far lane
	wide int // which of root.wide; -1 without a far lane
}

// A gap is a stretch of a loop, from s0 to s1 mm along it; s1 is more than s0 and
// may exceed the loop's length.
type gap struct{ s0, s1 float64 }

// A rough is how one job is roughed.
type rough struct {
	roots []*root
	waste []*root  // ways that mill away what the roots would cut loose, from the inside outward
	all   []*track // every track: roots and what hangs on them

	sample float64 // mm between the places at which loops are compared
}

const (
	engage = 0.1  // mm more than the allowance that the finishing pass may meet
	linked = 2e-6 // mm: tracks this near to parallel may be changed along the normal
)

// tracks lays out the roughing of one job: lanes that leave the allowance, with
// the widened kerf beside them; where those do not fit, lanes that leave less, then
// nothing; and ways through waste that would come loose.
func (v *levels) tracks(t *Tool) *rough {
	// A track that leaves a loop of radius r by more than engage does so over
	// 2·√(2·r·engage) or more: 0.3 for the smallest mill.
	r := &rough{sample: math.Max(0.1, math.Min(t.Diameter/8, 0.5))}
	for i, g := range v.rungs {
		lanes := r.lanes(g.left)
		for _, l := range g.loops {
			if i == 0 {
				r.grow(l, g.left)
				continue
			}
			r.rest(l, g.left, lanes)
		}
	}
	for _, w := range v.wide {
		// A wide loop runs parallel to one root all along.
		if k, n := r.nearestRoot(w.V[0].Point); k != nil && n.Dist < t.KerfExtra+1e-3 {
			k.wide = append(k.wide, w)
		}
	}
	for _, ring := range v.waste {
		for _, p := range ring {
			r.clear(p)
		}
	}
	slices.Reverse(r.waste)
	for _, k := range r.all {
		sort.SliceStable(k.kids, func(a, b int) bool { return k.kids[a].at < k.kids[b].at })
	}
	return r
}

func (r *rough) grow(loop geom.Path, left float64) {
	k := &root{track: track{run: opened(loop), loop: true, left: left}}
	r.roots = append(r.roots, k)
	r.all = append(r.all, &k.track)
}

func (r *rough) nearestRoot(q orb.Point) (*root, geom.Near) {
	var best *root
	n := geom.Near{Dist: math.Inf(1)}
	for _, k := range r.roots {
		if m := k.near(q); m.Dist < n.Dist {
			best, n = k, m
		}
	}
	return best, n
}

// clear adds a way through waste: a root of its own, or hung on the track that it
// is nearest to where it is too short to ramp on.
func (r *rough) clear(p geom.Path) {
	if p.Length() >= shortLoop {
		k := &root{track: track{run: opened(p), loop: true, left: math.Inf(1)}}
		r.waste = append(r.waste, k)
		r.all = append(r.all, &k.track)
		return
	}
	var best *track
	var from int
	near := geom.Near{Dist: math.Inf(1)}
	for i := range p.V {
		for _, t := range r.all {
			if n := t.near(p.V[i].Point); n.Dist < near.Dist {
				best, near, from = t, n, i
			}
		}
	}
	if best != nil {
		r.hang(best, near, &track{run: opened(p.Rotate(from)), loop: true, left: math.Inf(1)})
	}
}

func (r *rough) hang(parent *track, n geom.Near, t *track) {
	parent.kids = append(parent.kids, kid{parent.place(n), t})
	r.all = append(r.all, t)
}

// A probe is one place on a loop and how much the finishing pass would meet
// there beyond the allowance.
type probe struct {
	s    float64 // mm along the loop
	over float64
	q    orb.Point
	lane *lane // whose run path is nearest, there the edge; nil: none is near
	path int
	edge int
}

// track is the index of the track that is nearest, and where on it.
func (p *probe) track() (int, geom.Near) {
	at, d, t := p.lane.runs[p.path].Edge(p.edge).Nearest(p.q)
	return p.lane.track[p.path], geom.Near{At: at, Dist: d, Path: p.path, Edge: p.edge, T: t}
}

// rest adds tracks for the stretches of the loop, which leaves less than the
// tracks before it, that those do not reach.
func (r *rough) rest(loop geom.Path, left float64, lanes []lane) {
	ps := r.probe(loop, lanes)
	first, bad := -1, false
	for i := range ps {
		if ps[i].over <= linked && first < 0 {
			first = i
		}
		bad = bad || ps[i].over > engage
	}
	if first < 0 {
		r.grow(loop, left)
		return
	}
	if !bad {
		return
	}
	n, total := len(ps), loop.Length()
	at := func(i int) (probe, float64) { // unrolled
		p := ps[i%n]
		return p, p.s + float64(i/n)*total
	}
	last := first // the latest place from which the loop can be entered
	for i := first; i < first+n; i++ {
		p, _ := at(i)
		if p.over <= linked {
			last = i
			continue
		}
		if p.over <= engage {
			continue
		}
		end := i
		for end < first+n {
			if q, _ := at(end); q.over <= linked {
				break
			}
			end++
		}
		in, s0 := at(last)
		if b, sb := at(max(last-1, 0)); last > 0 && b.over <= linked && s0-sb < 2*r.sample {
			in, s0 = b, sb // well within the parallel part
		}
		_, s1 := at(end)
		parent, near := in.track()
		r.hang(r.all[parent], near, &track{run: loop.Cut(s0, s1), left: left})
		i, last = end, end
	}
}

// A lane is all tracks so far that leave the same on the wall.
type lane struct {
	extra float64 // mm they leave more than the loop in question
	track []int   // of the index's paths, in rough.all
	runs  []geom.Path
	index *geom.Index // of the runs
}

// lanes are the tracks so far, against a loop that leaves the given rest.
func (r *rough) lanes(left float64) []lane {
	var out []lane
	var runs [][]geom.Path
	for i, k := range r.all {
		n := 0
		for n < len(out) && math.Abs(out[n].extra-(k.left-left)) > tiny {
			n++
		}
		if n == len(out) {
			out, runs = append(out, lane{extra: k.left - left}), append(runs, nil)
		}
		out[n].track = append(out[n].track, i)
		runs[n] = append(runs[n], k.run)
	}
	for n := range out {
		out[n].runs, out[n].index = runs[n], geom.NewIndex(runs[n]...)
	}
	return out
}

// probe walks the loop and measures how far each place is from the lanes.
func (r *rough) probe(loop geom.Path, lanes []lane) []probe {
	steps := func(length float64) int { return max(2, int(math.Ceil(length/r.sample))) }
	all := 0
	for i := range loop.Edges() {
		all += steps(loop.Edge(i).Length())
	}
	out := make([]probe, 0, all)
	last := probe{} // parallel to its edge, if it has a lane
	var edge geom.Edge
	s := 0.0
	for i := range loop.Edges() {
		e := loop.Edge(i)
		l := e.Length()
		n := steps(l)
		for k := range n {
			f := float64(k) / float64(n)
			p := probe{s: s + f*l, over: math.Inf(1), q: e.At(f)}
			if last.lane != nil {
				if d := edge.Dist(p.q); d-last.lane.extra <= linked {
					p.over, p.lane, p.path, p.edge = d-last.lane.extra, last.lane, last.path, last.edge
					out = append(out, p)
					continue
				}
			}
			for x := range lanes {
				x := &lanes[x]
				if m := x.index.NearestWithin(p.q, x.extra+2*engage); m.Dist-x.extra < p.over {
					p.over, p.lane, p.path, p.edge = m.Dist-x.extra, x, m.Path, m.Edge
				}
			}
			if last = p; p.over > linked {
				last.lane = nil
			} else {
				edge = p.lane.runs[p.path].Edge(p.edge)
			}
			out = append(out, p)
		}
		s += l
	}
	return out
}
