package trace

import (
	"math"

	"github.com/paulmach/orb"
)

// This file answers where exactly each piece runs, and how noisy its points are.

// together is the length in mm over which errors of the outline are believed to go
// together at least: grain, roughness and the scanner's sharpness reach about so far.
// Derived here.
const together = 0.25

// pool finds the noise common to all pieces.
func (f *profile) pool() {
	var sds, taus []float64
	for _, p := range f.pieces {
		step := p.span() / math.Max(float64(len(p.q)/len(f.cuts)-1), 1)
		tau := math.Max(p.tau, together/math.Max(step, f.pitch/2))
		for range max(1, len(p.q)/8) {
			sds, taus = append(sds, p.sd), append(taus, tau)
		}
	}
	f.noise = math.Max(math.Max(median(sds), f.wave), f.pitch/20)
	f.tau = math.Max(median(taus), 1)
}

// refine measures the outline anew along each piece, square to it, in all cuts, and
// fits the piece to that.
func (f *profile) refine() {
	inset := 2.5*f.blur + 1.5*f.pitch
	for i, p := range f.pieces {
		q := f.along(p, inset)
		n, ok := fitPiece(q, p.round, f.pitch/20)
		if !ok || p.round && (n.turn != p.turn || n.falls()) || p.astray(n, 0.1+3*f.noise) && p.sd < 3*f.noise {
			continue // too short, or led astray: what was found first stays
		}
		if p.span() < 2*smallest && n.sd > 2*math.Max(p.sd, f.noise)+f.pitch/8 {
			continue // among the neighbour's points
		}
		n.a, n.b = p.a, p.b
		f.pieces[i] = n
	}
	f.pool()
}

// along measures the outline at every pixel of the piece's length but its ends.
func (f *profile) along(p *piece, inset float64) []orb.Point {
	e := p.edge()
	l := e.Length()
	var q []orb.Point
	if l < 2*inset+6*f.pitch {
		return nil // too short to be clear of its corners
	}
	for _, c := range f.cuts {
		step := c.b.r.pitch()
		n := int((l - 2*inset) / step)
		for k := 0; k <= n; k++ {
			at := e.At((inset + float64(k)*step) / l)
			if at[1] < inset || at[1] > c.thick-inset {
				continue
			}
			if x, ok := c.measure(at, p.left(at)); ok {
				q = append(q, x)
			}
		}
	}
	return q
}
