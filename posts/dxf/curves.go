package dxf

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// ReadCurves reads as [Read] does, and SPLINE and ELLIPSE too: as arcs and lines that
// miss the curve by no more than tol mm and that it misses by no more ([geom.Bezier]).
// An ellipse that is round becomes exactly an arc. Splines are rational curves of any
// degree up to 11 with their control points in one plane; one given by the points that
// it passes alone is named in [Drawing.Skipped], as are curves that lie askew: what they
// look like is left to the program that drew them.
func ReadCurves(name string, text []byte, tol float64) (*Drawing, error) {
	return read(name, text, tol)
}

// The limits of a spline.
const (
	maxDegree  = 11
	maxControl = 20_000
)

// spline reads SPLINE: groups 71 degree, 72 and 40 knots, 73 and 10, 20 control points,
// 41 weights, 74 fit points (DXF Reference).
func (r *reader) spline(e entity) {
	var q []geom.Weighted
	var knots, weights, heights []float64
	degree, fits, wantKnots, wantPoints := 0, 0, -1, -1
	for _, f := range e.fields {
		switch f.code {
		case 71:
			degree = r.int(f)
		case 72:
			wantKnots = r.int(f)
		case 73:
			wantPoints = r.int(f)
		case 74:
			fits = r.int(f)
		case 40:
			knots = append(knots, r.float(f))
		case 41:
			weights = append(weights, r.float(f))
		case 10:
			q = append(q, geom.Weighted{Point: orb.Point{r.mm(f), math.NaN()}, W: 1})
		case 20:
			if len(q) > 0 {
				q[len(q)-1].Point[1] = r.mm(f)
			}
		case 30:
			heights = append(heights, r.mm(f))
		}
	}
	if len(q) == 0 && fits > 0 {
		r.skip(e)
		return
	}
	for _, z := range heights {
		if math.Abs(z-heights[0]) > geom.Tol {
			r.skip(e) // not in the plane
			return
		}
	}
	switch n := len(q); {
	case degree < 1 || degree > maxDegree:
		r.fault(e.at, "SPLINE of degree %d; want 1 to %d", degree, maxDegree)
		return
	case wantPoints >= 0 && wantPoints != n || wantKnots >= 0 && wantKnots != len(knots):
		r.fault(e.at, "SPLINE says %d control points and %d knots and has %d and %d", wantPoints, wantKnots, n, len(knots))
		return
	case n <= degree || n > maxControl || len(knots) != n+degree+1:
		r.fault(e.at, "SPLINE with %d control points and %d knots; want more than %d points, and knots as many as points and %d", n, len(knots), degree, degree+1)
		return
	case len(weights) > 0 && len(weights) != n:
		r.fault(e.at, "SPLINE with %d weights for %d control points", len(weights), n)
		return
	}
	for i, w := range weights {
		if !(w > 0) {
			r.fault(e.at, "SPLINE with the weight %g; want more than 0", w)
			return
		}
		q[i].W = w
	}
	for i := range q {
		if math.IsNaN(q[i].Point[1]) {
			r.fault(e.at, "SPLINE: control point %d has no group 20", i)
			return
		}
	}
	for i := 1; i < len(knots); i++ {
		if !(knots[i] >= knots[i-1]) {
			r.fault(e.at, "SPLINE with knots that fall, %g after %g", knots[i], knots[i-1])
			return
		}
	}
	var parts []geom.Bezier
	for i := degree; i < len(q); i++ {
		if a, b := knots[i], knots[i+1]; b > a {
			parts = append(parts, spanOf(q, knots, degree, i, a, b))
		}
	}
	if len(parts) == 0 {
		r.fault(e.at, "SPLINE over no stretch of its knots")
		return
	}
	r.curve(e, parts)
}

