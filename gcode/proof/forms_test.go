package proof_test

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/geom"
)

// carried is a program and its part moved by m.
func carried(ms []gcode.Move, p proof.Part, m geom.Iso) ([]gcode.Move, proof.Part) {
	at := func(q [3]float64) [3]float64 {
		x := m.Point(orb.Point{q[0], q[1]})
		return [3]float64{x[0], x[1], q[2]}
	}
	out := make([]gcode.Move, len(ms))
	for i, v := range ms {
		v.From, v.To, v.Centre = at(v.From), at(v.To), m.Point(v.Centre)
		if m.Flips() && v.Arc() {
			v.Op = gcode.CW + gcode.CCW - v.Op
		}
		out[i] = v
	}
	a, b := m.Point(p.Sheet.Min), m.Point(p.Sheet.Max)
	p.Sheet = orb.MultiPoint{a, b}.Bound()
	p.Wall, p.Drill, p.Keep = p.Wall.Move(m), geom.MoveAll(p.Drill, m), geom.MoveAll(p.Keep, m)
	if m.Flips() {
		for i := range p.Drill {
			p.Drill[i] = p.Drill[i].Reverse()
		}
	}
	return out, p
}

// halved is the path with every edge in two.
func halved(p geom.Path) geom.Path {
	out := geom.Path{Closed: p.Closed}
	for i := range p.Edges() {
		a, b := p.Edge(i).Split(0.37)
		out.V = append(out.V, geom.Vertex{Point: a.A, Bulge: a.Bulge}, geom.Vertex{Point: b.A, Bulge: b.Bulge})
	}
	return out
}

// The figures are the same wherever program and part lie, however they are turned
// and mirrored, wherever the walls begin, and into however many edges they are cut.
func TestHoldForms(t *testing.T) {
	h, p := good(), plate()
	for i := range h.ms { // the window a little too large on one side, the outline too wide on another
		for _, q := range []*[3]float64{&h.ms[i].From, &h.ms[i].To} {
			if q[0] == 98.5 {
				q[0] += 0.0123
			}
			if q[1] == 18.5 && q[2] == deep {
				q[1] -= 0.0234
			}
		}
	}
	want := proof.Hold(h.ms, mill, p)
	require.InDelta(t, 0.0123, want.Gouge.Size, 1e-4)
	require.InDelta(t, 0.0234, want.Leftover.Size, 1e-4)
	require.Len(t, want.Tabs, 2)
	same := func(name string, ms []gcode.Move, p proof.Part) {
		t.Helper()
		got := proof.Hold(ms, mill, p)
		assert.InDelta(t, want.Gouge.Size, got.Gouge.Size, 1e-6, name)
		assert.InDelta(t, want.Leftover.Size, got.Leftover.Size, 1e-6, name)
		assert.Equal(t, codes(want), codes(got), name)
		if assert.Len(t, got.Tabs, 2, name) {
			for _, tab := range got.Tabs {
				assert.InDelta(t, 4+mill, tab.Size, 1e-3, name)
			}
		}
	}
	for name, m := range map[string]geom.Iso{
		"far":      geom.Shift(9800, -9700),
		"turned":   geom.Turn(1, orb.Point{30, 70}),
		"half":     geom.HalfTurn(orb.Point{100, 75}),
		"mirrored": geom.MirrorX(40),
		"all":      geom.MirrorY(11).Then(geom.Turn(-0.3, orb.Point{5, 5})).Then(geom.Shift(-5000, 8000)),
	} {
		ms, q := carried(h.ms, p, m)
		if name == "turned" || name == "all" {
			q.Sheet = orb.Bound{} // a turned sheet is no box
		}
		same(name, ms, q)
	}
	for i, w := range p.Wall {
		for k := range w.V {
			q := p
			q.Wall = append(geom.Region{}, p.Wall...)
			q.Wall[i] = w.Rotate(k)
			same("start", h.ms, q)
		}
	}
	q := p
	q.Wall = geom.Region{}
	for _, w := range p.Wall {
		q.Wall = append(q.Wall, halved(halved(halved(w))))
	}
	q.Drill = []geom.Path{halved(p.Drill[0]).Reverse()}
	same("split", h.ms, q)
	// moves in pieces
	var ms []gcode.Move
	for _, m := range h.ms {
		if m.Op != gcode.Line || m.From == m.To {
			ms = append(ms, m)
			continue
		}
		a, b := m, m
		for k := range 3 {
			a.To[k] = m.From[k] + 0.41*(m.To[k]-m.From[k])
		}
		b.From = a.To
		ms = append(ms, a, b)
	}
	same("pieces", ms, p)
}
