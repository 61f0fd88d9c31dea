package trace

import (
	"fmt"
	"math"
	"math/rand/v2"

	"github.com/paulmach/orb"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
)

// This file answers how sure the profile and its centre are.

// draws is how often the pieces are drawn anew from their uncertainty. The generator
// starts the same every time, so that the same scan gives the same figures.
const draws = 32

// another is how far off in mm a centre is another one: fingers and lands of one pitch
// are symmetric about many places, and a draw may prefer the next. Which of them it is
// is no matter of a scan's noise.
const another = 0.8

// bias is the standard deviation in mm of what shifts all edges alike, outward or
// inward: where between dark and bright the edge lies depends on the scanner's light,
// by a small part of the blur and of a pixel. Derived here from drawn scans.
func bias(pitch, blur float64) float64 { return 0.08*pitch + 0.06*blur }

// centred are the joints whose cutter has a centre of symmetry that setting it needs.
var centred = map[string]bool{"lock-miter": true, "drawer-lock": true, "edge-glue": true}

// judge fills in profile, centre and how sure they are.
func (r *Result) judge(f *profile, jointName string) *Refusal {
	doubt := f.doubts(nil)
	lo := leastX(f.path)
	r.Profile = f.path.Move(geom.Shift(-lo, 0))
	down := f.cuts[0].b.down
	if f.cuts[0].flip {
		down = f.cuts[0].b.up
	}
	depth := meanDepth(f)
	many := math.Sqrt(float64(len(f.cuts)))
	sb := math.Hypot(bias(f.pitch, f.blur), f.cuts[0].b.doubt)
	worst := 0.0
	for _, p := range f.pieces {
		worst = math.Max(worst, p.endSD(f))
	}
	// The frame is in it too: the face, and x = 0 at the outermost point; and so is what
	// was taken for dirt or a chip, which it need not be.
	frame := math.Hypot(down.offSD, down.dirSD*depth) / many
	r.Sure.Profile = math.Hypot(2*math.Sqrt(worst*worst+2*sb*sb+frame*frame), doubt.apart)
	has := centred[jointName]
	plain, byPlain := f.plain(), false
	if has {
		c, ok := centreOf(r.Profile, jointName, r.Sure.Profile)
		if alt, okAlt := f.plainCentre(plain, f.thick, lo, jointName, r.Sure.Profile); okAlt && (!ok || dist(c, alt) > another && f.overlap(alt) > f.overlap(c)) {
			c, ok, byPlain = alt, true, true
			r.Notes = append(r.Notes, "short pieces at corners hide the centre: it is that of the longer ones")
		}
		if !ok {
			return refuse(NoCentre, "the cut of a cutter with a centre of symmetry, or another --joint", "the profile has no centre of symmetry, which a %s needs", jointName)
		}
		r.Centre = &c
		doubt = f.doubts(&orb.Point{c[0] + lo, c[1]})
	}
	fit := r.Sure.Profile
	r.Sure.Profile = math.Hypot(fit, doubt.shift)
	for _, c := range r.cuts {
		c.shift(lo)
	}
	rnd := rand.New(rand.NewPCG(1, 2))
	base := f.vertexList()
	spread := make([]float64, len(base)) // sums of squares
	var off []float64                    // of the centres drawn
	n := 0
	for range draws {
		b := sb * rnd.NormFloat64()
		dz, turn := down.offSD*rnd.NormFloat64()/many, down.dirSD*rnd.NormFloat64()/many
		ps := make([]*piece, len(f.pieces))
		for i, p := range f.pieces {
			ps[i] = p.drawn(rnd, f, b, dz, turn, depth)
		}
		thick := f.thick + 2*b
		vs, _, why := vertices(ps, thick)
		if why != nil {
			continue
		}
		path, _, why := pathOf(ps, vs, f.noise+f.pitch, true)
		if why != nil {
			continue
		}
		least := leastX(path)
		path = path.Move(geom.Shift(-least, 0))
		n++
		shift := vs[0][0] - path.V[0].X()
		for i := range vs {
			if i < len(base) {
				d := math.Hypot(vs[i][0]-shift-base[i][0], vs[i][1]-base[i][1])
				spread[i] += d * d
			}
		}
		if has {
			c, ok := centreOf(path, jointName, fit)
			if byPlain {
				q := *f
				q.pieces = ps
				c, ok = q.plainCentre(plain, thick, least, jointName, fit)
			}
			if ok {
				if d := dist(c, *r.Centre); d < another {
					off = append(off, d)
				}
			}
		}
	}
	if n < draws/2 || has && len(off) < draws/8 {
		return refuse(Unclear, "a sharper, cleaner scan: brush the cut, wipe the glass, scan at 1200 pixels an inch", "the outline is too uncertain to state a profile")
	}
	if has && len(off) < 3*n/4 {
		r.Notes = append(r.Notes, "the profile is nearly symmetric about another place too: hold the centre against the cutter")
	}
	if has {
		r.noteOthers(fit)
	}
	if doubt.shift > 0 {
		r.Notes = append(r.Notes, fmt.Sprintf("what stands out farthest may be dirt, or a tip that is chipped or cut blunt: where x = 0 lies is sure to %.2f mm only, the shape is not touched", doubt.shift))
	}
	for i, v := range base {
		r.Corners = append(r.Corners, Corner{v, math.Hypot(2.45*math.Sqrt(spread[i]/float64(n)/2), doubt.shift)})
	}
	// 95 % of a plane normal distribution lie within 2.45 of its standard deviations.
	if has {
		// Half lie within 1.18.
		r.Sure.Centre = 2.45 * math.Max(median(off)/1.18, quantile(off, 0.75)/1.67)
		r.Sure.Centre = math.Hypot(r.Sure.Centre, doubt.shift)
	}
	r.Sure.Board = 2 * math.Hypot(2*sb, math.Hypot(f.cuts[0].b.down.offSD, f.cuts[0].b.up.offSD)/many)
	return nil
}

