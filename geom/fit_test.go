package geom

import (
	"math"
	"math/rand"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
)

func TestFitLine(t *testing.T) {
	for _, far := range []float64{0, 1e4} {
		var q []orb.Point
		for i := range 50 {
			s := float64(i) - 7
			q = append(q, orb.Point{3 + 0.6*s + far, 4 + 0.8*s})
		}
		f, err := FitLine(q)
		require.NoError(t, err)
		require.InDelta(t, 0.6, f.Dir[0], 1e-12)
		require.InDelta(t, 0.8, f.Dir[1], 1e-12)
		require.InDelta(t, 0, f.Max, 1e-11)
	}
	// By hand: (0,0) (1,1) (2,0): the line y = 1/3, distances 1/3, 2/3, 1/3.
	f, err := FitLine([]orb.Point{{0, 0}, {1, 1}, {2, 0}})
	require.NoError(t, err)
	require.InDelta(t, 1.0/3, f.At[1], 1e-15)
	require.InDelta(t, 0, f.Dir[1], 1e-15)
	require.InDelta(t, 2.0/3, f.Max, 1e-15)
	require.InDelta(t, math.Sqrt((1+4+1)/9.0/3), f.RMS, 1e-15)
	for _, q := range [][]orb.Point{nil, {{1, 2}}, {{1, 2}, {1, 2}}} {
		_, err := FitLine(q)
		require.Error(t, err)
	}
}

// No line near the one found has a smaller sum of squares.
func TestFitLineIsLeast(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 200 {
		var q []orb.Point
		for range 3 + r.Intn(20) {
			q = append(q, orb.Point{r.NormFloat64() * 5, r.NormFloat64()})
		}
		f, err := FitLine(q)
		require.NoError(t, err)
		cost := func(turn, shift float64) float64 {
			s, c := math.Sincos(turn)
			u := orb.Point{c*f.Dir[0] - s*f.Dir[1], s*f.Dir[0] + c*f.Dir[1]}
			sum := 0.0
			for _, p := range q {
				d := cross(u, sub(p, f.At)) + shift
				sum += d * d
			}
			return math.Sqrt(sum / float64(len(q)))
		}
		require.InDelta(t, f.RMS, cost(0, 0), 1e-12)
		for range 20 {
			require.GreaterOrEqual(t, cost(r.NormFloat64(), 0.1*r.NormFloat64()), f.RMS-1e-12)
		}
	}
}

func TestFitCircle(t *testing.T) {
	r := rand.New(rand.NewSource(2))
	for range 300 {
		c := orb.Point{r.NormFloat64() * 50, r.NormFloat64() * 50}
		rad := 0.5 + 30*r.Float64()
		from, span := r.Float64()*7, 0.3+6*r.Float64()
		noise := 0.0
		if r.Intn(2) == 0 {
			noise = 0.01 * rad * r.Float64()
		}
		var q []orb.Point
		for i := range 40 {
			s, k := math.Sincos(from + span*float64(i)/39)
			l := rad + noise*r.NormFloat64()
			q = append(q, orb.Point{c[0] + l*k, c[1] + l*s})
		}
		f, err := FitCircle(q)
		require.NoError(t, err)
		if noise == 0 {
			require.InDelta(t, 0, dist(c, f.Centre), 1e-7*rad)
			require.InDelta(t, rad, f.Radius, 1e-7*rad)
			require.InDelta(t, 0, f.Max, 1e-9)
			continue
		}
		cost := func(c orb.Point, rad float64) float64 {
			s := 0.0
			for _, p := range q {
				s += (dist(p, c) - rad) * (dist(p, c) - rad)
			}
			return math.Sqrt(s / float64(len(q)))
		}
		require.InDelta(t, f.RMS, cost(f.Centre, f.Radius), 1e-12)
		for range 30 { // least
			h := math.Pow(10, -4*r.Float64()) * rad
			require.GreaterOrEqual(t, cost(orb.Point{f.Centre[0] + h*r.NormFloat64(), f.Centre[1] + h*r.NormFloat64()},
				f.Radius+h*r.NormFloat64()), f.RMS*(1-1e-9))
		}
	}
	for _, q := range [][]orb.Point{nil, {{1, 2}}, {{1, 2}, {3, 4}}, {{0, 0}, {1, 1}, {2, 2}}, {{1, 1}, {1, 1}, {1, 1}}} {
		_, err := FitCircle(q)
		require.Error(t, err)
	}
}

func TestMomentsAgainstSums(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	var all, part moments
	var q []orb.Point
	for i := range 100 {
		p := orb.Point{10 + r.NormFloat64(), -20 + 2*r.NormFloat64()}
		all.add(p)
		if i < 40 {
			part.add(p)
		} else {
			q = append(q, p)
		}
	}
	rest := all.less(&part)
	got := rest.central()
	want := moments{o: centroid(q)}
	for _, p := range q {
		want.add(p)
	}
	require.InDelta(t, 0, dist(got.o, want.o), 1e-11)
	for _, v := range [][2]float64{{got.xx, want.xx}, {got.xy, want.xy}, {got.yy, want.yy}, {got.xz, want.xz}, {got.yz, want.yz}, {got.zz, want.zz}} {
		require.InDelta(t, v[1], v[0], 1e-6)
	}
}
