package proof

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
)

// draw makes an edge; half of all lie on a lattice, where ends, centres and
// directions coincide.
func draw(r *rand.Rand) geom.Edge {
	c := func() float64 { return (r.Float64() - 0.5) * 20 }
	if r.IntN(2) == 0 {
		c = func() float64 { return float64(r.IntN(9) - 4) }
	}
	e := geom.Edge{A: orb.Point{c(), c()}, B: orb.Point{c(), c()}}
	switch r.IntN(4) {
	case 0:
	case 1:
		e.Bulge = []float64{1, -1, math.Tan(math.Pi / 8), -math.Tan(math.Pi / 8), 1e-7, -1e-9}[r.IntN(6)]
	default:
		e.Bulge = r.Float64()*2 - 1
	}
	return e
}

func forms(e geom.Edge) []geom.Edge {
	return []geom.Edge{e, e.Reverse(),
		{A: orb.Point{-e.A[0], e.A[1]}, B: orb.Point{-e.B[0], e.B[1]}, Bulge: -e.Bulge},
		{A: orb.Point{e.A[0] + 10000, e.A[1] - 10000}, B: orb.Point{e.B[0] + 10000, e.B[1] - 10000}, Bulge: e.Bulge},
	}
}

// The least distance is the one that fine sampling approaches, and the bound of
// the greatest one is never below it.
func TestPairsAgainstSampling(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	const n = 400
	for range 1500 {
		one, two := forms(draw(r)), forms(draw(r))
		for k := range one {
			p, f := curves(nil, one[k]), curves(nil, two[k])
			if len(p) != 1 || len(f) != 1 {
				continue
			}
			least, most := math.Inf(1), 0.0
			for i := range n + 1 {
				_, d, _ := two[k].Nearest(one[k].At(float64(i) / n))
				least, most = min(least, d), max(most, d)
			}
			got := nearest(&p[0], &f[0])
			step := one[k].Length() / n
			require.LessOrEqual(t, got, least+1e-6, "%+v %+v", one[k], two[k])
			require.GreaterOrEqual(t, got, least-step/2-1e-6, "%+v %+v", one[k], two[k])
			assert.InDelta(t, got, nearest(&f[0], &p[0]), 1e-6, "%+v %+v", one[k], two[k])

			a, b := f[0].dist(p[0].A), f[0].dist(p[0].B)
			ub := farthest(&p[0], &f[0], a, b, p[0].l)
			require.GreaterOrEqual(t, ub, most-1e-6, "%+v %+v", one[k], two[k])

			s := scan{c: f, left: 1000}
			w := peak{d: math.Inf(-1), stop: math.Inf(1)}
			s.among(&p[0], []int32{0}, &w)
			require.GreaterOrEqual(t, w.d, most-1e-6)
			require.LessOrEqual(t, w.d, most+step/2+1e-6)
			require.Positive(t, s.left, "one pair wants few steps: %+v %+v", one[k], two[k])
		}
	}
}

// A greatest distance to many curves is certain, and found in few steps also where
// many are at one distance all along.
func TestScanAgainstSampling(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 150 {
		p := curves(nil, draw(r))
		var cs []curve
		var es []geom.Edge
		for range 1 + r.IntN(12) {
			e := draw(r)
			es = append(es, e)
			cs = curves(cs, e)
		}
		f := newField(cs)
		s := scan{c: cs, left: budget}
		w := peak{d: math.Inf(-1), stop: math.Inf(1)}
		for i := range p {
			s.over(f, &p[i], &w)
		}
		most := 0.0
		e := p[0].Edge
		const n = 2000
		for i := range n + 1 {
			q, d := e.At(float64(i)/n), math.Inf(1)
			for _, x := range es {
				_, y, _ := x.Nearest(q)
				d = min(d, y)
			}
			most = max(most, d)
			got, _ := f.distance(q)
			require.InDelta(t, d, got, 1e-6)
		}
		require.GreaterOrEqual(t, w.d, most-Certain)
		require.LessOrEqual(t, w.d, most+e.Length()/n/2+Certain)
		require.Less(t, budget-s.left, 2000)
	}
}

// The same line in many pieces is one line: no seam costs more than a few steps,
// nor shows in the figure.
func TestScanSeams(t *testing.T) {
	var cs []curve
	for i := range 1000 {
		cs = append(cs, line(orb.Point{float64(i), 0}, orb.Point{float64(i + 1), 0}))
	}
	f := newField(cs)
	s := scan{c: cs, left: budget}
	p := line(orb.Point{0.3, 2}, orb.Point{999.7, 2})
	w := peak{d: math.Inf(-1), stop: math.Inf(1)}
	s.over(f, &p, &w)
	assert.InDelta(t, 2, w.d, 1e-9)
	assert.Less(t, budget-s.left, 5000)
}

// Arcs too flat for a centre are chords, within a tenth of what is certain.
func TestFlatArcs(t *testing.T) {
	for _, b := range []float64{1e-5, 1e-6, 2e-7, 1e-8, 3e-9, 1e-12} {
		e := geom.Edge{A: orb.Point{-500, 3}, B: orb.Point{500, -4}, Bulge: b}
		cs := curves(nil, e)
		for _, q := range []orb.Point{{0, 10}, {-300, -7}, {499, 0}, {600, 600}} {
			_, want, _ := e.Nearest(q)
			got, _ := newField(cs).distance(q)
			if e.Bulge > 1e-7 { // geom's own centre is good enough
				assert.InDelta(t, want, got, 2*chordRise+1e-6, "bulge %g", b)
			}
			// the chord is never farther than the rise
			assert.InDelta(t, line(e.A, e.B).distTo(q), got, math.Abs(b)*500*1.01+1e-6)
		}
	}
}

func (c curve) distTo(q orb.Point) float64 { return c.dist(q) }
