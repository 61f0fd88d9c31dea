package geom

import (
	"math"
	"math/rand"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The closed form against points taken densely, every pair of kinds.
func TestFarthestFromAgainstSampling(t *testing.T) {
	es := someEdges()
	r := rand.New(rand.NewSource(4))
	for range 3000 {
		e, f := es[r.Intn(len(es))], es[r.Intn(len(es))]
		if r.Intn(4) == 0 { // one circle, or a concentric one
			f = e
		}
		es, fs := e.span(), f.span()
		d, at := es.farthestFrom(&fs)
		require.InDelta(t, 0, e.Dist(at), 1e-8)
		slack := 0.0
		if !e.Straight() {
			if _, r := e.Arc(); r > flat {
				slack = math.Abs(e.Bulge) * dist(e.A, e.B)
			}
		}
		require.InDelta(t, d, f.Dist(at), 1e-8+slack)
		best, n := 0.0, 500
		for k := range n + 1 {
			best = math.Max(best, f.Dist(e.At(float64(k)/float64(n))))
		}
		require.LessOrEqual(t, best, d+1e-8, "%v from %v", e, f)
		require.LessOrEqual(t, d, best+e.Length()/float64(n)+slack)
	}
}

func TestFarthestAgainstSampling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seat := genPath(rapid.Bool().Draw(t, "closed")).Draw(t, "seat")
		from := []Path{genPath(true).Draw(t, "p"), genPath(false).Draw(t, "q")}
		tol := math.Pow(10, rapid.Float64Range(-8, 0).Draw(t, "log tol"))
		d, at := Farthest(seat, from, tol)
		require.InDelta(t, 0, seat.Nearest(at).Dist, 1e-8)
		require.InDelta(t, d, Nearest(from, at).Dist, 1e-8)
		l := seat.Length()
		for k := range 1000 {
			q := seat.Point(seat.AtLength(l * float64(k) / 999))
			require.LessOrEqual(t, Nearest(from, q).Dist, d+tol+1e-9)
		}
		back, _ := Farthest(seat.Reverse(), from, tol)
		require.InDelta(t, d, back, tol+1e-9)
	})
}

func TestFarthestByHand(t *testing.T) {
	sq := Rect(0, 0, 10, 10)
	for _, tt := range []struct {
		name string
		seat Path
		from []Path
		want float64
	}{
		{"circle in a square", Circle(orb.Point{5, 5}, 5), []Path{sq}, 5 - 5/math.Sqrt2},
		{"square round a circle", sq, []Path{Circle(orb.Point{5, 5}, 5)}, 5*math.Sqrt2 - 5},
		{"between two points", Path{V: []Vertex{V(0, 0), V(10, 0)}}, []Path{{V: []Vertex{V(0, 3)}}, {V: []Vertex{V(10, 3)}}}, math.Sqrt(34)},
		{"on itself", sq, []Path{sq.Reverse()}, 0},
		{"a point", Path{V: []Vertex{V(3, 4)}}, []Path{{V: []Vertex{V(0, 0)}}}, 5},
		{"beside it", Path{V: []Vertex{V(0, 3), V(1000, 3)}}, []Path{{V: []Vertex{V(-5, 0), V(333, 0), V(334, 0), V(1005, 0)}}}, 3},
		{"from the centre of an arc", Path{V: []Vertex{V(0, 0), V(0, 1)}}, []Path{{V: []Vertex{B(1, 0, 1), V(-1, 0)}}}, 1},
		{"nothing to sit on", Path{}, []Path{sq}, 0},
		{"nothing to measure from", sq, []Path{{}}, math.Inf(1)},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d, _ := Farthest(tt.seat, tt.from, 1e-9)
			if math.IsInf(tt.want, 1) {
				require.Equal(t, tt.want, d)
				return
			}
			require.InDelta(t, tt.want, d, 2e-9)
		})
	}
}

func TestHausdorff(t *testing.T) {
	a := []Path{Circle(orb.Point{0, 0}, 3)}
	b := []Path{Circle(orb.Point{0.5, 0}, 3.25)}
	d, _ := Hausdorff(a, b, 1e-9)
	require.InDelta(t, 0.75, d, 2e-9)
	back, _ := Hausdorff(b, a, 1e-9)
	require.InDelta(t, d, back, 2e-9)
	d, _ = Hausdorff(nil, nil, 1)
	require.Zero(t, d)
	d, _ = Hausdorff(a, nil, 1)
	require.True(t, math.IsInf(d, 1))
}

