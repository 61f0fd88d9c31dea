package trace

import (
	"math"

	"github.com/paulmach/orb"
)

// This file answers what at a face is a chipped tip, and what a land.

// tips leaves out what a chip left at the faces: pieces there that are short, in
// whole at most [chipped], and inside the tip that the next long piece makes with the
// face. What reaches farther is a flank, and a single regular piece a land or a flank:
// they stay, unless what is missing there is wood that a hair covers.
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
			hit, ok := long.atHeight(z, near)
			if rise > chipped || !ok || dist(hit, near) > 1.6*chipped || dist(hit, far) < dist(near, far) {
				break
			}
			wide := 0.0 // how far from the tip what would go reaches
			for i := range k {
				for _, q := range at(i).q {
					wide = math.Max(wide, dist(q, hit))
				}
			}
			if wide > 1.3*chipped {
				break // a flank
			}
			if k == 1 && f.regular(at(0)) {
				end := at(0).q[0]
				if side == 1 {
					end = at(0).q[len(at(0).q)-1]
				}
				if at(0).off(hit) < 0 || !f.wooden(hit, near, orb.Point{end[0], z}) {
					break
				}
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

// regular tells whether a piece at a face is a land or the beginning of a flank that
// the cutter or the setting left: straight, no rougher than the rest, and square to the
// face or longer than a break runs straight.
func (f *profile) regular(p *piece) bool {
	if p.round || p.sd > 2.5*f.noise+f.pitch/4 {
		return false
	}
	a, b := p.q[0], p.q[len(p.q)-1]
	square := p.span() > 4*f.pitch && math.Abs(b[0]-a[0]) < 0.05*math.Abs(b[1]-a[1])+f.pitch
	return square || p.span() > 2*speck && p.sd < 1.5*f.noise+f.pitch/8
}

// reach makes a short arc that ends before its face, as blur makes of the corner before
// a land, the line that it runs out to.
func (f *profile) reach(ps []*piece, thick float64) []*piece {
	for side, z := range [2]float64{0, thick} {
		k := 0
		if side == 1 {
			k = len(ps) - 1
		}
		p := ps[k]
		if !p.round || p.span() > smallest || len(p.q) < 4 {
			continue
		}
		q := p.q[:max(4, len(p.q)/2)]
		if side == 1 {
			q = p.q[len(p.q)-max(4, len(p.q)/2):]
		}
		if _, ok := p.atHeight(z, p.q[min(side, 1)*(len(p.q)-1)]); ok {
			continue
		}
		if line, ok := fitPiece(q, false, f.pitch/20); ok && line.dir[1] > 0.5 {
			ps = append(append(append([]*piece{}, ps[:k]...), line), ps[k+1:]...)
		}
	}
	return ps
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
