package geom

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func genIso(t *rapid.T) Iso {
	f := func(name string) float64 { return rapid.Float64Range(-100, 100).Draw(t, name) }
	switch rapid.IntRange(0, 4).Draw(t, "kind") {
	case 0:
		return Shift(f("dx"), f("dy"))
	case 1:
		return Turn(f("angle"), orb.Point{f("x"), f("y")})
	case 2:
		return HalfTurn(orb.Point{f("x"), f("y")})
	case 3:
		return MirrorX(f("x"))
	}
	return MirrorY(f("y"))
}

func TestIsoKeepsMeasures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, n := genIso(t), genIso(t)
		p := genPath(true).Draw(t, "p")
		q := p.Move(m)
		sign := 1.0
		if m.Flips() {
			sign = -1
		}
		require.InDelta(t, p.Length(), q.Length(), 1e-8)
		require.InDelta(t, sign*p.Area(), q.Area(), 1e-7)
		require.InDelta(t, math.Abs(p.Area()), math.Abs(Region{p}.Move(m).Area()), 1e-7)
		require.InDelta(t, p.Area(), Region{p}.Move(m).Area(), 1e-7) // outers stay outers
		s := rapid.Float64Range(0, 1).Draw(t, "s") * p.Length()
		require.InDelta(t, 0, dist(m.Point(p.Point(p.AtLength(s))), q.Point(q.AtLength(s))), 1e-8)
		both := m.Then(n)
		require.InDelta(t, 0, dist(n.Point(m.Point(p.Start())), both.Point(p.Start())), 1e-9)
		require.Equal(t, m.Flips() != n.Flips(), both.Flips())
		require.Equal(t, q, MoveAll([]Path{p}, m)[0])
	})
}

func TestIsoInverse(t *testing.T) {
	for _, m := range []Iso{Shift(3, -4), Turn(0.7, orb.Point{5, 6}), HalfTurn(orb.Point{-2, 9}), MirrorX(4).Then(Shift(0, 3)), MirrorY(1).Then(Turn(2, orb.Point{1, 1}))} {
		for _, q := range []orb.Point{{0, 0}, {1, 0}, {-7, 12.5}} {
			for _, back := range []orb.Point{m.Inverse().Point(m.Point(q)), m.Then(m.Inverse()).Point(q), m.Point(m.Inverse().Point(q))} {
				require.InDelta(t, q[0], back[0], 1e-12)
				require.InDelta(t, q[1], back[1], 1e-12)
			}
		}
	}
}

func TestIsoPoints(t *testing.T) {
	q := orb.Point{3, 1}
	near := func(want, got orb.Point) { t.Helper(); require.InDelta(t, 0, dist(want, got), 1e-15) }
	near(orb.Point{4, -1}, Shift(1, -2).Point(q))
	near(orb.Point{1, 1}, Turn(math.Pi/2, orb.Point{2, 0}).Point(q))
	near(orb.Point{1, -1}, HalfTurn(orb.Point{2, 0}).Point(q))
	near(orb.Point{1, 1}, MirrorX(2).Point(q))
	near(orb.Point{3, 3}, MirrorY(2).Point(q))
}
