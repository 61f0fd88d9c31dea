package proof

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// A ground is a pocket's, of which it is asked whether any place is farther than
// reach from all ways. Its rim is known to be within reach.
//
// Were there such a place, all that can be gone to from it without coming within
// reach of a way would end inside the ground, at places exactly reach away from one
// way and no nearer to any other: on the rims of what the ways reach. So the ground
// is covered if all of those rims that lie in it is nearer to some other way.
type ground struct {
	region geom.Region
	rim    *field
	ways   *field
	scan   *scan
	reach  float64
	last   int // the way that the latest piece lay near
	left   int // pieces and cells that may still be looked at
}

const (
	// nearer is by how much in mm another way has to be nearer than reach. It is
	// more than rounding, so that a way does not cover its own rim.
	nearer = 1e-7
	// shortest is the length in mm of a piece of a rim that is let pass where the
	// ground's rim crosses it: a hole that has no longer one is no wider.
	shortest = 1e-4
)

func newGround(r geom.Region, rim []curve, t *trimmer, reach float64) *ground {
	return &ground{region: r, rim: newField(rim), ways: t.through, scan: &t.scan, reach: reach, left: budget}
}

// uncovered is a place of the ground that is farther from the ways than reach, and
// how far. Only where the rims leave a doubt is one searched for.
func (g *ground) uncovered() (d float64, at orb.Point, ok bool) {
	box := g.region.Bound()
	covered := g.eachRim(func(p curve) bool {
		return apart2(&p.box, &box) > 0 || g.beyondLast(&p) || g.passes(&p, g.near(&p), unknown)
	})
	if covered {
		return 0, at, false
	}
	g.left = budget
	return g.search()
}

// eachRim gives f the rim of what each way reaches, in pieces, until f says no: a
// line on either side and, where the way ends or turns, what is nearest to its end.
func (g *ground) eachRim(f func(curve) bool) bool {
	cs := g.ways.c
	for i := range cs {
		c := &cs[i]
		if c.l == 0 {
			if !g.turn(c.A, orb.Point{1, 0}, 2*math.Pi, f) {
				return false
			}
			continue
		}
		if !g.beside(c, f) {
			return false
		}
		// The way goes on in the next one, or ends here.
		t := c.heading(1)
		if n := i + 1; n < len(cs) && cs[n].l > 0 && cs[n].A == c.B {
			u := cs[n].heading(0)
			angle := math.Atan2(cross(t, u), dot(t, u))
			from := orb.Point{t[1], -t[0]} // to the right
			if angle < 0 {
				from = orb.Point{-t[1], t[0]}
			}
			if !g.turn(c.B, from, angle, f) {
				return false
			}
		} else if !g.turn(c.B, orb.Point{t[1], -t[0]}, math.Pi, f) {
			return false
		}
		if i == 0 || cs[i-1].l == 0 || cs[i-1].B != c.A {
			t = c.heading(0)
			if !g.turn(c.A, orb.Point{-t[1], t[0]}, math.Pi, f) {
				return false
			}
		}
	}
	return true
}

// heading is the unit tangent at the start (0) or end (1) of a curve with a length.
func (c *curve) heading(end int) orb.Point {
	var d orb.Point
	switch {
	case c.r == 0:
		d = sub(c.B, c.A)
	case end == 0:
		d = orb.Point{c.g[1], -c.g[0]}
	default:
		d = orb.Point{c.h[1], -c.h[0]}
	}
	if c.r > 0 && c.Bulge < 0 {
		d = orb.Point{-d[0], -d[1]}
	}
	l := math.Sqrt(dot(d, d))
	return orb.Point{d[0] / l, d[1] / l}
}

// beside gives the lines that run beside a way.
func (g *ground) beside(c *curve, f func(curve) bool) bool {
	t0, t1 := c.heading(0), c.heading(1)
	for _, side := range [2]float64{g.reach, -g.reach} { // to the left, to the right
		a := orb.Point{c.A[0] - side*t0[1], c.A[1] + side*t0[0]}
		b := orb.Point{c.B[0] - side*t1[1], c.B[1] + side*t1[0]}
		p := line(a, b)
		if c.r > 0 {
			if (c.Bulge > 0) == (side > 0) && c.r <= g.reach {
				continue // no place within the bow is as far from it
			}
			if e := (geom.Edge{A: a, B: b, Bulge: c.Bulge}); !e.Straight() {
				p = arc(e)
			}
		}
		if !f(p) {
			return false
		}
	}
	return true
}

// turn gives an arc about q, from the direction d on by the angle.
func (g *ground) turn(q, d orb.Point, angle float64, f func(curve) bool) bool {
	if angle == 0 {
		return true
	}
	n := math.Ceil(math.Abs(angle) / flat)
	bulge := math.Tan(angle / (4 * n))
	at := func(k float64) orb.Point {
		sin, cos := math.Sincos(angle * k / n)
		return orb.Point{q[0] + g.reach*(d[0]*cos-d[1]*sin), q[1] + g.reach*(d[0]*sin+d[1]*cos)}
	}
	for k := range int(n) {
		e := geom.Edge{A: at(float64(k)), B: at(float64(k + 1)), Bulge: bulge}
		p := line(e.A, e.B)
		if !e.Straight() {
			p = arc(e)
		}
		if !f(p) {
			return false
		}
	}
	return true
}

