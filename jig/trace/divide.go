package trace

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// This file answers where one piece of a cut ends and the next begins.

// first divides the points of one cut in pieces.
func (f *profile) first(c *cut) *Refusal {
	g := math.Max(0.1, 3*f.blur)
	q := c.between(g)
	if len(q) < 24 {
		return refuse(Unclear, "a cut that runs from face to face: brush it, wipe the glass and scan again", "the cut's outline has %d points", len(q))
	}
	q = despike(q)
	f.wave = waviness(q, 0.6)
	fit, err := geom.FitPath(q)
	if err != nil {
		return refuse(Unclear, "a cut that runs from face to face: brush it, wipe the glass and scan again", "the cut's outline cannot be fitted: %v", err)
	}
	n := len(fit.First)
	if n > 400 {
		return refuse(Unclear, "a clean cut in sharp focus: brush it, lay it flat on the wiped glass and scan again", "the cut's outline is too ragged: %d pieces", n)
	}
	floor := f.pitch / 20
	for k := range n {
		end := len(q)
		if k+1 < n {
			end = fit.First[k+1]
		}
		e := geom.Edge{}
		if k < fit.Path.Edges() {
			e = fit.Path.Edge(k)
		}
		p, ok := fitPiece(q[fit.First[k]:end], !e.Straight(), floor)
		if !ok {
			p, ok = fitPiece(q[fit.First[k]:end], false, floor)
		}
		if ok {
			f.pieces = append(f.pieces, p)
		}
	}
	if len(f.pieces) == 0 {
		return refuse(Unclear, "a cut that runs from face to face: scan another piece", "nothing could be fitted to the cut's outline")
	}
	f.pool()
	f.merge()
	f.clear()
	f.sharpen()
	f.unbend()
	return nil
}

// despike leaves out points that jump away from both neighbours a few places off.
func despike(q []orb.Point) []orb.Point {
	var out []orb.Point
	for i, p := range q {
		if n := len(out); n > 0 && dist(p, out[n-1]) < 1e-6 {
			continue
		}
		if i >= 3 && i+3 < len(q) {
			a, b := q[i-3], q[i+3]
			if l := dist(a, b); dist(a, p)+dist(p, b) > 2*l+0.3 {
				continue
			}
		}
		out = append(out, p)
	}
	return out
}

// waviness is the standard deviation of the points from lines over the length given
// either way; the median passes over corners.
func waviness(q []orb.Point, half float64) float64 {
	var out []float64
	for i := 0; i < len(q); i += 4 {
		a, b := i, i
		for a > 0 && dist(q[a], q[i]) < half {
			a--
		}
		for b+1 < len(q) && dist(q[b], q[i]) < half {
			b++
		}
		if b-a < 6 {
			continue
		}
		if l, err := geom.FitLine(q[a : b+1]); err == nil {
			out = append(out, l.RMS)
		}
	}
	return quantile(out, 0.4)
}
