package route

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// levels are the closed ways at fixed distances from a wall, travelled with the
// wall on the finishing side.
type levels struct {
	wall  geom.Region   // travelled the same way
	exact []geom.Path   // at the mill's radius: the finishing pass
	rungs []rung        // what roughing leaves, most first, 0 last
	wide  []geom.Path   // the widened kerf's far lane
	waste [][]geom.Path // ways that mill away what would come loose inside a wall, from its edge inward

	wallIndex, exactIndex, wideIndex *geom.Index
}

type rung struct {
	left  float64 // mm left on the wall
	loops []geom.Path
}

// allowances are what roughing leaves on a wall where it can, and what it leaves
// where that does not fit: in mm, most first, down to nothing.
func allowances(a float64) []float64 {
	if a == 0 {
		return []float64{0}
	}
	return []float64{a, a / 2, a / 8, 0}
}

// offset is where this package takes every parallel region from. A variable, so that
// a test can put a faulty one in its place and see that no wrong program passes.
var offset = geom.Region.Offset

// stepOut is the closed paths at d mm outside the wall, where the mill's centre
// may run.
func stepOut(wall geom.Region, d float64, climb bool) ([]geom.Path, error) {
	r, err := offset(wall, d)
	if err != nil {
		return nil, err
	}
	return facing(r, climb), nil
}

// facing turns the boundaries of a region so that the region lies on the right
// for climb milling with a clockwise spindle, else on the left.
func facing(r geom.Region, climb bool) []geom.Path {
	out := make([]geom.Path, 0, len(r))
	for _, p := range r {
		if climb {
			p = p.Reverse()
		}
		out = append(out, p)
	}
	return out
}

// stepAll finds the levels of one job. It fails where the mill cannot reach the
// wall.
func stepAll(j *Job, title string, t *Tool) (*levels, error) {
	rho := t.Diameter / 2
	a, k := j.Allowance, t.KerfExtra
	v := &levels{wall: geom.Region(facing(j.Wall, j.Climb))}
	var first error
	at := func(d float64) []geom.Path {
		loops, err := stepOut(j.Wall, d, j.Climb)
		if err != nil && first == nil {
			first = fmt.Errorf("route: %s: %w", title, err)
		}
		return loops
	}
	v.exact = at(rho)
	for _, left := range allowances(a) {
		loops := v.exact
		if left > 0 {
			loops = at(rho + left)
		}
		v.rungs = append(v.rungs, rung{left, loops})
	}
	if k > 0 {
		v.wide = at(rho + a + k)
	}
	if t.Hold != Skin {
		for n := 2; ; n++ {
			ring := enclosed(at(float64(n)*rho+a+k), j.Climb)
			if len(ring) == 0 {
				break
			}
			if n > mostRings {
				q := ring[0].V[0].Point
				return nil, refuse("%s: what is cut out near X %s Y %s would come loose, and is too wide for a %s mill to mill away, %s at most: take a thicker one, or leave a skin",
					title, q[0], q[1], 2*rho, 2*mostRings*rho)
			}
			v.waste = append(v.waste, ring)
		}
	}
	if first != nil {
		return nil, first
	}
	v.wallIndex, v.exactIndex, v.wideIndex = geom.NewIndex(v.wall...), geom.NewIndex(v.exact...), geom.NewIndex(v.wide...)
	if err := v.reaches(title, rho); err != nil {
		return nil, err
	}
	// A lane too short to ramp on is no lane: the next rung, nearer to the wall,
	// is longer.
	for i := range v.rungs {
		v.rungs[i].loops = longer(v.rungs[i].loops, shortLoop)
	}
	return v, nil
}

// enclosed are the loops that bound waste with a wall all round it, and those of
// islands in it.
func enclosed(ps []geom.Path, climb bool) []geom.Path {
	var in []geom.Path
	for _, p := range ps {
		if inward(p, climb) {
			in = append(in, p)
		}
	}
	out := in
	for _, p := range ps {
		if inward(p, climb) {
			continue
		}
		for _, o := range in {
			if o.Winding(p.V[0].Point) != 0 {
				out = append(out, p)
				break
			}
		}
	}
	return out
}

func longer(ps []geom.Path, l float64) []geom.Path {
	var out []geom.Path
	for _, p := range ps {
		if p.Length() >= l-geom.Tol {
			out = append(out, p)
		}
	}
	return out
}

// inward tells whether the loop bounds waste from outside: a window's or a
// pocket's.
func inward(p geom.Path, climb bool) bool { return (p.Area() > 0) == climb }

// reaches checks that the mill can touch the wall everywhere and has way enough
// to ramp wherever it goes.
func (v *levels) reaches(title string, rho float64) error {
	for _, p := range v.exact {
		if l := p.Length(); l < shortLoop-geom.Tol {
			return refuse("%s: the opening near X %s Y %s leaves a %s mill only %s of way; a ramp needs %s",
				title, p.V[0].X(), p.V[0].Y(), 2*rho, l, shortLoop)
		}
	}
	// The farthest corner left by the mill shows at a vertex or half-way.
	short := func(q orb.Point) error {
		if d := v.exactIndex.Nearest(q).Dist; d > rho+1e-3 {
			return refuse("%s: a %s mill cannot reach the wall at X %s Y %s; it stays %s away", title, 2*rho, q[0], q[1], d-rho)
		}
		return nil
	}
	for _, p := range v.wall {
		for i := range p.Edges() {
			e := p.Edge(i)
			for _, f := range []float64{0, 0.5} {
				if err := short(e.At(f)); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// left of the direction u, or right of it, whichever the waste is.
func outward(u orb.Point, climb bool) orb.Point {
	if climb {
		return orb.Point{-u[1], u[0]}
	}
	return orb.Point{u[1], -u[0]}
}

func plus(q, n orb.Point, d float64) orb.Point { return orb.Point{q[0] + d*n[0], q[1] + d*n[1]} }

// wrap brings s into [0, l).
func wrap(s, l float64) float64 {
	s = math.Mod(s, l)
	if s < 0 {
		s += l
	}
	return s
}