// wavy is the closed path of n arcs through points of a circle of radius 100 with
// 20 waves of 3 mm.
func wavy(n int) Path {
	p := Path{Closed: true, V: make([]Vertex, n)}
	at := func(i float64) orb.Point {
		th := 2 * math.Pi * i / float64(n)
		r := 100 + 3*math.Sin(20*th)
		return orb.Point{r * math.Cos(th), r * math.Sin(th)}
	}
	for i := range p.V {
		a, m, b := at(float64(i)), at(float64(i)+0.5), at(float64(i)+1)
		c := dist(a, b)
		s := ((m[0]-a[0])*(b[1]-a[1]) - (m[1]-a[1])*(b[0]-a[0])) / c
		p.V[i] = Vertex{a, 2 * s / c}
	}
	return p
}

// A wall of 200 arcs and a tool path round it at the mill's radius, of 320 edges:
// the distance is constant nearly everywhere.
func BenchmarkFarthest200(b *testing.B) {
	wall := wavy(200)
	var moves Path
	moves.Closed = true
	for i := range wall.V {
		e := wall.Edge(i)
		k := 1
		if i%5 < 3 {
			k = 2
		}
		for j := range k {
			f := e.part(float64(j)/float64(k), float64(j+1)/float64(k))
			u := f.Direction(0)
			q := orb.Point{f.A[0] + 1.5875*u[1], f.A[1] - 1.5875*u[0]}
			moves.V = append(moves.V, Vertex{q, f.Bulge})
		}
	}
	from := []Path{moves}
	b.ReportAllocs()
	for b.Loop() {
		Farthest(wall, from, 1e-6)
	}
}

func BenchmarkHausdorff5000(b *testing.B) {
	p := []Path{wavy(5000)}
	q := []Path{p[0].Move(Shift(0.01, 0.02))}
	for b.Loop() {
		Hausdorff(p, q, 1e-6)
	}
}

// The same 10 m away.
func TestFarthestFarAway(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seat, from := genPath(true).Draw(t, "seat"), genPath(true).Draw(t, "from")
		d, _ := Farthest(seat, []Path{from}, 1e-7)
		far := Shift(1e4, -1e4)
		e, _ := Farthest(seat.Move(far), []Path{from.Move(far)}, 1e-7)
		require.InDelta(t, d, e, 1.1e-7)
	})
}

// Rubbish in must not panic or hang.
func TestDistancesOfRubbish(t *testing.T) {
	bad := []float64{0, 1, -1, 1e300, -1e300, math.NaN(), math.Inf(1), 1e-300, 1e15, 7, 3}
	for seed := range 3000 {
		r := rand.New(rand.NewSource(int64(seed)))
		draw := func() Path {
			p := Path{Closed: r.Intn(2) > 0}
			for range r.Intn(5) {
				p.V = append(p.V, B(bad[r.Intn(len(bad))], bad[r.Intn(len(bad))], bad[r.Intn(len(bad))]))
			}
			return p
		}
		p, q := draw(), draw()
		Farthest(p, []Path{q}, 1e-6)
		Hausdorff([]Path{p}, []Path{q}, 1e-6)
		Closest([]Path{p}, []Path{q})
		_, _ = Centre(p)
		_ = Region{p, q}.Check()
		Region{p}.ContainsPath(q)
		p.Merge()
		p.Corner(1)
		_, _ = p.Root(1, 1)
		p.Cut(1, 5)
		p.Winding(orb.Point{})
	}
}

// One search for several seats finds what a search for each finds.
func TestFarthestOfSeveral(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(-20, 20)
		path := func() (p Path) {
			for range rapid.IntRange(0, 5).Draw(t, "vertices") {
				p.V = append(p.V, B(f.Draw(t, "x"), f.Draw(t, "y"), rapid.Float64Range(-1, 1).Draw(t, "bulge")))
			}
			return p
		}
		var seats, from []Path
		for range rapid.IntRange(0, 4).Draw(t, "seats") {
			seats = append(seats, path())
		}
		for range rapid.IntRange(0, 3).Draw(t, "paths") {
			from = append(from, path())
		}
		want := -1.0
		for _, p := range seats {
			if len(p.V) > 0 {
				d, _ := Farthest(p, from, 1e-9)
				want = math.Max(want, d)
			}
		}
		got, at := FarthestOf(seats, from, 1e-9)
		if got != want && math.Abs(got-want) > 3e-9 {
			t.Fatalf("%v at %v; want %v", got, at, want)
		}
	})
}
