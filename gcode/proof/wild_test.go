package proof_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/geom"
)

// wild makes moves without any sense: lines, helices and upright arcs through
// sheet, part and air.
func wild(r *rand.Rand, n int) []gcode.Move {
	h := start()
	c := func(lo, hi float64) float64 {
		if r.IntN(3) == 0 {
			return math.Round(lo + r.Float64()*(hi-lo))
		}
		return lo + r.Float64()*(hi-lo)
	}
	h.rapid(c(10, 130), c(10, 100), 5)
	for range n {
		to := [3]float64{c(10, 130), c(10, 100), c(-7, 3)}
		m := gcode.Move{Op: gcode.Line, To: to}
		switch r.IntN(6) {
		case 0:
			m.To[0], m.To[1] = h.at[0], h.at[1]
		case 1, 2, 3:
			m.Op = gcode.CW + uint8(r.IntN(2))
			m.Plane = uint8(r.IntN(3))
			a, b, _ := m.Axes()
			m.Centre = orb.Point{h.at[a] + c(-9, 9), h.at[b] + c(-9, 9)}
			turn := c(0.1, 6.2)
			if r.IntN(4) == 0 {
				turn = 2 * math.Pi
			}
			if m.Op == gcode.CW {
				turn = -turn
			}
			s, k := math.Sincos(turn)
			u, v := h.at[a]-m.Centre[0], h.at[b]-m.Centre[1]
			m.To[a], m.To[b] = m.Centre[0]+k*u-s*v, m.Centre[1]+s*u+k*v
			if math.Abs(turn) == 2*math.Pi {
				m.To[a], m.To[b] = h.at[a], h.at[b]
			}
		case 4:
			m.Op = gcode.Rapid
		}
		h.add(m)
	}
	return h.ms
}

// No move, however odd, has a gouge that dense sampling finds and the proof does
// not, nor one that it only imagines.
func TestHoldWildMoves(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	p := plate()
	p.Rules = proof.Foreign()
	x := geom.NewIndex(walls(&p)...)
	for range 150 {
		ms := wild(r, 3)
		got := proof.Hold(ms, mill, p).Gouge.Size
		const step = 0.02
		want := math.Inf(-1)
		for i := range ms {
			walk(&ms[i], step, func(q [3]float64) {
				if q[2] < -1e-6 {
					want = math.Max(want, mill/2-solidDist(&p, x, orb.Point{q[0], q[1]}))
				}
			})
		}
		if math.IsInf(want, -1) {
			continue
		}
		require.GreaterOrEqual(t, got, want-2e-6)
		require.LessOrEqual(t, got, want+2*step, "%+v", ms)
	}
}

// The same without upright arcs, sharply.
func TestHoldWildFlatMoves(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	p := plate()
	p.Rules = proof.Foreign()
	for range 300 {
		ms := wild(r, 3)
		flat := true
		for _, m := range ms {
			flat = flat && m.Plane == gcode.PlaneXY
		}
		if !flat {
			continue
		}
		got := proof.Hold(ms, mill, p).Gouge.Size
		const step = 0.02
		want := sampledGouge(ms, mill, &p, step)
		if math.IsInf(want, -1) {
			continue
		}
		require.GreaterOrEqual(t, got, want-1e-6)
		require.LessOrEqual(t, got, want+step+1e-5)
	}
}

// Nothing makes Hold panic, and every figure is a number.
func FuzzHold(f *testing.F) {
	f.Add(uint64(1), 3.0, 6.0, 0.0, uint8(0), false)
	f.Add(uint64(2), 0.0, 0.0, 6.0, uint8(1), true)
	f.Add(uint64(3), math.NaN(), -1.0, math.Inf(1), uint8(2), true)
	f.Add(uint64(4), 1e9, 1e-9, -5.0, uint8(9), false)
	f.Fuzz(func(t *testing.T, seed uint64, mill, thick, top float64, kind uint8, bare bool) {
		r := rand.New(rand.NewPCG(seed, 1))
		p := plate()
		p.Thick, p.Top, p.Kind = thick, top, proof.Kind(kind)
		p.Engrave = []geom.Path{{V: []geom.Vertex{geom.V(30, 30), geom.B(40, 30, 0.5), geom.V(50, 35)}}, {V: []geom.Vertex{geom.V(1, 1)}}, {}}
		p.Keep = []geom.Path{{V: []geom.Vertex{geom.V(120, 30), geom.V(120, 49)}}, {}}
		if bare {
			p.Wall, p.Drill, p.Sheet = nil, nil, orb.Bound{}
		}
		ms := wild(r, int(seed%17))
		for range seed % 3 {
			m := &ms[r.IntN(len(ms))]
			odd := []float64{math.NaN(), math.Inf(1), 1e300, -1e7, 0, 1e-300}[r.IntN(6)]
			switch r.IntN(5) {
			case 0:
				m.To[r.IntN(3)] = odd
			case 1:
				m.Centre[r.IntN(2)] = odd
			case 2:
				m.Feed = odd
			case 3:
				m.RPM = odd
			default:
				m.Op, m.Plane = uint8(r.IntN(256)), uint8(r.IntN(3))
			}
		}
		if seed%5 == 0 {
			ms = ms[:r.IntN(len(ms)+1)]
		}
		rep := proof.Hold(ms, mill, p)
		for _, w := range append(rep.Tabs, rep.Gouge, rep.Leftover) {
			if math.IsNaN(w.Size) || math.IsInf(w.Size, 0) {
				t.Fatalf("%+v", w)
			}
		}
	})
}
