package trace_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/trace"
)

// lock is a lock miter's profile of random sizes, by its half turn, and its centre.
func lock(rnd *rand.Rand) (geom.Path, orb.Point) {
	f := func(lo, hi float64) float64 { return lo + (hi-lo)*rnd.Float64() }
	rc, hc := 20.0, 15.0
	s, dx, dy, land := f(4, 6), f(0.8, 2), f(0.2, 0.6), f(3.2, 4.6)
	half := []geom.Vertex{geom.V(rc+hc, 0), geom.V(rc+s, hc-s), geom.V(rc+s+dx, hc-s+dy), geom.V(rc+s+dx, math.Min(hc-s+dy+land, hc-0.25))}
	if rnd.IntN(2) == 0 {
		a, b := half[1], half[2]
		l := math.Hypot(b.X()-a.X(), b.Y()-a.Y())
		ux, uy := (b.X()-a.X())/l, (b.Y()-a.Y())/l
		r, turn := f(0.4, 0.7), math.Pi/2-math.Atan2(uy, ux)
		k := math.Min(r*math.Tan(turn/2), 0.6*l)
		half = []geom.Vertex{half[0], half[1], geom.B(b.X()-k*ux, b.Y()-k*uy, math.Tan(turn/4)), geom.V(b.X(), b.Y()+k), half[3]}
	}
	n := len(half)
	v := append([]geom.Vertex{}, half...)
	for i := n - 1; i >= 0; i-- {
		w := geom.V(2*rc-half[i].X(), 2*hc-half[i].Y())
		if i > 0 {
			w.Bulge = -half[i-1].Bulge
		}
		v = append(v, w)
	}
	return geom.Path{V: v}, orb.Point{rc, hc}
}

// onBoard is the profile on a board of the thickness, cut dz too high, and its centre,
// both in the board's frame.
func onBoard(p geom.Path, c orb.Point, thick, dz float64) (geom.Path, orb.Point) {
	low := c[1] - thick/2 - dz
	q := p.Between(low, low+thick).Move(geom.Shift(0, -low))
	x := math.Inf(1)
	for i := range q.Edges() {
		x = math.Min(x, q.Edge(i).LeastX()[0])
	}
	q = q.Move(geom.Shift(-x, 0))
	return q, orb.Point{c[0] - x, c[1] - low}
}

// apart is the RMS and the greatest distance of the true profile from the traced one.
func apart(truth, got geom.Path) (rms, most float64) {
	l := truth.Length()
	n := int(l / 0.02)
	s := 0.0
	for i := range n + 1 {
		at := truth.Point(truth.AtLength(l * float64(i) / float64(n)))
		d := got.Nearest(at).Dist
		s += d * d
		most = math.Max(most, d)
	}
	return math.Sqrt(s / float64(n+1)), most
}

func TestTraceClean(t *testing.T) {
	for seed := range uint64(1) {
		rnd := rand.New(rand.NewPCG(seed, 5))
		p, c := lock(rnd)
		q, centre := onBoard(p, c, 19, 0)
		d := clean(q, 19, 1200, seed)
		d.tilt = 2.5
		r, err := trace.Trace([]*trace.Scan{d.scanOf(t)}, trace.Options{DPI: 1200, Joint: "lock-miter"})
		require.NoError(t, err)
		rms, most := apart(q, r.Profile)
		t.Logf("seed %d: board %.4f tilt %.3f centre %.4f %.4f (true %.4f %.4f) sure %.4f, profile rms %.4f most %.4f sure %.4f, %d edges of %d, blur %.4f noise %.4f", seed, r.Board, r.Tilt,
			r.Centre[0], r.Centre[1], centre[0], centre[1], r.Sure.Centre, rms, most, r.Sure.Profile, r.Profile.Edges(), q.Edges(), r.Blur, r.Noise)
		assert.InDelta(t, 19, r.Board, 0.01)
		assert.InDelta(t, centre[0], r.Centre[0], 0.02)
		assert.InDelta(t, centre[1], r.Centre[1], 0.02)
		assert.Less(t, rms, 0.03)
	}
}
