package trace

import (
	"math"

	"github.com/paulmach/orb"
)

// This file answers what at a face is a chipped tip, and what a land.

// tips leaves out what a chip left at the faces: pieces there that are short, in
// whole at most [chipped], and inside the tip that the next long piece makes with the
// face. A single piece square to the face is a land and stays, unless it is rougher
// than the rest.
func (f *profile) tips(ps []*piece, thick float64) []*piece {
	ends := [2]float64{0, thick}
	for side, z := range ends {
		at := func(k int) *piece { // from the face inward
			if side == 0 {
				return ps[k]
			}
			return ps[len(ps)-1-k]
		}
		// The next long piece: the first that by itself runs on to the face nearby.
		for k := 0; k < min(6, len(ps)-1); k++ {
			long := at(k)
			if long.span() < chipped || math.Abs(long.slope()) < 0.17 {
				if reach := math.Abs(long.q[len(long.q)/2][1] - z); reach > chipped {
					break
				}
				continue
			}
			if k == 0 {
				break
			}
			near, far := long.q[0], long.q[len(long.q)-1]
			if side == 1 {
				near, far = far, near
			}
			rise := math.Abs(near[1] - z)
			land := k == 1 && f.land(at(0))
			hit, ok := long.atHeight(z, near)
			if rise > chipped || !ok || dist(hit, near) > 1.6*chipped || dist(hit, far) < dist(near, far) {
				break
			}
			if land && (at(0).off(hit) < 0 || !f.wooden(hit, near, orb.Point{near[0], z})) {
				break
			}
			out := 0.0 // what stands out of the long piece: wood, and no chip
			for _, q := range f.cuts[0].between(math.Max(0.1, 3*f.blur)) {
				if side == 0 && q[1] < near[1] || side == 1 && q[1] > near[1] {
					out = math.Max(out, long.off(q))
				}
			}
			if out > speck {
				break
			}
			f.carried = math.Max(f.carried, rise)
			if side == 0 {
				ps = ps[k:]
			} else {
				ps = ps[:len(ps)-k]
			}
			break
		}
	}
	return ps
}

// chipped is how much of a tip in mm may be missing. Derived here: what is larger is
// no chip that a scan should be made of.
const chipped = 1.0

// land tells whether a piece at a face is a land that the cutter or the setting left:
// square to the face and no rougher than the rest.
func (f *profile) land(p *piece) bool {
	a, b := p.q[0], p.q[len(p.q)-1]
	return !p.round && p.span() > 4*f.pitch && math.Abs(b[0]-a[0]) < 0.05*math.Abs(b[1]-a[1])+f.pitch && p.sd < 2.5*f.noise+f.pitch/4
}

// wooden tells whether most of the triangle is as bright as the board: a hair across a
// tip makes what lies behind it look cut off.
func (f *profile) wooden(p, q, o orb.Point) bool {
	c := f.cuts[0]
	at := func(x orb.Point) float64 { x = c.out(x); return c.b.r.at(x[0], x[1]) }
	deep := math.Max(p[0], math.Max(q[0], o[0])) + 0.6
	board := at(orb.Point{deep, (q[1] + 2*o[1]) / 3})
	air := at(orb.Point{math.Min(p[0], math.Min(q[0], o[0])) - 1, (q[1] + 2*o[1]) / 3})
	wood, n := 0, 0
	for i := 1; i < 8; i++ {
		for j := 1; i+j < 8; j++ {
			u, v := float64(i)/8, float64(j)/8
			x := orb.Point{u*p[0] + v*q[0] + (1-u-v)*o[0], u*p[1] + v*q[1] + (1-u-v)*o[1]}
			if v := at(x); math.Abs(v-board) < math.Abs(v-air) {
				wood++
			}
			n++
		}
	}
	return wood > n/2
}

// slope is the sine of the angle by which the piece rises, from end to end.
func (p *piece) slope() float64 {
	a, b := p.q[0], p.q[len(p.q)-1]
	return (b[1] - a[1]) / math.Max(dist(a, b), 1e-9)
}
