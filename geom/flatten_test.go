package geom

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Every chord lies within tol of its arc, every point on the path, and no more
// chords are used than the tolerance asks for.
func TestFlatten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPath(rapid.Bool().Draw(t, "closed")).Draw(t, "p")
		tol := math.Pow(10, rapid.Float64Range(-6, 0.5).Draw(t, "log tol"))
		ls := p.Flatten(tol)
		require.Equal(t, p.Start(), ls[0])
		require.Equal(t, p.End(), ls[len(ls)-1])
		step := len(ls)/200 + 1
		for i := 1; i < len(ls); i += step {
			require.LessOrEqual(t, p.Nearest(ls[i]).Dist, 1e-8)
			m := orb.Point{(ls[i][0] + ls[i-1][0]) / 2, (ls[i][1] + ls[i-1][1]) / 2}
			require.LessOrEqual(t, p.Nearest(m).Dist, tol*(1+1e-6)+1e-9)
		}
		want := 1
		for i := range p.Edges() {
			e := p.Edge(i)
			n := 1.0
			if !e.Straight() {
				_, r := e.Arc()
				n = math.Max(2, math.Abs(e.Sweep())/math.Sqrt(8*tol/r)+1)
			}
			want += int(n)
		}
		require.LessOrEqual(t, len(ls), want+p.Edges())
	})
	require.Nil(t, Path{}.Flatten(1))
	require.Len(t, Circle(orb.Point{}, 1).Flatten(5), 5) // a coarse circle keeps an inside
}
