package geom

import (
	"math"

	"github.com/paulmach/orb"
)

// Iso is a motion of the plane that keeps lengths: q ↦ M·q + T, M a rotation or
// a reflection stored by rows.
type Iso struct {
	M [4]float64
	T orb.Point
}

// Shift moves by (dx, dy) mm.
func Shift(dx, dy float64) Iso { return Iso{M: [4]float64{1, 0, 0, 1}, T: orb.Point{dx, dy}} }

// Turn rotates by the angle in radians about c, counter-clockwise positive.
func Turn(angle float64, c orb.Point) Iso {
	s, k := math.Sincos(angle)
	return about(Iso{M: [4]float64{k, -s, s, k}}, c)
}

// HalfTurn rotates by 180° about c, without rounding.
func HalfTurn(c orb.Point) Iso {
	return Iso{M: [4]float64{-1, 0, 0, -1}, T: orb.Point{2 * c[0], 2 * c[1]}}
}

// MirrorX reflects in the vertical line at x.
func MirrorX(x float64) Iso { return Iso{M: [4]float64{-1, 0, 0, 1}, T: orb.Point{2 * x, 0}} }

// MirrorY reflects in the horizontal line at y.
func MirrorY(y float64) Iso { return Iso{M: [4]float64{1, 0, 0, -1}, T: orb.Point{0, 2 * y}} }

func about(m Iso, c orb.Point) Iso {
	q := m.Point(c)
	m.T = orb.Point{c[0] - q[0], c[1] - q[1]}
	return m
}

// Point is where q goes.
func (m Iso) Point(q orb.Point) orb.Point {
	return orb.Point{m.M[0]*q[0] + m.M[1]*q[1] + m.T[0], m.M[2]*q[0] + m.M[3]*q[1] + m.T[1]}
}

// Inverse undoes the motion.
func (m Iso) Inverse() Iso {
	back := Iso{M: [4]float64{m.M[0], m.M[2], m.M[1], m.M[3]}}
	t := back.Point(m.T)
	back.T = orb.Point{-t[0], -t[1]}
	return back
}

// Flips tells whether the motion reflects.
func (m Iso) Flips() bool { return m.M[0]*m.M[3]-m.M[1]*m.M[2] < 0 }

// Then is the motion that does m first and n after it.
func (m Iso) Then(n Iso) Iso {
	r := Iso{M: [4]float64{
		n.M[0]*m.M[0] + n.M[1]*m.M[2], n.M[0]*m.M[1] + n.M[1]*m.M[3],
		n.M[2]*m.M[0] + n.M[3]*m.M[2], n.M[2]*m.M[1] + n.M[3]*m.M[3],
	}}
	r.T = n.Point(m.T)
	return r
}

// Move is the path carried by m. A reflection turns its sense round; the order
// of the vertices stays.
func (p Path) Move(m Iso) Path {
	k := 1.0
	if m.Flips() {
		k = -1
	}
	out := Path{V: make([]Vertex, len(p.V)), Closed: p.Closed}
	for i, v := range p.V {
		out.V[i] = Vertex{m.Point(v.Point), k * v.Bulge}
	}
	return out
}

// Move is the region carried by m; after a reflection the paths are reversed, so
// outers stay counter-clockwise.
func (r Region) Move(m Iso) Region {
	out := make(Region, len(r))
	for i, p := range r {
		out[i] = p.Move(m)
		if m.Flips() {
			out[i] = out[i].Reverse()
		}
	}
	return out
}

// MoveAll carries every path by m.
func MoveAll(ps []Path, m Iso) []Path {
	out := make([]Path, len(ps))
	for i, p := range ps {
		out[i] = p.Move(m)
	}
	return out
}