// noteOthers says where else a half turn lays the profile, whose shape is sure to so
// much, on itself, and why that is not the centre.
func (r *Result) noteOthers(sure float64) {
	const (
		least = 0.1 // of the height: it is not used, only told
		most  = 0.2 // mm: what is farther off is no fit, however unsure the profile is
	)
	cs, err := geom.Centres(r.Profile, math.Min(2*sure, most), another, least)
	if err != nil {
		return
	}
	n, near := 0, math.Inf(1)
	for _, c := range cs {
		if d := dist(c, *r.Centre); d > another {
			n, near = n+1, math.Min(near, d)
		}
	}
	if n > 0 {
		r.Notes = append(r.Notes, fmt.Sprintf("the profile fits itself about %d other %s too, the nearest %.2f mm away; the centre is the one nearest the middle of the board",
			n, plural(n, "place", "places"), near))
	}
}

// plain tells which pieces are more than a corner's: longer than a chip, or at a face.
func (f *profile) plain() []bool {
	out := make([]bool, len(f.pieces))
	for i, p := range f.pieces {
		out[i] = i == 0 || i == len(f.pieces)-1 || p.span() > smallest/2
	}
	return out
}

// plainCentre is the centre of the path that the pieces of keep make by themselves, in
// the frame that begins at x.
func (f *profile) plainCentre(keep []bool, thick, x float64, jointName string, sure float64) (orb.Point, bool) {
	var ps []*piece
	for i, p := range f.pieces {
		if keep[i] {
			q := *p // its ends are others
			ps = append(ps, &q)
		}
	}
	vs, _, why := vertices(ps, thick)
	if why != nil || len(ps) == len(f.pieces) {
		return orb.Point{}, false
	}
	path, _, why := pathOf(ps, vs, f.noise+f.pitch, true)
	if why != nil {
		return orb.Point{}, false
	}
	return centreOf(path.Move(geom.Shift(-x, 0)), jointName, sure)
}

// overlap is how far in mm the profile reaches on both sides of a centre.
func (f *profile) overlap(c orb.Point) float64 { return math.Min(c[1], f.thick-c[1]) }

