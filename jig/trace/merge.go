package trace

import (
	"math"

	"github.com/paulmach/orb"
)

// This file answers how few pieces the noise allows.

// merge joins neighbours and makes arcs lines as long as the points allow it: as long
// as the squared distances, over the variance of independent points, grow by less
// than the logarithm of the number of independent points for each figure saved (G.
// Schwarz, Annals of Statistics 6 (1978) 461-464), or the pieces move by less than a
// fifth of a pixel. Between two pieces of one line or arc, what is shorter than
// [smallest] is left out as dirt or a chip.
func (f *profile) merge() {
	type key struct {
		p, o  *piece
		round bool
	}
	known := map[key]*piece{}
	floor := f.pitch / 20
	const cut = 0.1 // mm: what is farther off counts no more, it is dirt
	for len(f.pieces) > 0 {
		f.pool()
		n := 0
		for _, p := range f.pieces {
			n += len(p.q)
		}
		v := f.noise * f.noise * f.tau
		gain := math.Log(math.Max(float64(n)/f.tau, 3))
		bestGain, at, upto := 0.0, -1, -1
		var best *piece
		try := func(i, j int, round bool, was float64, params int) {
			a, b := f.pieces[i], f.pieces[j]
			k := key{a, b, round}
			p, tried := known[k]
			if !tried {
				q := a.q
				if i != j {
					q = append(append([]orb.Point{}, a.q...), b.q...)
				}
				if fit, ok := fitPiece(q, round, floor); ok && !fit.falls() {
					p = fit
				}
				known[k] = p
			}
			if p == nil {
				return
			}
			more := p.cost(cut) - was
			saved := float64(params-p.params()) * gain
			g := saved - more/v
			if more < 0.03*f.pitch*f.pitch*float64(len(p.q)) && p.steady(0.25*f.pitch) {
				g = math.Max(g, saved/2) // moved by less than a fifth of a pixel
			}
			if g > bestGain {
				bestGain, at, upto, best = g, i, j, p
			}
		}
		for i, p := range f.pieces {
			if p.round {
				try(i, i, false, p.cost(cut), 3)
			}
			gap := 0.0
			params := p.params()
			for j := i + 1; j < len(f.pieces) && j <= i+5; j++ {
				o := f.pieces[j]
				params += o.params() + 1
				if j == i+1 || gap < math.Min(p.span(), o.span()) {
					was := p.cost(cut) + o.cost(cut)
					try(i, j, false, was, params)
					if p.round || o.round {
						try(i, j, true, was, params)
					}
				}
				if gap += dist(o.q[0], o.q[len(o.q)-1]); gap > smallest {
					break
				}
			}
		}
		if at < 0 {
			return
		}
		for _, p := range f.pieces[at+1 : max(upto, at+1)] {
			if p.astray(best, 0.02+2*f.pitch) {
				f.bridged++
				break
			}
		}
		best.a, best.b = f.pieces[at].a, f.pieces[upto].b
		f.pieces = append(f.pieces[:at:at], append([]*piece{best}, f.pieces[upto+1:]...)...)
	}
}

// steady tells whether the mean of no eight successive points is off by more than d.
func (p *piece) steady(d float64) bool {
	const run = 8
	s := 0.0
	for i, e := range p.e {
		s += e
		if i >= run {
			s -= p.e[i-run]
		}
		if i >= run-1 && math.Abs(s) > run*d {
			return false
		}
	}
	return true
}

// span is the way from end to end, or from the first to the last point if that is
// longer.
func (p *piece) span() float64 { return math.Max(dist(p.a, p.b), dist(p.q[0], p.q[len(p.q)-1])) }

// astray tells whether some point of p lies farther than d off the other piece.
func (p *piece) astray(o *piece, d float64) bool {
	for _, q := range p.q {
		if math.Abs(o.off(q)) > d {
			return true
		}
	}
	return false
}
