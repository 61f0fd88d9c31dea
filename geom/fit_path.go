package geom

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// A FittedPath is a path of few lines and arcs through many measured points.
type FittedPath struct {
	Path  Path
	Noise float64 // mm, standard deviation of the points from the path, normal to it
	First []int   // index of the first point of each piece; the last piece ends with the points
	fits  []fit
}

// A fit is the line or circle of one piece.
type fit struct {
	first, end int // its points
	at, dir    orb.Point
	round      bool
	centre     orb.Point
	radius     float64
}

// FitPath finds the open path of lines and arcs from which the points, in their
// order, were measured with some noise. Neither the number of edges nor the noise
// need be known: among all ways to divide the points it takes the one with the
// least sum of squared distances over the noise's variance plus a charge for each
// piece, as an information criterion does (G. Schwarz, Annals of Statistics 6
// (1978) 461-464), found by dynamic programming over the places of division
// (R. Bellman, Communications of the ACM 4 (1961) 284). An edge much shorter than
// ten points or about as small as the noise is not seen.
//
// It fails with less than 8 points, and on coordinates that are no numbers.
func FitPath(q []orb.Point) (FittedPath, error) {
	if len(q) < 8 {
		return FittedPath{}, fmt.Errorf("geom: %d points; want at least 8 to fit a path", len(q))
	}
	for i, p := range q {
		if !(math.Abs(p[0]) < 1e9 && math.Abs(p[1]) < 1e9) {
			return FittedPath{}, fmt.Errorf("geom: point %d (%g, %g); want numbers below 1e9 mm", i, p[0], p[1])
		}
	}
	d := newDivision(q)
	cuts := d.best()
	d.shift(cuts)
	cuts = d.prune(cuts)
	f := FittedPath{}
	sum := 0.0
	for k := 1; k < len(cuts); k++ {
		g := d.fit(cuts[k-1], cuts[k])
		f.fits = append(f.fits, g)
		f.First = append(f.First, cuts[k-1])
		for _, p := range q[g.first:g.end] {
			e := g.off(p)
			sum += e * e
		}
	}
	f.Noise = math.Sqrt(sum / float64(len(q)))
	f.Path = assemble(q, f.fits, f.Noise)
	return f, nil
}

// off is the distance of a point from the whole line or circle.
func (g *fit) off(p orb.Point) float64 {
	if g.round {
		return dist(p, g.centre) - g.radius
	}
	return cross(g.dir, sub(p, g.at))
}

// foot is the nearest point of the whole line or circle.
func (g *fit) foot(p orb.Point) orb.Point {
	if !g.round {
		s := dot(g.dir, sub(p, g.at))
		return orb.Point{g.at[0] + s*g.dir[0], g.at[1] + s*g.dir[1]}
	}
	v := sub(p, g.centre)
	l := math.Hypot(v[0], v[1])
	if l == 0 {
		return p
	}
	return orb.Point{g.centre[0] + v[0]/l*g.radius, g.centre[1] + v[1]/l*g.radius}
}

// fit finds the line or circle of the points i to j-1.
func (d *division) fit(i, j int) fit {
	g := fit{first: i, end: j}
	q := d.q[i:j]
	if _, round := d.cost(i, j); round {
		if c, err := FitCircle(q); err == nil {
			g.round, g.centre, g.radius = true, c.Centre, c.Radius
			return g
		}
	}
	if l, err := FitLine(q); err == nil {
		g.at, g.dir = l.At, l.Dir
	} else {
		g.at, g.dir = q[0], orb.Point{0, 1}
	}
	return g
}

// assemble makes the path of the pieces: neighbours meet where their lines or
// circles cross near the place of division, or, if they are all but tangent there,
// between the nearest points of both.
func assemble(q []orb.Point, fits []fit, noise float64) Path {
	v := make([]orb.Point, 0, len(fits)+1)
	v = append(v, fits[0].foot(q[0]))
	for k := 1; k < len(fits); k++ {
		a, b := &fits[k-1], &fits[k]
		p, r := q[b.first-1], q[b.first]
		m := orb.Point{(p[0] + r[0]) / 2, (p[1] + r[1]) / 2}
		at := m
		for range 30 { // nearest to both, by turns; the crossing if they cross
			x, y := a.foot(at), b.foot(at)
			at = orb.Point{(x[0] + y[0]) / 2, (x[1] + y[1]) / 2}
		}
		if x, ok := a.meet(b, m); ok && dist(x, m) <= 20*noise+3*dist(p, r) {
			at = x
		}
		v = append(v, at)
	}
	v = append(v, fits[len(fits)-1].foot(q[len(q)-1]))
	vs := make([]Vertex, len(v))
	for k := range v {
		vs[k].Point = v[k]
		if k < len(fits) && fits[k].round {
			g := &fits[k]
			vs[k].Bulge = g.bulge(v[k], v[k+1], q[(g.first+g.end)/2])
		}
	}
	p, err := NewPath(false, vs...)
	if err != nil { // finite points give finite fits
		return Path{V: []Vertex{{Point: q[0]}}}
	}
	return p
}

// bulge of the arc of the circle from a to b that passes the nearer to mid, of the
// two that there are.
func (g *fit) bulge(a, b, mid orb.Point) float64 {
	u, v := sub(a, g.centre), sub(b, g.centre)
	th := math.Atan2(cross(u, v), dot(u, v))
	best, d := 0.0, math.Inf(1)
	for _, t := range [2]float64{th, th - math.Copysign(2*math.Pi, th)} {
		s, c := math.Sincos(t / 2)
		m := orb.Point{g.centre[0] + c*u[0] - s*u[1], g.centre[1] + s*u[0] + c*u[1]}
		if l := dist(m, mid); l < d {
			best, d = math.Tan(t/4), l
		}
	}
	return best
}

// meet is where two lines or circles cross, of two places the one nearer to m. It
// is false where they do not or where they cross under less than about 10°.
func (g *fit) meet(o *fit, m orb.Point) (orb.Point, bool) {
	// Newton on both distances, from m.
	at := m
	for range 50 {
		n1, n2 := g.normal(at), o.normal(at)
		det := cross(n1, n2)
		if math.Abs(det) < 0.17 {
			return at, false
		}
		d1, d2 := g.off(at), o.off(at)
		dx := (-d1*n2[1] + d2*n1[1]) / det
		dy := (-n1[0]*d2 + n2[0]*d1) / det
		at = orb.Point{at[0] + dx, at[1] + dy}
		if math.Abs(dx)+math.Abs(dy) < 1e-12 {
			return at, true
		}
	}
	return at, false
}

// normal is the gradient of off.
func (g *fit) normal(p orb.Point) orb.Point {
	if !g.round {
		return orb.Point{-g.dir[1], g.dir[0]}
	}
	v := sub(p, g.centre)
	l := math.Hypot(v[0], v[1])
	if l == 0 {
		return orb.Point{1, 0}
	}
	return orb.Point{v[0] / l, v[1] / l}
}