// vertexList are the ends of the pieces with x = 0 at the profile's outermost point.
func (f *profile) vertexList() []orb.Point {
	lo := leastX(f.path)
	var out []orb.Point
	for _, p := range f.pieces {
		out = append(out, orb.Point{p.a[0] - lo, p.a[1]})
	}
	last := f.pieces[len(f.pieces)-1].b
	return append(out, orb.Point{last[0] - lo, last[1]})
}

// meanDepth is how far from the cut the middle of the face lies that levels the board.
func meanDepth(f *profile) float64 {
	c := f.cuts[0]
	return math.Abs(c.into(c.b.down.at)[0])
}

// drawn is the piece with its parameters drawn from their uncertainty, moved outward by
// b, and seen from a face that lies wrong.
func (p *piece) drawn(rnd *rand.Rand, f *profile, b, dz, turn, depth float64) *piece {
	q := *p
	q.nudge(p.draw(rnd, f))
	// outward is to the left; the lower face moves down by b, so heights grow
	up := b + dz + turn*depth
	rot := geom.Turn(turn, orb.Point{}).Then(geom.Shift(0, up))
	if q.round {
		q.radius -= q.turn * b
		q.centre = rot.Point(q.centre)
		return &q
	}
	q.at = rot.Point(along(q.at, q.left(q.at), b))
	s, c := math.Sincos(turn)
	q.dir = orb.Point{c*q.dir[0] - s*q.dir[1], s*q.dir[0] + c*q.dir[1]}
	return &q
}

// draw draws a change of the parameters.
func (p *piece) draw(rnd *rand.Rand, f *profile) []float64 {
	n := p.params()
	s := p.spread(f)
	// Cholesky's factor of the covariance
	l := make([]float64, n*n)
	for i := range n {
		for j := 0; j <= i; j++ {
			v := p.cov[i*n+j]
			for k := range j {
				v -= l[i*n+k] * l[j*n+k]
			}
			if i == j {
				l[i*n+i] = math.Sqrt(math.Max(v, 0))
			} else if l[j*n+j] > 0 {
				l[i*n+j] = v / l[j*n+j]
			}
		}
	}
	z := make([]float64, n)
	for i := range z {
		z[i] = rnd.NormFloat64()
	}
	out := make([]float64, n)
	for i := range n {
		for k := 0; k <= i; k++ {
			out[i] += s * l[i*n+k] * z[k]
		}
	}
	return out
}

// unseen is by how much errors that go together farther than a piece is long, and so
// cannot be told from its place, exceed what its points show. Derived here from drawn
// scans of rough cuts.
const unseen = 1.5

// spread is the standard deviation in mm by which a point counts that stands alone.
func (p *piece) spread(f *profile) float64 {
	return unseen * math.Max(p.sd, f.noise) * math.Sqrt(math.Max(p.tau, f.tau))
}

// endSD is the standard deviation in mm of the piece's place, square to it, at the
// worse of its ends.
func (p *piece) endSD(f *profile) float64 {
	n := p.params()
	worst := 0.0
	for _, at := range [2]orb.Point{p.a, p.b} {
		row := []float64{1, 0}
		if p.round {
			l := p.left(at)
			row = []float64{-p.turn, l[0], l[1]}
		} else {
			row[1] = dot(p.dir, sub(at, p.at))
		}
		v := 0.0
		for i := range n {
			for j := range n {
				v += row[i] * p.cov[i*n+j] * row[j]
			}
		}
		worst = math.Max(worst, v)
	}
	return p.spread(f) * math.Sqrt(worst)
}

func leastX(p geom.Path) float64 {
	least := math.Inf(1)
	for i := range p.Edges() {
		least = math.Min(least, p.Edge(i).LeastX()[0])
	}
	return least
}

// centreOf is the centre that a setting with the profile uses, which is sure to so much.
func centreOf(p geom.Path, jointName string, sure float64) (orb.Point, bool) {
	c := &cutter.Cutter{Handle: "traced", Joint: jointName, Units: "mm", Profile: p.Move(geom.Shift(1, 0)), Traced: &cutter.Traced{Profile: sure}}
	s, err := joint.Limits(c, 0)
	if err != nil {
		return orb.Point{}, false
	}
	return orb.Point{s.Centre[0] - 1, s.Centre[1]}, true
}
