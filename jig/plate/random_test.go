package plate

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
)

// drawLock draws a lock miter cutter with a near-horizontal flank and a vertical
// land: the worked cutter's kind in other sizes, corners rounded or sharp.
func drawLock(t *rapid.T) *cutter.Cutter {
	f := func(lo, hi float64, name string) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	rc, hc := f(18, 24, "rc"), f(12, 16, "hc")
	s := f(4, 6, "s")
	dx, dy := f(0.8, 2, "dx"), f(0.2, 0.6, "dy")
	land := f(4.2, 5, "land")
	half := [][2]float64{
		{rc + hc, 0}, {rc + s, hc - s}, {rc + s + dx, hc - s + dy}, {rc + s + dx, hc - s + dy + land},
	}
	if half[3][1] > hc-0.2 { // the flank falls toward the shank, as it must
		half[3][1] = hc - 0.2
	}
	var v []geom.Vertex
	for _, q := range half {
		v = append(v, geom.V(q[0], q[1]))
	}
	if rapid.Bool().Draw(t, "round") {
		// The tongue's lower corner with a radius, a quarter turn or less.
		r := f(0.2, 0.5, "radius")
		a, b := v[1], v[2]
		l := math.Hypot(b.X()-a.X(), b.Y()-a.Y())
		ux, uy := (b.X()-a.X())/l, (b.Y()-a.Y())/l
		turn := math.Pi/2 - math.Atan2(uy, ux)
		d := r * math.Tan(turn/2)
		v = []geom.Vertex{v[0], v[1], geom.B(b.X()-d*ux, b.Y()-d*uy, math.Tan(turn/4)), geom.V(b.X(), b.Y()+d), v[3]}
	}
	n := len(v)
	for i := n - 1; i >= 0; i-- {
		w := geom.V(2*rc-v[i].X(), 2*hc-v[i].Y())
		if i > 0 {
			w.Bulge = -v[i-1].Bulge
		}
		v = append(v, w)
	}
	p, err := geom.NewPath(false, v...)
	require.NoError(t, err)
	return &cutter.Cutter{Handle: "drawn", Name: "Drawn", Joint: "lock-miter", Units: "mm", Profile: p, Known: [2]bool{true, true}}
}

// A block of any such cutter sets height and fence although the mill cuts 0.1 wider
// or narrower than stated; a cutter that stands low does not touch
// it but at the fence seat; wall and outline are one along every seat.
func TestRandomBlocks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawLock(t)
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
			// A land keeps 2 of its length after half a millimetre at each end.
			require.Less(t, designs[0][0].Seats[2].Path.Length(), 3.2, err.Error())
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
