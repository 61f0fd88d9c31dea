package geom

import (
	"math"
	"math/rand"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
)

// symmetric makes a rising path of the half up to the centre and that half turned.
func symmetric(c orb.Point, half ...Vertex) Path {
	p := Path{V: append([]Vertex(nil), half...)}
	n := len(half)
	if dist(half[n-1].Point, c) > join { // an edge through the centre
		p.V[n-1].Bulge = 0
	} else {
		p.V = p.V[:n-1]
	}
	for i := n - 1; i >= 0; i-- {
		if i == n-1 && len(p.V) == n-1 {
			// the last half edge runs on through the centre as its own counterpart
			p.V = append(p.V, Vertex{c, -half[n-2].Bulge})
			p.V[n-2].Bulge = half[n-2].Bulge
			continue
		}
		v := Vertex{Point: orb.Point{2*c[0] - half[i].X(), 2*c[1] - half[i].Y()}}
		if i > 0 {
			v.Bulge = -half[i-1].Bulge
		}
		p.V = append(p.V, v)
	}
	return p
}

func exactProfiles() map[string]struct {
	p Path
	c orb.Point
} {
	type pc = struct {
		p Path
		c orb.Point
	}
	eighth := math.Tan(math.Pi / 8)
	return map[string]pc{
		"worked":   {worked(), orb.Point{19, 15}},
		"rounded":  {rounded(), orb.Point{20, 16}},
		"S of two": {symmetric(orb.Point{10, 8}, V(14, 0), B(14, 5, 0.3), V(10, 8)), orb.Point{10, 8}},
		"shoulders": {symmetric(orb.Point{15, 10}, V(30, 0), V(22, 6), V(24, 6), V(24, 8), V(15.5, 8), V(15.5, 9.9)),
			orb.Point{15, 10}},
		"level through the centre": {symmetric(orb.Point{15, 10}, V(25, 0), V(25, 4), V(20, 10)), orb.Point{15, 10}},
		"rounds and a slope": {symmetric(orb.Point{0.25 * 25.4, 0.5 * 25.4}, V(20, 0), B(17, 3, -eighth), V(14, 6), V(14, 9)),
			orb.Point{0.25 * 25.4, 0.5 * 25.4}},
	}
}

func TestCentreOfExactProfiles(t *testing.T) {
	for name, tt := range exactProfiles() {
		t.Run(name, func(t *testing.T) {
			for _, far := range []orb.Point{{0, 0}, {1e4, -1e4}, {0.123, 45.67}} {
				p, want := tt.p.Move(Shift(far[0], far[1])), orb.Point{tt.c[0] + far[0], tt.c[1] + far[1]}
				s, err := Centre(p)
				require.NoError(t, err)
				require.InDelta(t, 0, dist(want, s.Centre), 1e-9)
				require.InDelta(t, 0, s.Residual, 3e-9)
				b := p.Bound()
				require.InDelta(t, (b.Max[1]-b.Min[1])/2, s.Overlap, 1e-8)
				require.Zero(t, s.Noise)

				// left and right exchanged, and upside down
				m, err := Centre(p.Move(MirrorX(0)))
				require.NoError(t, err)
				require.InDelta(t, 0, dist(orb.Point{-want[0], want[1]}, m.Centre), 1e-9)
				m, err = Centre(p.Move(MirrorY(0)).Reverse())
				require.NoError(t, err)
				require.InDelta(t, 0, dist(orb.Point{want[0], -want[1]}, m.Centre), 1e-9)
			}
		})
	}
}

// An end longer than its counterpart takes overlap, not symmetry.
func TestCentreOfUnequalEnds(t *testing.T) {
	p := worked()
	p.V[0] = V(42, -8)
	s, err := Centre(p)
	require.NoError(t, err)
	require.InDelta(t, 0, dist(orb.Point{19, 15}, s.Centre), 1e-9)
	require.InDelta(t, 15, s.Overlap, 1e-9)
	require.InDelta(t, 0, s.Residual, 1e-9)

	p = worked() // a flat end below, and a cylinder above
	p.V = append([]Vertex{V(10, 0)}, append(p.V, V(4, 36))...)
	s, err = Centre(p)
	require.NoError(t, err)
	require.InDelta(t, 0, dist(orb.Point{19, 15}, s.Centre), 1e-9)
	require.InDelta(t, 0, s.Residual, 1e-9)
}

