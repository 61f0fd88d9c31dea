package geom

import (
	"math"
	"math/rand"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestGapAgainstSampling(t *testing.T) {
	es := someEdges()
	r := rand.New(rand.NewSource(5))
	for range 3000 {
		e, f := es[r.Intn(len(es))], es[r.Intn(len(es))]
		s, u := e.span(), f.span()
		d, at, on := s.gap(&u)
		require.InDelta(t, 0, e.Dist(at), 1e-8)
		require.InDelta(t, 0, f.Dist(on), 1e-8)
		require.InDelta(t, d, dist(at, on), 1e-8)
		best := math.Inf(1)
		for k := range 501 {
			best = math.Min(best, f.Dist(e.At(float64(k)/500)))
		}
		require.LessOrEqual(t, d, best+1e-9, "%v to %v", e, f)
		require.GreaterOrEqual(t, d, best-e.Length()/500)
		back, _, _ := u.gap(&s)
		require.InDelta(t, d, back, 2e-9)
	}
}

func TestClosest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := []Path{genPath(true).Draw(t, "a"), genPath(false).Draw(t, "a2")}
		b := MoveAll([]Path{genPath(false).Draw(t, "b")}, Shift(rapid.Float64Range(-40, 40).Draw(t, "dx"), 0))
		d, at, on := Closest(a, b)
		want := math.Inf(1)
		for _, p := range a {
			for _, q := range b {
				for i := range max(1, p.Edges()) {
					for j := range max(1, q.Edges()) {
						e, f := Edge{A: p.V[0].Point, B: p.V[0].Point}, Edge{A: q.V[0].Point, B: q.V[0].Point}
						if p.Edges() > 0 {
							e = p.Edge(i)
						}
						if q.Edges() > 0 {
							f = q.Edge(j)
						}
						s, u := e.span(), f.span()
						l, _, _ := s.gap(&u)
						want = math.Min(want, l)
					}
				}
			}
		}
		require.InDelta(t, want, d, 2e-9)
		require.InDelta(t, 0, Nearest(a, at).Dist, 1e-8)
		require.InDelta(t, 0, Nearest(b, on).Dist, 1e-8)
	})
	d, _, _ := Closest(nil, []Path{Rect(0, 0, 1, 1)})
	require.True(t, math.IsInf(d, 1))
	d, at, on := Closest([]Path{Circle(orb.Point{0, 0}, 5)}, []Path{Rect(8, -20, 30, 20)})
	require.InDelta(t, 3, d, 1e-12)
	require.InDelta(t, 0, dist(at, orb.Point{5, 0}), 1e-9)
	require.InDelta(t, 0, dist(on, orb.Point{8, 0}), 1e-9)
	d, _, _ = Closest([]Path{Circle(orb.Point{0, 0}, 5)}, []Path{Circle(orb.Point{1, 0}, 2)})
	require.InDelta(t, 2, d, 1e-12)
}

func BenchmarkClosest5000(b *testing.B) {
	p := []Path{wavy(5000)}
	q := []Path{wavy(5000).Move(Shift(220, 10))}
	for b.Loop() {
		Closest(p, q)
	}
}
