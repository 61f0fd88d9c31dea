package route

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
)

// cutPlate is a plate whose end is the section of a board, 19 thick, as an
// invented 45° lock miter cutter leaves it; with an ear above, rounded corners, a
// slot and a hanging hole, closed for a mill of radius rho. Its sharp inside
// corners become fillets of exactly the mill's radius.
func cutPlate(t require.TestingT, rho float64) Job {
	p, err := geom.NewPath(true,
		geom.V(19, 0), geom.B(97, 0, 0.41421356237309503), geom.V(100, 3), geom.B(100, 42, 0.41421356237309503), geom.V(97, 45),
		geom.V(0, 45), geom.V(0, 35.1), geom.V(14, 35.1), geom.V(14, 28.9), geom.V(0, 28.9), geom.V(0, 19),
		geom.V(4.5, 14.5), geom.V(3, 14), geom.V(3, 10.1), geom.V(16, 8.9), geom.V(16, 5), geom.V(14.5, 4.5))
	require.NoError(t, err)
	at := geom.Shift(20, 20)
	return Job{
		Name: "block", Wall: closed(t, geom.Region{p}, rho).Move(at), Drill: []geom.Path{geom.Circle([2]float64{110, 55}, 3)},
		Keep: geom.MoveAll([]geom.Path{
			{V: []geom.Vertex{geom.V(59.5, 0), geom.V(97, 0)}},         // table edge
			{V: []geom.Vertex{geom.V(3, 12.4), geom.V(3, 10.1)}},       // land
			{V: []geom.Vertex{geom.V(3, 10.1), geom.V(13.5, 9.13077)}}, // flank
			{V: []geom.Vertex{geom.V(0, 45), geom.V(0, 35.1)}},         // ear
			{V: []geom.Vertex{geom.V(0, 28.9), geom.V(0, 19)}},
		}, at),
		Thick: 6, Allowance: 0.2, Climb: true,
	}
}

func TestCutPlate(t *testing.T) {
	for _, d := range []float64{3.175, 2, 1} {
		for _, climb := range []bool{true, false} {
			tool := mill(d)
			tool.Overtravel = 2
			j := cutPlate(t, d/2)
			j.Climb = climb
			jobs := []Job{j}
			p, err := Plan(jobs, tool)
			require.NoError(t, err)
			s := newSim(p, jobs, tool)
			require.Empty(t, p.Hints)
			s.tol = 1e-7 // fillets of exactly the mill's radius
			require.Empty(t, s.run())
			left := s.left(0, -0.3, 1e-6, 0.05)
			require.Len(t, left, 2)
			for i, x := range p.Tabs {
				assert.LessOrEqual(t, left[i].s1-left[i].s0, tool.TabWidth+d)
				for _, k := range j.Keep {
					for f := 0.0; f <= 1; f += 0.01 {
						q := x.Wall.Point(x.Wall.AtLength(f * x.Wall.Length()))
						assert.Greater(t, k.Nearest(q).Dist, d)
					}
				}
			}
		}
	}
}

func BenchmarkPlanBlock(b *testing.B) {
	jobs, tool := []Job{cutPlate(b, 3.175/2)}, mill(3.175)
	tool.Overtravel = 2
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		p, err := Plan(jobs, tool)
		if err != nil {
			b.Fatal(err)
		}
		n = len(p.Moves)
	}
	b.ReportMetric(float64(n), "moves")
}