// spanOf is the piece of the spline between the successive knots a and b, the i-th and
// the next, as a curve of its own: its control points are the values of the spline's
// polar form at so many a and so many b (L. Ramshaw, Blossoming, 1987).
func spanOf(q []geom.Weighted, knots []float64, degree, i int, a, b float64) geom.Bezier {
	out := make(geom.Bezier, degree+1)
	h := make([][3]float64, degree+1)
	for k := range out {
		for j := range h {
			p := q[i-degree+j]
			h[j] = [3]float64{p.Point[0] * p.W, p.Point[1] * p.W, p.W}
		}
		for level := 1; level <= degree; level++ {
			u := a
			if level > degree-k {
				u = b
			}
			for j := degree; j >= level; j-- {
				low, high := knots[i-degree+j], knots[i+1+j-level]
				f := (u - low) / (high - low)
				for c := range h[j] {
					h[j][c] = (1-f)*h[j-1][c] + f*h[j][c]
				}
			}
		}
		v := h[degree]
		out[k] = geom.Weighted{Point: orb.Point{v[0] / v[2], v[1] / v[2]}, W: v[2]}
	}
	return out
}

// ellipse reads ELLIPSE: groups 10, 20 centre, 11, 21 the major axis' end from it, 40
// the minor axis over the major, 41 and 42 the ends as angles in rad of the circle that
// it is of (DXF Reference). All are in world coordinates; seen from below the minor axis
// points the other way.
func (r *reader) ellipse(e entity) {
	c, major := r.place(e, 10), r.place(e, 11)
	ratio, from, to := r.get(e, 40, 1), r.get(e, 41, 0), r.get(e, 42, 2*math.Pi)
	if !(ratio > 1e-6 && ratio <= 1e6) || !(math.Hypot(major[0], major[1]) > 0) || !(math.Abs(from) < 1e6 && math.Abs(to) < 1e6) {
		r.fault(e.at, "ELLIPSE with the axes (%g, %g) and %g of that; want both above 0", major[0], major[1], ratio)
		return
	}
	if math.Abs(r.get(e, 31, 0)) > geom.Tol {
		r.skip(e)
		return
	}
	minor := orb.Point{-ratio * major[1], ratio * major[0]}
	if e.flip {
		minor = orb.Point{-minor[0], -minor[1]}
	}
	turn := math.Mod(to-from, 2*math.Pi)
	if turn <= 1e-12 {
		turn += 2 * math.Pi
	}
	r.curve(e, geom.EllipseArc(from, turn, func(q orb.Point) orb.Point {
		return orb.Point{c[0] + q[0]*major[0] + q[1]*minor[0], c[1] + q[0]*major[1] + q[1]*minor[1]}
	}))
}

// curve puts curves that follow one another on the entity's layer as one path.
func (r *reader) curve(e entity, parts []geom.Bezier) {
	var v []geom.Vertex
	for _, b := range parts {
		for _, p := range b {
			if !(math.Abs(p.Point[0]) <= limit && math.Abs(p.Point[1]) <= limit) {
				r.fault(e.at, "%s reaches (%.4g, %.4g); want at most %g mm", e.kind, p.Point[0], p.Point[1], limit)
				return
			}
		}
		p, err := b.Arcs(r.curves)
		if err != nil {
			r.fault(e.at, "%s: %v", e.kind, err)
			return
		}
		if len(v) > 0 {
			v = v[:len(v)-1] // where the one ends the next begins
		}
		v = append(v, p.V...)
		if r.vertices += len(p.V); r.tooMuch() {
			return
		}
	}
	clean := v[:0]
	for i, w := range v {
		if i+1 < len(v) && near(w.Point, v[i+1].Point, 1e-9) {
			continue
		}
		clean = append(clean, w)
	}
	closed := false
	if n := len(clean); n > 2 && near(clean[0].Point, clean[n-1].Point, 1e-9) {
		clean, closed = clean[:n-1], true
	}
	if len(clean) > 1 {
		world := e
		world.flip = false // both kinds are in world coordinates
		r.add(world, closed, clean...)
	}
}
