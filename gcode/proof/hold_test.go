package proof_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/geom"
)

func TestHoldGoodProgram(t *testing.T) {
	r := proof.Hold(good().ms, mill, plate())
	for _, f := range r.Findings {
		t.Log(f.Code, f.Text)
	}
	require.Empty(t, r.Findings)
	assert.InDelta(t, 0, r.Gouge.Size, 1e-6)
	assert.InDelta(t, 0, r.Leftover.Size, 1e-6)
	require.Len(t, r.Tabs, 2)
	for _, tab := range r.Tabs {
		assert.InDelta(t, 4+mill, tab.Size, 1e-3)
	}
}

// gear is a wavy circle of n arcs that bulge out and n that bulge in, tangent to
// each other, offset outward by d: the centres stay, the radii change.
func gear(n int, d float64) geom.Path {
	const p1, p2 = 98.0, 102.0 // of the centres
	c := orb.Point{110, 110}
	step := math.Pi / float64(n)
	at := func(k int) orb.Point {
		r := p1
		if k%2 != 0 {
			r = p2
		}
		s, co := math.Sincos(step * float64(k))
		return orb.Point{c[0] + r*co, c[1] + r*s}
	}
	l := math.Hypot(p1-p2*math.Cos(step), p2*math.Sin(step))
	out, in := l*0.48+d, l*0.52-d
	p := geom.Path{Closed: true}
	// arc k starts where the line from centre k-1 to centre k meets both circles
	start := func(k int) orb.Point {
		r, a, b := out, at(k-1), at(k)
		if (k-1)%2 != 0 {
			r = in
		}
		return orb.Point{a[0] + (b[0]-a[0])*r/l, a[1] + (b[1]-a[1])*r/l}
	}
	for k := range 2 * n {
		m, a, b := at(k), start(k), start(k+1)
		u, v := orb.Point{a[0] - m[0], a[1] - m[1]}, orb.Point{b[0] - m[0], b[1] - m[1]}
		turn := math.Atan2(u[0]*v[1]-u[1]*v[0], u[0]*v[0]+u[1]*v[1])
		p.V = append(p.V, geom.B(a[0], a[1], math.Tan(turn/4)))
	}
	return p
}

// ring mills gear(n): a rough pass that ramps down all round, once more at the
// bottom over the first layer, and a finishing pass, 0.2 nearer.
func ring(n int) (ms []gcode.Move, p proof.Part) {
	p = proof.Part{Wall: geom.Region{gear(n, 0)}, Sheet: orb.Bound{Max: orb.Point{220, 220}}, Thick: 3, Rules: proof.House()}
	p.Rules.Step, p.Rules.Hold, p.Rules.TabHigh = 2, proof.Unknown, 0
	h := start()
	rough := gear(n, 1.7)
	h.to(rough.Start()[0], rough.Start()[1])
	h.down(0)
	dz := math.Tan(4*math.Pi/180) * rough.Edge(0).Length()
	z := 0.0
	for i := 0; z > -3.3; i++ {
		z = math.Max(-3.3, z-math.Min(dz, 1.65/float64(n)))
		h.edge(rough.Edge(i%rough.Edges()), z)
	}
	for i := range rough.Edges() * 2 / 3 {
		h.edge(rough.Edge(i), -3.3)
	}
	h.back(geom.Path{V: rough.V[:rough.Edges()*2/3+1]}, -3.3)
	fine := gear(n, 1.5)
	h.line(fine.Start()[0], fine.Start()[1], -3.3)
	h.follow(fine, -3.3)
	h.up()
	return h.ms, p
}

func TestHoldRing(t *testing.T) {
	ms, p := ring(100)
	r := proof.Hold(ms, mill, p)
	t.Log(len(ms), codes(r))
	if len(r.Findings) > 0 {
		t.Log(r.Findings[0])
	}
	assert.InDelta(t, 0, r.Gouge.Size, 1e-6)
	assert.InDelta(t, 0, r.Leftover.Size, 1e-6)
}

func BenchmarkHold(b *testing.B) {
	for _, n := range []int{45, 100, 400} {
		ms, p := ring(n)
		b.Run(fmt.Sprintf("%d_moves_%d_arcs", len(ms), 2*n), func(b *testing.B) {
			for b.Loop() {
				proof.Hold(ms, mill, p)
			}
		})
	}
	w := trades()[0]
	_, _, ms := w.judge(w.print(b))
	for _, x := range []struct {
		name string
		ms   []gcode.Move
		part proof.Part
		mill float64
	}{{"plate", good().ms, plate(), mill}, {"two_blocks", ms, w.part(), w.tool.Diameter}} {
		b.Run(fmt.Sprintf("%d_moves_%s", len(x.ms), x.name), func(b *testing.B) {
			for b.Loop() {
				proof.Hold(x.ms, x.mill, x.part)
			}
		})
	}
}
