package plate

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
	"blockwright/jig/shop"
)

// worked is an invented 45° lock miter cutter, 30 high.
func worked(t *testing.T) *cutter.Cutter {
	t.Helper()
	p, err := geom.NewPath(false, geom.V(34, 0), geom.V(24, 10), geom.V(25.5, 10.5), geom.V(25.5, 14.4),
		geom.V(12.5, 15.6), geom.V(12.5, 19.5), geom.V(14, 20), geom.V(4, 30))
	require.NoError(t, err)
	return &cutter.Cutter{Handle: "worked", Name: "Worked 45", Joint: "lock-miter", Units: "mm", Shank: 12, Profile: p, Known: [2]bool{true, true}}
}

var table = shop.Table{InsertOpening: 98, Pin: 6, FenceWidth: 120, FenceHeight: 60, LiftLow: -40, LiftHigh: 60}

func solve(t *testing.T, c *cutter.Cutter, stock float64) joint.Pass {
	t.Helper()
	s, err := joint.Solve(joint.Request{Cutter: c, Stock: stock})
	require.NoError(t, err)
	return s.Passes[0]
}

func request(t *testing.T, stock float64) BlockRequest {
	return BlockRequest{Pass: solve(t, worked(t), stock), Table: table, Thick: 6, Clear: 0.4, Ease: 0.5, Mark: "WORKED 45\nT 19 MM"}
}

// fitBlock fits the best design that one of the mills can cut.
func fitBlock(t *testing.T, r BlockRequest, mills ...float64) []Cut {
	t.Helper()
	designs, err := Blocks(r)
	require.NoError(t, err)
	cuts, err := FitAll(designs, mills)
	require.NoError(t, err)
	return cuts
}

func TestBlockSeatsOfTheWorkedCutter(t *testing.T) {
	cuts := fitBlock(t, request(t, 19), 6, 3.175, 2)
	require.Len(t, cuts, 2)
	b := cuts[0]
	assert.Equal(t, 3.175, b.Mill, "6 mm does not enter the groove of 3.9")
	kept := map[string]geom.Path{}
	for i, s := range b.Seats {
		kept[s.Name] = b.Kept[i]
	}
	// The flank from (16, 8.9) to (3, 10.1) faces most nearly down: only its outer
	// end is eased, the relief at its inner end lies along it.
	assert.InDelta(t, math.Hypot(13, 1.2)-0.5, kept["height"].Length(), 1e-6)
	// The proud land at x = 3 keeps 2.9 of its 3.9.
	assert.InDelta(t, 2.9, kept["fence"].Length(), 1e-6)
	assert.InDelta(t, 3, kept["fence"].Start()[0], 1e-9)
	// At least 40 mm of table edge beyond the insert opening, its rounded end not
	// counted in.
	edge := b.Outline.Bound().Max[0] - (98.0/2 - 9.5)
	assert.GreaterOrEqual(t, edge, 40.0)
}

// The block's outline holds the cutter's own edge at the setting.
func TestOutlineIsTheCutLine(t *testing.T) {
	for _, stock := range []float64{13, 16, 19, 19.05, 25.4, 30} {
		r := request(t, stock)
		designs, err := Blocks(r)
		require.NoError(t, err)
		d, at := geom.Farthest(boardEnd(r.Pass.CutLine, r.Pass.Stock), designs[0][0].Outline, 1e-9)
		assert.Less(t, d, 1e-9, "stock %g at %v", stock, at)
	}
}

func TestWallIsOutlineAlongSeats(t *testing.T) {
	for _, stock := range []float64{17, 19, 25.4} {
		for _, mill := range []float64{2, 3.175} {
			for _, c := range fitBlock(t, request(t, stock), mill) {
				for i, k := range c.Kept {
					d, at := geom.Farthest(k, c.Wall, 1e-9)
					assert.Less(t, d, geom.Tol, "%s %s at %v", c.Part, c.Seats[i].Name, at)
					d, at = geom.Farthest(k, c.Outline, 1e-9)
					assert.Less(t, d, geom.Tol, "%s %s at %v", c.Part, c.Seats[i].Name, at)
					assert.GreaterOrEqual(t, k.Length(), MinSeat-geom.Tol)
				}
			}
		}
	}
}

// Every inside radius of the wall is at least the mill's: rolling the mill along
// it leaves nothing more.
func TestMillLeavesTheWall(t *testing.T) {
	for _, stock := range []float64{16, 19, 25.4} {
		for _, c := range fitBlock(t, request(t, stock), 3.175) {
			again, _, err := reach(c.Wall, c.Mill/2)
			require.NoError(t, err)
			for _, p := range again {
				d, at := geom.Farthest(p, c.Wall, 1e-9)
				assert.Less(t, d, 2*geom.Tol, "%s at %v", c.Part, at)
			}
			for _, p := range c.Wall {
				d, at := geom.Farthest(p, again, 1e-9)
				assert.Less(t, d, 2*geom.Tol, "%s at %v", c.Part, at)
			}
		}
	}
}

// Nowhere does the wall lie deeper inside the outline than clearance, ease and
// reliefs ask for. The deepest relief is in the sharpest corner, α = 63.4° at
// (14, 20), along an edge: ρ(1 + cos α), derived here.
func TestWallStaysNearTheOutline(t *testing.T) {
	for _, mill := range []float64{2, 3.175} {
		for _, c := range fitBlock(t, request(t, 19), mill) {
			for _, p := range c.Wall {
				d, at := geom.Farthest(p, c.Outline, 1e-9)
				assert.Less(t, d, mill/2*(1+math.Cos(math.Atan(2)))+0.5, "%s at %v", c.Part, at)
			}
		}
	}
}

