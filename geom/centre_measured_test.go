package geom

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
)

// 2,000 points with a normal noise of 0.02 mm in both directions, 100 seeds. With
// the edges' places known and nothing else, the information in the points allows
// no unbiased estimate an error of less than 0.0011 mm root mean square for the
// worked profile (Cramér-Rao; the sum of n·nᵀ over the points, pairs counted
// twice): the greatest of a hundred comes close to 0.003 whatever is done.
func TestCentreOfMeasuredProfiles(t *testing.T) {
	for name, tt := range map[string]struct {
		p     Path
		c     orb.Point
		limit float64
	}{"worked": {worked(), orb.Point{19, 15}, 0.003}, "rounded": {rounded(), orb.Point{20, 16}, 0.0035}} {
		t.Run(name, func(t *testing.T) {
			worst, sum := 0.0, 0.0
			for seed := range int64(100) {
				p := Path{}
				for _, q := range measure(tt.p, 2000, 0.02, seed) {
					p.V = append(p.V, Vertex{Point: q})
				}
				s, err := Centre(p)
				require.NoError(t, err)
				d := dist(tt.c, s.Centre)
				require.InDelta(t, 0.02, s.Noise, 0.002)
				worst, sum = math.Max(worst, d), sum+d*d
				require.Less(t, d, tt.limit, "seed %d", seed)
			}
			require.Less(t, math.Sqrt(sum/100), 0.0012)
			t.Logf("worst %.5f, rms %.5f mm", worst, math.Sqrt(sum/100))
		})
	}
}

// A curve sampled without noise, the same way in both halves, keeps its exact
// centre.
func TestCentreOfSampledCurve(t *testing.T) {
	for _, n := range []int{101, 500, 2001} {
		p := Path{}
		for i := range n {
			x := 2*float64(i)/float64(n-1) - 1
			p.V = append(p.V, V(20-10*x*x*x+2*math.Sin(5*x), 15+15*x))
		}
		s, err := Centre(p)
		require.NoError(t, err, fmt.Sprint(n))
		require.InDelta(t, 0, dist(orb.Point{20, 15}, s.Centre), 1e-8, fmt.Sprint(n))
	}
}

func BenchmarkCentreMeasured2000(b *testing.B) {
	p := Path{}
	for _, q := range measure(worked(), 2000, 0.02, 1) {
		p.V = append(p.V, Vertex{Point: q})
	}
	for b.Loop() {
		if _, err := Centre(p); err != nil {
			b.Fatal(err)
		}
	}
}

// Other ways to measure: at equal steps of height with noise in the radius alone,
// and a groove 0.1 mm deeper than the tongue is long.
func TestCentreOfOtherMeasurements(t *testing.T) {
	clear := worked()
	clear.V[4] = V(12.4, 15.6+0.1*1.2/13)
	clear.V[5] = V(12.4, 19.5-0.1/3)
	for name, tt := range map[string]struct {
		p Path
		c orb.Point
	}{"worked": {worked(), orb.Point{19, 15}}, "rounded": {rounded(), orb.Point{20, 16}}, "clearance": {clear, orb.Point{19, 15}}} {
		for _, byHeight := range []bool{false, true} {
			for seed := range int64(15) {
				q := measure(tt.p, 2000, 0.02, seed)
				if byHeight {
					r := rand.New(rand.NewSource(seed))
					b := tt.p.Bound()
					for i := range q {
						y := b.Min[1] + (b.Max[1]-b.Min[1])*float64(i)/1999
						x, _ := tt.p.XAt(y)
						q[i] = orb.Point{x + 0.02*r.NormFloat64(), y}
					}
				}
				p := Path{}
				for _, v := range q {
					p.V = append(p.V, Vertex{Point: v})
				}
				s, err := Centre(p)
				require.NoError(t, err)
				require.InDelta(t, 0, dist(tt.c, s.Centre), 0.005, "%s, by height %v, seed %d", name, byHeight, seed)
				want := 0.0
				if name == "clearance" {
					want = 0.1
				}
				require.InDelta(t, want, s.Residual, 0.06)
			}
		}
	}
}