// near are the ways that can cover some of a piece.
func (g *ground) near(p *curve) []int32 {
	g.scan.arena = g.ways.reach(g.scan.arena[:0], p.box, g.reach)
	return g.scan.arena
}

// covers tells whether all of the piece is nearer than reach to the i-th way.
func (g *ground) covers(i int, p *curve) bool {
	f := &g.ways.c[i]
	if apart2(&f.box, &p.box) > g.reach*g.reach {
		return false
	}
	a, b := f.dist(p.A), f.dist(p.B)
	return max(a, b) <= g.reach-nearer && farthest(p, f, a, b, p.l) <= g.reach-nearer
}

// beyondLast tries the ways after the one that was found last: what lies beside a
// lane is covered by the next lane, which runs as it does.
func (g *ground) beyondLast(p *curve) bool {
	for i := max(0, g.last-1); i < min(len(g.ways.c), g.last+3); i++ {
		if g.covers(i, p) {
			g.last = i
			return true
		}
	}
	return false
}

// What is known of a piece or a square: nothing, or that it lies wholly inside.
const (
	unknown = iota
	within
)

// passes tells whether all of the piece that lies in the ground is nearer than reach
// to one of the ways. When in doubt it says no.
func (g *ground) passes(p *curve, ways []int32, known int) bool {
	if len(ways) == 0 {
		return false // it has its own way at least
	}
	for _, i := range ways {
		if g.covers(int(i), p) {
			g.last = int(i)
			return true
		}
	}
	b := g.scan.bound(p, ways)
	if b.ub <= g.reach-nearer {
		return true
	}
	if known == unknown {
		if d, _ := g.rim.near(p, -1); d > slack {
			if g.region.Winding(p.A) <= 0 {
				return true
			}
			known = within
		} else if p.l < shortest {
			return true
		}
	}
	if known == within && (max(b.a, b.b) > g.reach-nearer || p.l < shortest) {
		return false
	}
	if g.left--; g.left < 0 {
		return false
	}
	t := parting(p, &g.scan.c[b.k])
	one, two := p.between(0, t), p.between(t, 1)
	mark := len(g.scan.arena)
	ok := g.passes(&one, g.scan.narrow(&one, ways, g.reach), known)
	g.scan.arena = g.scan.arena[:mark]
	ok = ok && g.passes(&two, g.scan.narrow(&two, ways, g.reach), known)
	g.scan.arena = g.scan.arena[:mark]
	return ok
}

// strip is the width in mm along the rim within which no place is searched for: the
// rim is covered, so no more than this is left there.
const strip = 0.02

// search parts the ground into squares until one is found whose middle is farther
// from the ways than reach. A square is done with when it lies outside, in the strip
// along the rim, or wholly within reach of one way.
func (g *ground) search() (d float64, at orb.Point, ok bool) {
	b := g.region.Bound()
	side := max(1, g.reach/2)
	for x := b.Min[0]; x < b.Max[0]; x += side {
		for y := b.Min[1]; y < b.Max[1]; y += side {
			if d, at, ok = g.cell(orb.Point{x + side/2, y + side/2}, side/2, unknown); ok {
				return d, at, true
			}
		}
	}
	return 0, at, false
}

func (g *ground) cell(m orb.Point, half float64, known int) (d float64, at orb.Point, ok bool) {
	size := half * math.Sqrt2
	d, k := g.ways.distance(m)
	if d+size <= g.reach {
		return 0, at, false
	}
	if k >= 0 && d-size <= g.reach {
		hull := [5]orb.Point{
			{m[0] - half, m[1] - half}, {m[0] + half, m[1] - half}, {m[0] - half, m[1] + half}, {m[0] + half, m[1] + half}, m,
		}
		if hullWithin(&g.ways.c[k], &hull, m, size, g.reach) {
			return 0, at, false
		}
	}
	if known != within || d > g.reach {
		to, _ := g.rim.distance(m)
		if to+size <= strip {
			return 0, at, false
		}
		if known != within && (to >= size || d > g.reach && to > strip) {
			if g.region.Winding(m) > 0 {
				if known = unknown; to >= size {
					known = within
				}
				if d > g.reach && to > strip {
					return d, m, true
				}
			} else if to >= size {
				return 0, at, false
			}
		} else if d > g.reach && to > strip {
			return d, m, true
		}
	}
	if half < 1e-4 {
		return 0, at, false // within a ten-thousandth of being covered
	}
	if g.left--; g.left < 0 {
		return d + size, m, true // given up: the bound stands
	}
	for _, s := range [4][2]float64{{-1, -1}, {1, -1}, {-1, 1}, {1, 1}} {
		q := orb.Point{m[0] + s[0]*half/2, m[1] + s[1]*half/2}
		if d, at, ok = g.cell(q, half/2, known); ok {
			return d, at, true
		}
	}
	return 0, at, false
}
