package plate

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/geom"
	"blockwright/jig/joint"
	"blockwright/testdata/random"
)

// A block of any such cutter sets height and fence although the mill cuts 0.1 wider
// or narrower than stated; a cutter that stands low does not touch
// it but at the fence seat; wall and outline are one along every seat.
func TestRandomBlocks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := random.Lock(t)
		stock := rapid.Float64Range(17, 2*c.Top()/2-2).Draw(t, "stock")
		s, err := joint.Solve(joint.Request{Cutter: c, Stock: stock})
		if err != nil {
			t.Skip(err)
		}
		r := BlockRequest{Pass: s.Passes[0], Table: table, Thick: rapid.Float64Range(4, 12).Draw(t, "thick"), Clear: 0.4, Ease: 0.5}
		designs, err := Blocks(r)
		require.NoError(t, err)
		cuts, err := FitAll(designs, []float64{6, 3.175, 2, 1})
		var big *TooBig
		if errors.As(err, &big) {
			// A refusal names a mill that would do.
			require.Positive(t, big.Largest, err.Error())
			_, err = FitAll(designs, []float64{big.Largest})
			require.NoError(t, err)
			return
		}
		require.NoError(t, err)
		f, err := Measure(cuts[0], r.Pass, s.Range[1])
		require.NoError(t, err)
		// A flank that falls by m in 1 keeps w(1 + m - √(1 + m²)) of an error w of
		// the offset, here 0.05; the vertical land keeps nothing. Derived here.
		for _, seat := range cuts[0].Seats {
			if seat.Fixes == 'z' {
				d := seat.Path.Edge(0).Direction(0)
				m := math.Abs(d[1] / d[0])
				require.InDelta(t, 0.05*(1+m-math.Hypot(1, m)), math.Abs(f.PerTool[0]), 3e-4, "mill %g", cuts[0].Mill)
			}
		}
		require.Less(t, math.Abs(f.PerTool[1]), 1e-6, "mill %g", cuts[0].Mill)
		for _, o := range f.Standoff {
			if o.DZ <= 0 {
				require.InDelta(t, o.E, o.Gap, 1e-6, "dz %g", o.DZ)
			}
		}
		b := newBench(cuts[0].Wall, cuts[0].Kept, r.Pass)
		require.LessOrEqual(t, b.overlap(-0.25, 0), 1e-6)
		for _, cut := range cuts {
			for i, k := range cut.Kept {
				d, at := geom.Farthest(k, cut.Wall, 1e-9)
				require.Less(t, d, geom.Tol, "%s at %v", cut.Seats[i].Name, at)
			}
		}
	})
}
