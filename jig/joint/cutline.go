package joint

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// seam is the distance in mm under which two places are one when paths are cut
// and sewn here. Rounding of lengths below 1 m stays under 1e-12.
const seam = 1e-9

// merge drops the vertices that only split a line or an arc, so that a split
// edge changes no figure. A vertex goes when both edges beside it lie within
// 1e-9 mm of the one edge that would replace them.
func merge(p geom.Path) geom.Path {
	if p.Closed || len(p.V) < 3 {
		return p
	}
	out := geom.Path{V: make([]geom.Vertex, 0, len(p.V))}
	first := 0 // vertex of p from which the last edge of out runs
	out.V = append(out.V, p.V[0])
	for i := 1; i < len(p.V); i++ {
		n := len(out.V)
		if i+1 < len(p.V) {
			b := math.Tan(math.Atan(out.V[n-1].Bulge) + math.Atan(p.V[i].Bulge))
			e := geom.Edge{A: out.V[n-1].Point, B: p.V[i+1].Point, Bulge: b}
			if math.Abs(b) <= 1 && replaces(e, p, first, i+1) {
				out.V[n-1].Bulge = b
				continue
			}
		}
		out.V = append(out.V, p.V[i])
		first = i
	}
	return out
}

// replaces tells whether the edges of p between the vertices i and j lie on e
// and run its way.
func replaces(e geom.Edge, p geom.Path, i, j int) bool {
	last := 0.0
	for k := i; k < j; k++ {
		for _, t := range [2]float64{0.5, 1} {
			_, d, at := e.Nearest(p.Edge(k).At(t))
			if d > seam || at < last {
				return false
			}
			last = at
		}
	}
	return true
}

// clip is the part of an upward path with z0 ≤ z ≤ z1. A level stretch at either
// limit is kept whole. No vertices are left if the path does not reach there.
func clip(p geom.Path, z0, z1 float64) geom.Path {
	var out geom.Path
	add := func(e geom.Edge) {
		if n := len(out.V); n == 0 {
			out.V = append(out.V, geom.Vertex{Point: e.A})
		}
		out.V[len(out.V)-1].Bulge = e.Bulge
		out.V = append(out.V, geom.Vertex{Point: e.B})
	}
	for i := range p.Edges() {
		e := p.Edge(i)
		if e.B[1] < z0-seam || e.A[1] > z1+seam {
			continue
		}
		if e = between(e, z0, z1); math.Hypot(e.B[0]-e.A[0], e.B[1]-e.A[1]) > seam {
			add(e)
		}
	}
	return out
}

// between is the part of an upward edge with z0 ≤ z ≤ z1.
func between(e geom.Edge, z0, z1 float64) geom.Edge {
	a, b := e.A, e.B
	if a[1] < z0 {
		a = atHeight(e, z0)
	}
	if b[1] > z1 {
		b = atHeight(e, z1)
	}
	if a == e.A && b == e.B {
		return e
	}
	return part(e, a, b)
}

// part is the stretch of the edge from a to b, both lying on it.
func part(e geom.Edge, a, b orb.Point) geom.Edge {
	if e.Straight() {
		return geom.Edge{A: a, B: b}
	}
	c, _ := e.Arc()
	ux, uy, vx, vy := a[0]-c[0], a[1]-c[1], b[0]-c[0], b[1]-c[1]
	sweep := math.Atan2(math.Abs(ux*vy-uy*vx), ux*vx+uy*vy) // of at most a half circle
	return geom.Edge{A: a, B: b, Bulge: math.Copysign(math.Tan(sweep/4), e.Bulge)}
}

// atHeight is the point of an upward edge at the height z, held to its ends.
func atHeight(e geom.Edge, z float64) orb.Point {
	switch {
	case z <= e.A[1]:
		return e.A
	case z >= e.B[1]:
		return e.B
	case e.Straight():
		t := (z - e.A[1]) / (e.B[1] - e.A[1])
		return orb.Point{e.A[0] + t*(e.B[0]-e.A[0]), z}
	}
	// An arc that never falls is part of the right half of its circle if it runs
	// counter-clockwise, else of the left half.
	c, r := e.Arc()
	w := math.Sqrt(math.Max(0, (r-(z-c[1]))*(r+(z-c[1]))))
	return orb.Point{c[0] + math.Copysign(w, e.Bulge), z}
}

// widest is the greatest x of an upward path at the height z, -Inf where it does
// not reach. Its ends count as reached within 1e-9.
func widest(p geom.Path, z float64) float64 {
	x := math.Inf(-1)
	for i := range p.Edges() {
		e := p.Edge(i)
		if z < e.A[1]-seam || z > e.B[1]+seam {
			continue
		}
		if e.B[1]-e.A[1] <= seam { // a shoulder
			x = math.Max(x, math.Max(e.A[0], e.B[0]))
			continue
		}
		x = math.Max(x, atHeight(e, z)[0])
	}
	return x
}
