package geom

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
)

// worked is an invented cutter's profile, (radius, height), point-symmetric about
// (19, 15).
func worked() Path {
	return Path{V: []Vertex{V(34, 0), V(24, 10), V(25.5, 10.5), V(25.5, 14.4), V(12.5, 15.6), V(12.5, 19.5), V(14, 20), V(4, 30)}}
}

// rounded is a profile with arcs, point-symmetric about (20, 16): an S of two arcs
// between rounded lands.
func rounded() Path {
	half := []Vertex{V(38, -2), B(28, 8, math.Tan(math.Pi/16)), V(29, 10.5), B(29, 12, math.Tan(math.Pi/8)), V(27, 14)}
	p := Path{V: append([]Vertex(nil), half...)}
	p.V[len(p.V)-1] = V(27, 14)
	for i := len(half) - 1; i >= 0; i-- {
		v := Vertex{Point: orb.Point{40 - half[i].X(), 32 - half[i].Y()}}
		if i > 0 {
			v.Bulge = -half[i-1].Bulge
		}
		p.V = append(p.V, v)
	}
	return p
}

// measure takes n points along a path with normal noise of the standard deviation
// s in both coordinates.
func measure(p Path, n int, s float64, seed int64) []orb.Point {
	r := rand.New(rand.NewSource(seed))
	l := p.Length()
	q := make([]orb.Point, n)
	for i := range q {
		at := p.Point(p.AtLength(l * float64(i) / float64(n-1)))
		q[i] = orb.Point{at[0] + s*r.NormFloat64(), at[1] + s*r.NormFloat64()}
	}
	return q
}

func TestFitPathFindsTheEdges(t *testing.T) {
	for _, tt := range []struct {
		name string
		p    Path
	}{{"worked", worked()}, {"rounded", rounded()}} {
		for _, s := range []float64{0, 0.005, 0.02} {
			for seed := range int64(5) {
				t.Run(fmt.Sprint(tt.name, " ", s, " ", seed), func(t *testing.T) {
					f, err := FitPath(measure(tt.p, 2000, s, seed))
					require.NoError(t, err)
					require.Equal(t, tt.p.Merge().Edges(), f.Path.Merge().Edges())
					require.InDelta(t, s, f.Noise, 0.05*s+1e-4)
					d, _ := Hausdorff([]Path{tt.p}, []Path{f.Path}, 1e-6)
					require.Less(t, d, 2*s+1e-3)
				})
			}
		}
	}
}

func TestFitPathRefuses(t *testing.T) {
	_, err := FitPath(make([]orb.Point, 7))
	require.ErrorContains(t, err, "at least 8")
	q := measure(worked(), 100, 0, 1)
	q[5][0] = math.NaN()
	_, err = FitPath(q)
	require.ErrorContains(t, err, "point 5")
	f, err := FitPath(make([]orb.Point, 20)) // all in one place
	require.NoError(t, err)
	require.Zero(t, f.Noise)
}

func BenchmarkFitPath2000(b *testing.B) {
	q := measure(worked(), 2000, 0.02, 1)
	for b.Loop() {
		if _, err := FitPath(q); err != nil {
			b.Fatal(err)
		}
	}
}