// A mill that cuts 0.1 more than stated moves the worked cutter's setting by
// 0.004 to 0.006; derived here by hand: 0.05·0.088/0.996 = 0.0044.
func TestToolErrorCancels(t *testing.T) {
	r := request(t, 19)
	c := fitBlock(t, r, 3.175)[0]
	f, err := Measure(c, r.Pass, 30)
	require.NoError(t, err)
	assert.InDelta(t, 0.0044, math.Abs(f.PerTool[0]), 0.0002)
	assert.Less(t, math.Abs(f.PerTool[1]), 1e-6)
	for _, s := range f.Standoff {
		want := math.Max(0, math.Max(s.E, s.E+s.DZ*13/1.2))
		assert.InDelta(t, want, s.Gap, 1e-6, "dz %g, e %g", s.DZ, s.E)
	}
	require.NotEmpty(t, f.Shims)
	assert.Equal(t, Shim{0.5, 20}, f.Shims[0])
}

// A block for T on a shim, with the same shim at the fence, is exact for the
// stock T + 2q.
func TestShimsAreExact(t *testing.T) {
	c := worked(t)
	thin, thick := solve(t, c, 17), solve(t, c, 20)
	assert.InDelta(t, 1.5, thick.Height-thin.Height, 1e-9)
	assert.InDelta(t, 1.5, thin.Fence-thick.Fence, 1e-9)
}

func TestTooBigNamesTheLargest(t *testing.T) {
	designs, err := Blocks(request(t, 19))
	require.NoError(t, err)
	_, err = FitAll(designs, []float64{12})
	var big *TooBig
	require.ErrorAs(t, err, &big)
	assert.Greater(t, big.Largest, 3.0)
	_, err = FitAll(designs, []float64{big.Largest})
	assert.NoError(t, err)
}

func TestCrossLapGoesTogether(t *testing.T) {
	for _, c := range fitBlock(t, request(t, 19), 3.175) {
		at := orb.Point{3, 29 + 3} // in the ear's slot
		half := 3.0                // of the sheet
		if c.Part == "crossbar" {
			at = orb.Point{barDepth - 3, 0}
		}
		assert.Positive(t, c.Wall.SignedDist(at), "%s: the lap is open", c.Part)
		// A square-edged sheet, 6 thick, goes to the bottom.
		x := [2]float64{0.1, barDepth / 2}
		if c.Part == "crossbar" {
			x = [2]float64{barDepth / 2, barDepth - 0.1}
		}
		for _, dy := range []float64{-half, half} {
			for k := 0.0; k <= 1; k += 0.05 {
				q := orb.Point{x[0] + k*(x[1]-x[0]), at[1] + dy}
				assert.GreaterOrEqual(t, c.Wall.SignedDist(q), -1e-9, "%s at %v", c.Part, q)
			}
		}
	}
}

func TestGaugeFromPin(t *testing.T) {
	p, c, err := Gauge(GaugeRequest{Pass: solve(t, worked(t), 19), Table: table, Thick: 6, From: "pin", Mark: "PIN 6"})
	require.NoError(t, err)
	assert.InDelta(t, 3-9.5, c.X, 1e-12)
	assert.Zero(t, c.Change)
	cut, err := Fit(p, []float64{6})
	require.NoError(t, err)
	for i, s := range cut.Seats {
		assert.InDelta(t, s.Path.Length(), cut.Kept[i].Length(), 1e-6, s.Name)
		want := 0.0
		if s.Name == "nose" {
			want = c.X
			assert.GreaterOrEqual(t, cut.Kept[i].Length(), 15.0)
		}
		assert.InDelta(t, want, s.Path.Start()[0], 1e-12)
		assert.InDelta(t, want, s.Path.End()[0], 1e-12)
	}
}

// On an offcut of 6 the gauge reads the worked cutter's tongue whatever the
// height; on 9 an error of 0.1 moves it by 1.08.
func TestGaugeFromCutter(t *testing.T) {
	r := GaugeRequest{Pass: solve(t, worked(t), 19), Table: table, Thick: 6, From: "cutter",
		Sheets: []shop.Sheet{{Name: "six", Thickness: 6}, {Name: "nine", Thickness: 9}}}
	_, c, err := Gauge(r)
	require.NoError(t, err)
	assert.Equal(t, "an offcut of six", c.Support)
	assert.InDelta(t, 16, c.X, 1e-9)
	assert.InDelta(t, 0, c.Change, 1e-9)
	// Lowered by 0.1 under a bar at 9, the tongue's shoulder at 8.9 slides down
	// the flank: 0.1·13/1.2.
	at := greatest(r.Pass, 9, 15)
	assert.InDelta(t, 1.083, at-greatest(r.Pass, 9.1, 15.1), 0.001)
}

func TestGaugeRefuses(t *testing.T) {
	pass := solve(t, worked(t), 19)
	for _, tt := range []struct {
		name, want string
		r          GaugeRequest
	}{
		{"no pin", "states no setup pin", GaugeRequest{Pass: pass, Table: shop.Table{FenceWidth: 120}, Thick: 6, From: "pin"}},
		{"unknown", `not "edge"`, GaugeRequest{Pass: pass, Table: table, Thick: 6, From: "edge"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, _, err := Gauge(tt.r)
			assert.ErrorContains(t, err, tt.want)
		})
	}
}

func BenchmarkBlock(b *testing.B) {
	t := &testing.T{}
	r := request(t, 19)
	for b.Loop() {
		designs, err := Blocks(r)
		if err != nil {
			b.Fatal(err)
		}
		cuts, err := FitAll(designs, []float64{3.175})
		if err != nil {
			b.Fatal(err)
		}
		if _, err := Measure(cuts[0], r.Pass, 30); err != nil {
			b.Fatal(err)
		}
	}
}
