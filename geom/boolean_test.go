package geom

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
)

// shape draws a region on a lattice, so that edges coincide, vertices touch and
// arcs are tangent: what generic shapes never do.
func shape(r *rand.Rand) Region {
	n := func(k int) float64 { return float64(r.Intn(k)) }
	c := orb.Point{n(9), n(9)}
	switch r.Intn(8) {
	case 0:
		return Region{Rect(c[0], c[1], c[0]+1+n(5), c[1]+1+n(5))}
	case 1:
		return Region{Circle(c, 1+n(4))}
	case 2:
		return Region{Circle(c, 1+n(4)).Move(Turn(n(8)*math.Pi/4, c))}
	case 3:
		return Region{Slot(c, orb.Point{n(9), n(9)}, 2+2*n(2))}
	case 4:
		return Region{Circle(c, 3), Circle(c, 1+n(2)).Reverse()}
	case 5:
		x, y := c[0]+2+n(3), c[1]+2+n(3)
		return Region{Rect(c[0], c[1], x+2, y+2), Rect(c[0]+1, c[1]+1, x, y).Reverse()}
	case 6: // triangles and quadrangles, any way round
		p := Path{Closed: true}
		for range 3 + r.Intn(2) {
			p.V = append(p.V, V(n(9), n(9)))
		}
		return Region{p}.Clean()
	}
	return Region{lattice(r)}.Clean()
}

// lattice draws a closed path that may cross, overlap and touch itself.
func lattice(r *rand.Rand) Path {
	for {
		vs := make([]Vertex, 2+r.Intn(6))
		for i := range vs {
			vs[i] = B(float64(r.Intn(9)), float64(r.Intn(9)), 0)
			switch r.Intn(8) {
			case 0:
				vs[i].Bulge = 1
			case 1:
				vs[i].Bulge = -1
			case 2:
				vs[i].Bulge = math.Sqrt2 - 1
			case 3:
				vs[i].Bulge = 1 - math.Sqrt2
			}
		}
		if p, err := NewPath(true, vs...); err == nil && len(p.V) > 1 {
			return p
		}
	}
}

// holds checks what is promised of any result: winding numbers of 0 and 1 only,
// the right ones, away from the boundary, and a boundary that lies on the given.
func holds(t *testing.T, r *rand.Rand, got Region, of []Region, inside func(w []int) bool) {
	t.Helper()
	b := Bound(got)
	var all Region
	for _, x := range of {
		b = b.Union(x.Bound())
		all = append(all, x...)
	}
	for range 60 {
		q := orb.Point{b.Min[0] - 1 + r.Float64()*(b.Max[0]-b.Min[0]+2), b.Min[1] - 1 + r.Float64()*(b.Max[1]-b.Min[1]+2)}
		if Nearest(all, q).Dist < 1e-4 {
			continue
		}
		w := make([]int, len(of))
		for i := range of {
			w[i] = of[i].Winding(q)
		}
		want := 0
		if inside(w) {
			want = 1
		}
		require.Equal(t, want, got.Winding(q), "at %v", q)
	}
	for _, p := range got {
		require.Greater(t, math.Abs(p.Area()), 0.0)
		seen := map[orb.Point]bool{}
		for i := range p.V {
			require.False(t, seen[p.V[i].Point], "passes %v twice", p.V[i].Point)
			seen[p.V[i].Point] = true
			require.LessOrEqual(t, math.Abs(p.V[i].Bulge), 1.0)
			e := p.Edge(i)
			for _, f := range []float64{0, 0.31, 0.5, 0.8} {
				require.LessOrEqual(t, Nearest(all, e.At(f)).Dist, Tol)
			}
		}
	}
}

func TestBooleansOnTheLattice(t *testing.T) {
	for seed := range 1500 {
		r := rand.New(rand.NewSource(int64(seed)))
		a, b := shape(r), shape(r)
		ok := t.Run(fmt.Sprint(seed), func(t *testing.T) {
			u, x, d := Union(a, b), Intersection(a, b), Difference(a, b)
			holds(t, r, u, []Region{a, b}, func(w []int) bool { return w[0]+w[1] > 0 })
			holds(t, r, x, []Region{a, b}, func(w []int) bool { return w[0] > 0 && w[1] > 0 })
			holds(t, r, d, []Region{a, b}, func(w []int) bool { return w[0] > 0 && w[1] == 0 })
			require.InDelta(t, a.Area()+b.Area(), u.Area()+x.Area(), 1e-4)
			require.InDelta(t, a.Area(), d.Area()+x.Area(), 1e-4)
			require.InDelta(t, u.Area(), Union(b, a).Area(), 1e-5)
			require.InDelta(t, u.Area(), Union(u, a).Area(), 1e-5)
			require.Empty(t, Difference(a, u))
		})
		if !ok {
			t.Logf("a: %+v\nb: %+v", a, b)
			break
		}
	}
}
