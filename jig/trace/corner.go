package trace

import (
	"math"
)

// This file answers what at a corner is blur, dirt or a splinter and no piece.

// sharpen leaves out pieces so short that they are the blur's rounding of the corner
// between their neighbours.
func (f *profile) sharpen() {
	short := 0.1 + 2.5*f.blur + 2.5*f.pitch
	for i := 1; i+1 < len(f.pieces); i++ {
		a, p, b := f.pieces[i-1], f.pieces[i], f.pieces[i+1]
		if p.span() > short || a.span() < p.span() || b.span() < p.span() {
			continue
		}
		m := p.q[len(p.q)/2]
		n1, n2 := a.left(m), b.left(m)
		if math.Abs(cross(n1, n2)) < 0.1 {
			continue
		}
		if at, ok := meet(a, b, m); ok && dist(at, m) < short {
			f.pieces = append(f.pieces[:i], f.pieces[i+1:]...)
			i--
		}
	}
}

// speck is the length in mm under which what turns to and fro at a corner is none of the
// profile. Derived here.
const speck = 0.3

// clear leaves out what dirt or splinters left at a corner: short pieces between two
// longer ones that do not turn steadily from the one's direction to the other's.
func (f *profile) clear() {
	for i := 0; i+2 < len(f.pieces); i++ {
		a := f.pieces[i]
		run := 0.0
		for j := i + 2; j < len(f.pieces) && j <= i+6; j++ {
			m := f.pieces[j-1]
			if run += m.span(); run > speck {
				break
			}
			b := f.pieces[j]
			if a.span() < run || b.span() < run || turnsSteadily(f.pieces[i:j+1]) {
				continue
			}
			mid := m.q[len(m.q)/2]
			if math.Abs(cross(a.left(mid), b.left(mid))) < 0.1 {
				continue
			}
			if at, ok := meet(a, b, mid); ok && dist(at, mid) < 2*speck {
				f.pieces = append(f.pieces[:i+1:i+1], f.pieces[j:]...)
				f.bridged++
				i--
				break
			}
		}
	}
}

// turnsSteadily tells whether successive pieces turn to one side all along, by less
// than a half turn.
func turnsSteadily(ps []*piece) bool {
	angle := func(p *piece, end bool) float64 {
		q := p.q[0]
		if end {
			q = p.q[len(p.q)-1]
		}
		n := p.left(q)
		return math.Atan2(-n[0], n[1])
	}
	turn := func(a, b float64) float64 { return math.Remainder(b-a, 2*math.Pi) }
	total := turn(angle(ps[0], true), angle(ps[len(ps)-1], false))
	for i := 1; i < len(ps); i++ {
		t := turn(angle(ps[i-1], true), angle(ps[i], false))
		if t*total < -0.05*math.Abs(total) {
			return false
		}
		if i+1 < len(ps) && ps[i].round && turn(angle(ps[i], false), angle(ps[i], true))*total < 0 {
			return false
		}
	}
	return true
}
