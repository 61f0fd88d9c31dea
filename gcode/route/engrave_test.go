package route

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/gcode"
	"blockwright/geom"
)

func TestEngraveRunsEveryLineAtDepth(t *testing.T) {
	jobs := board()
	jobs[0].Engrave = []geom.Path{
		{V: []geom.Vertex{geom.V(30, 30), geom.V(60, 30)}},                      // long
		{V: []geom.Vertex{geom.V(30, 40), geom.B(32, 40, 0.5), geom.V(33, 42)}}, // shorter than its ramp
		geom.Circle(orb.Point{50, 50}, 0.6),                                     // the degree sign
		geom.Rect(60, 50, 70, 55),
	}
	tool := mill(0.5)
	tool.ZeroTop = false // the program's zero is the top all the same
	p, err := Engrave(jobs, tool)
	require.NoError(t, err)
	assert.InDelta(t, -0.3, p.Depth, 1e-12)
	slope := 0.0875
	for i, m := range p.Moves {
		l := 0.0
		for _, e := range planar(&m) {
			l += e.Length()
		}
		if fall := m.From[2] - m.To[2]; m.Cuts() && fall > 0 && m.To[2] < 0 {
			assert.Less(t, fall, slope*l, "move %d", i)
		}
		if m.Op == gcode.Rapid && i > 0 {
			assert.GreaterOrEqual(t, m.To[2], 1.0)
			if l > 0 {
				assert.Equal(t, 5.0, m.To[2])
			}
		}
	}
	for _, path := range jobs[0].Engrave {
		for s := 0.0; s <= 1; s += 0.01 {
			q := path.Point(path.AtLength(s * path.Length()))
			found := false
			for _, m := range p.Moves {
				if m.Cuts() && m.From[2] == m.To[2] && m.To[2] < 0 {
					for _, e := range planar(&m) {
						_, d, _ := e.Nearest(q)
						found = found || d < 1e-9
					}
				}
			}
			require.True(t, found, "%v is not engraved at depth", q)
		}
	}
}

func TestEngraveRefuses(t *testing.T) {
	jobs := board()
	jobs[0].Engrave = []geom.Path{{V: []geom.Vertex{geom.V(30, 30)}}}
	tool := mill(0.5)
	_, err := Engrave(jobs, tool)
	require.ErrorContains(t, err, "too short to ramp")
	tool.EngraveDepth = 0.51
	_, err = Engrave(jobs, tool)
	require.ErrorContains(t, err, "engraving 0.51 mm deep; want more than 0, at most 0.5")
	tool.EngraveDepth = 0.4
	jobs[0].Thick = 0.3
	_, err = Engrave(jobs, tool)
	require.ErrorContains(t, err, "goes through the sheet")
}

func TestFrameStaysHigh(t *testing.T) {
	for _, top := range []bool{true, false} {
		tool := Tool{SafeZ: 5, ZeroTop: top}
		b := orb.Bound{Min: orb.Point{10, 20}, Max: orb.Point{90, 70}}
		p, err := Frame(b, 6, tool)
		require.NoError(t, err)
		z := 11.0
		if top {
			z = 5
		}
		seen := orb.Bound{Min: orb.Point{90, 70}, Max: orb.Point{10, 20}}
		for i, m := range p.Moves {
			assert.Equal(t, gcode.Rapid, m.Op)
			assert.Zero(t, m.RPM)
			assert.Equal(t, z, m.To[2])
			if i > 0 {
				seen = seen.Extend(orb.Point{m.To[0], m.To[1]})
			}
		}
		assert.Equal(t, b, seen)
		last := p.Moves[len(p.Moves)-1]
		assert.Equal(t, b.Min, orb.Point{last.To[0], last.To[1]})
	}
	_, err := Frame(orb.Bound{Min: orb.Point{1, 1}}, 6, Tool{SafeZ: 5})
	require.ErrorContains(t, err, "empty")
	_, err = Frame(orb.Bound{}, 6, Tool{})
	require.ErrorContains(t, err, "safe height")
}