// The groove made deeper than the tongue is long: the bearing edges decide, the
// clearance is the residual.
func TestCentreWithClearance(t *testing.T) {
	for _, clear := range []float64{0.05, 0.1, 0.4, 1} {
		p := worked()
		// the middle slope 13:1.2 and the shoulder 1.5:0.5 carried on to the bottom
		p.V[4] = V(12.5-clear, 15.6+clear*1.2/13)
		p.V[5] = V(12.5-clear, 19.5-clear/3)
		s, err := Centre(p)
		require.NoError(t, err)
		require.InDelta(t, 0, dist(orb.Point{19, 15}, s.Centre), 1e-9, "clearance %g", clear)
		require.InDelta(t, clear, s.Residual, 0.1*clear)
	}
}

// Figures rounded to a hundredth: no vertex matches exactly any more.
func TestCentreOfRoundedFigures(t *testing.T) {
	for seed := range int64(20) {
		r := rand.New(rand.NewSource(seed))
		p := worked()
		for i := range p.V {
			p.V[i].Point[0] += 0.005 * (2*r.Float64() - 1)
			p.V[i].Point[1] += 0.005 * (2*r.Float64() - 1)
		}
		s, err := Centre(p)
		require.NoError(t, err)
		require.InDelta(t, 0, dist(orb.Point{19, 15}, s.Centre), 0.008)
		require.Less(t, s.Residual, 0.03)
	}
}

func TestCentreAfterDividingEdges(t *testing.T) {
	cases := exactProfiles()
	off := worked()
	off.V[4].Point[0] -= 0.3
	off.V[5].Point[0] -= 0.3
	cases["clearance"] = struct {
		p Path
		c orb.Point
	}{off, orb.Point{}}
	for name, tt := range cases {
		s, err := Centre(tt.p)
		require.NoError(t, err, name)
		for i := range tt.p.Edges() {
			a, b := tt.p.Edge(i).Split(0.37)
			q := tt.p.Clone()
			q.V = append(append(append([]Vertex(nil), q.V[:i]...), Vertex{a.A, a.Bulge}, Vertex{b.A, b.Bulge}), q.V[i+1:]...)
			u, err := Centre(q)
			require.NoError(t, err, name)
			require.InDelta(t, 0, dist(s.Centre, u.Centre), 1e-9, "%s, edge %d divided", name, i)
			require.InDelta(t, s.Residual, u.Residual, 3e-9, "%s, edge %d divided", name, i)
			require.InDelta(t, s.Overlap, u.Overlap, 1e-9)
		}
	}
}

// Equal teeth have many centres; the one nearest the middle has the greatest
// overlap.
func TestCentreOfTeeth(t *testing.T) {
	var p Path
	for k := range 5 {
		y := 4 * float64(k)
		p.V = append(p.V, V(10, y), V(18, y+2), V(18, y+2.5), V(10, y+3.5))
	}
	p.V = append(p.V, V(10, 20))
	s, err := Centre(p)
	require.NoError(t, err)
	require.InDelta(t, 14, s.Centre.X(), 1e-9)
	require.InDelta(t, 1, math.Abs(s.Centre.Y()-10), 1e-9) // 9 and 11 are alike
	require.InDelta(t, 9, s.Overlap, 1e-9)
	require.InDelta(t, 0, s.Residual, 3e-9)

	var q Path
	for k := range 6 { // steps up and in
		q.V = append(q.V, V(30-3*float64(k), 4*float64(k)), V(30-3*float64(k), 4*float64(k)+3))
	}
	s, err = Centre(q)
	require.NoError(t, err)
	require.InDelta(t, 0, dist(orb.Point{22.5, 11.5}, s.Centre), 1e-9)
	require.InDelta(t, 11.5, s.Overlap, 1e-9)
}

func TestNoCentre(t *testing.T) {
	for _, tt := range []struct {
		name string
		p    Path
		err  string
	}{
		{"nothing", Path{}, "without edges"},
		{"a point", Path{V: []Vertex{V(1, 1)}}, "without edges"},
		{"level", Path{V: []Vertex{V(1, 1), V(5, 1)}}, "height"},
		{"a flank", Path{V: []Vertex{V(5, 0), V(1, 9)}}, "no centre"},
		{"no number", Path{V: []Vertex{V(5, 0), V(math.NaN(), 9)}}, "vertex 1"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Centre(tt.p)
			require.ErrorContains(t, err, tt.err)
		})
	}
}

func BenchmarkCentre(b *testing.B) {
	p := worked()
	for b.Loop() {
		if _, err := Centre(p); err != nil {
			b.Fatal(err)
		}
	}
}

