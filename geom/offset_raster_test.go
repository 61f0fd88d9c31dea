package geom

import (
	"math"
	"math/rand"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
)

// A raster knows of every point of a square grid whether it lies on the wanted side
// of a closed path, farther than d from it. The boundary of that set has as many
// loops as it and its complement have connected parts, less one: parts and loops
// are the nodes and edges of a tree.
type raster struct {
	n  int
	in []bool
}

func rasterOf(p Path, d float64, n int, shift float64) raster {
	x := NewIndex(p)
	base := 0
	if d > 0 == (p.Area() > 0) {
		base = int(math.Copysign(1, p.Area()))
	}
	b := p.Bound().Pad(1.3*math.Abs(d) + 0.1)
	h := math.Max(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]) / float64(n-1)
	r := raster{n, make([]bool, n*n)}
	for i := range n {
		for j := range n {
			q := orb.Point{b.Min[0] + (float64(i)+shift)*h, b.Min[1] + (float64(j)+shift)*h}
			r.in[i*n+j] = !x.Closer(q, math.Abs(d)) && x.Winding(q) == base
		}
	}
	return r
}

func (r raster) loops() int {
	seen := make([]bool, len(r.in))
	var stack []int
	parts := 0
	for k := range r.in {
		if seen[k] {
			continue
		}
		parts++
		seen[k] = true
		stack = append(stack[:0], k)
		for len(stack) > 0 {
			at := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			i, j := at/r.n, at%r.n
			for di := -1; di <= 1; di++ {
				for dj := -1; dj <= 1; dj++ {
					// the set goes on over sides, its complement over corners too
					if r.in[at] && di != 0 && dj != 0 {
						continue
					}
					if i+di < 0 || i+di >= r.n || j+dj < 0 || j+dj >= r.n {
						continue
					}
					if o := (i+di)*r.n + j + dj; !seen[o] && r.in[o] == r.in[at] {
						seen[o] = true
						stack = append(stack, o)
					}
				}
			}
		}
	}
	return parts - 1
}

// TestOffsetLoopsByRaster counts the loops of an offset without any geometry of
// curves. Where two rasters do not agree the grid is too coarse to tell.
func TestOffsetLoopsByRaster(t *testing.T) {
	told, all := 0, 0
	for seed := 0; told < 40; seed++ {
		rng := rand.New(rand.NewSource(int64(7000 + seed)))
		m := makers[seed%len(makers)]
		p, _ := m.make(rng)
		switch m.name {
		case "star", "cells", "cells rounded", "annular slots", "simple lattice":
		default:
			continue
		}
		if loose(p) || p.Area() == 0 {
			continue
		}
		b := p.Bound()
		d := (0.04 + 0.2*rng.Float64()) * math.Min(b.Max[0]-b.Min[0], b.Max[1]-b.Min[1])
		if rng.Intn(2) == 0 {
			d = -d
		}
		all++
		n := rasterOf(p, d, 110, 0).loops()
		if rasterOf(p, d, 149, 0.4).loops() != n || rasterOf(p, 0.99*d, 149, 0.2).loops() != n || rasterOf(p, 1.01*d, 149, 0.7).loops() != n {
			continue
		}
		told++
		out, err := p.Offset(d)
		require.NoError(t, err)
		require.Len(t, out, n, "seed %d, %s, by %g: %s", 7000+seed, m.name, d, write(p))
	}
	require.Less(t, all, 2*told, "most grids are too coarse to tell")
}