// Profiles drawn at random and made symmetric, lines, shoulders and arcs that do
// not fall, with an end longer than its counterpart.
func TestCentreOfRandomProfiles(t *testing.T) {
	for seed := range int64(400) {
		r := rand.New(rand.NewSource(seed))
		x, y := 20+20*r.Float64(), 0.0
		var half []Vertex
		n := 2 + r.Intn(6)
		for i := range n {
			v := V(x, y)
			dx, dy := 8*(r.Float64()-0.5), 0.5+6*r.Float64()
			switch k := r.Intn(6); {
			case k == 0 && i > 0:
				dy = 0
			case k == 1:
				dx = 0
			case k < 4: // an arc that rises: no more turn than its chord's slope allows
				slope := math.Atan2(dy, math.Abs(dx))
				v.Bulge = math.Tan(math.Min(slope, math.Pi/2-slope+0.2) * (r.Float64() - 0.5))
			}
			half = append(half, v)
			x, y = x+dx, y+dy
		}
		half = append(half, V(x, y))
		c := orb.Point{x + 4*(r.Float64()-0.5), y + 0.5 + 3*r.Float64()}
		p := symmetric(c, half...)
		if r.Intn(3) == 0 { // longer at one end
			u := p.Edge(0).Direction(0)
			if u[1] > 0.1 {
				p.V = append([]Vertex{V(p.V[0].X()-9*u[0], p.V[0].Y()-9*u[1])}, p.V...)
			}
		}
		rising := true
		for i := range p.Edges() {
			_, falls := p.Edge(i).Falls()
			rising = rising && !falls
		}
		require.True(t, rising, "seed %d", seed)
		s, err := Centre(p)
		require.NoError(t, err, "seed %d", seed)
		require.InDelta(t, 0, s.Residual, 3e-9, "seed %d: %v for %v", seed, s.Centre, c)
		require.GreaterOrEqual(t, s.Overlap, y, "seed %d", seed)
		require.InDelta(t, 0, dist(c, s.Centre), 1e-9, "seed %d: %+v", seed, p)
	}
}

// Many rounded teeth, drawn: more edges than anybody measures, with arcs.
func TestCentreOfManyArcs(t *testing.T) {
	var half []Vertex
	x := 40.0
	for i := range 20 {
		y := 3 * float64(i)
		half = append(half, B(x, y, 0.2), V(x-0.5, y+1.3), B(x-1.1, y+1.8, -0.15))
		x -= 1.5
	}
	half = append(half, V(x, 60))
	c := orb.Point{x - 1, 61}
	p := symmetric(c, half...)
	require.Greater(t, p.Merge().Edges(), 100)
	s, err := Centre(p)
	require.NoError(t, err)
	require.InDelta(t, 0, dist(c, s.Centre), 1e-9)
	require.InDelta(t, 0, s.Residual, 3e-9)
	require.InDelta(t, 61, s.Overlap, 1e-9)
}

// A tooth on a plain land, as for drawer locks: what lies beyond the shared heights
// and level ends do not count.
func TestCentreOfATooth(t *testing.T) {
	want := orb.Point{14, 6}
	for name, p := range map[string]Path{
		"square":                   {V: []Vertex{V(10, 0), V(10, 6), V(18, 6), V(18, 12)}},
		"with a top":               {V: []Vertex{V(10, 0), V(10, 6), V(18, 6), V(18, 12), V(12, 12)}},
		"long land":                {V: []Vertex{V(10, -9), V(10, 6), V(18, 6), V(18, 12), V(12, 12)}},
		"tooth and a chamfer":      {V: []Vertex{V(10, -9), V(10, 6), V(18, 6), V(18, 12), V(15, 15)}},
		"dovetailed shoulder":      {V: []Vertex{V(10, 0), V(10, 5.5), V(18, 6.5), V(18, 12)}},
		"tip and bottom rounded":   {V: []Vertex{V(10, 0), B(10, 5, math.Tan(-math.Pi/8)), V(11, 6), B(17, 6, math.Tan(math.Pi/8)), V(18, 7), V(18, 12)}},
		"level stretch divided":    {V: []Vertex{V(10, 0), V(10, 6), V(12, 6), V(14, 6), V(18, 6), V(18, 12)}},
		"land divided at the band": {V: []Vertex{V(10, -9), V(10, 0), V(10, 6), V(18, 6), V(18, 12)}},
	} {
		s, err := Centre(p)
		require.NoError(t, err, name)
		require.InDelta(t, 0, dist(want, s.Centre), 1e-9, name)
		if name == "tooth and a chamfer" { // the chamfer lies at a shared height
			require.InDelta(t, 3, s.Residual, 3e-9, name)
			continue
		}
		require.InDelta(t, 0, s.Residual, 3e-9, name)
	}
}
