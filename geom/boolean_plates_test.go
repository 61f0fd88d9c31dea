package geom

import (
	"math"
	"math/rand"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
)

func square(x, y, a float64) Region { return Region{Rect(x, y, x+a, y+a)} }

func disc(x, y, r float64) Region { return Region{Circle(orb.Point{x, y}, r)} }

// What plates are made of: an outline less clearances that share edges, corners and
// tangents with it.
func TestBooleansOfPlates(t *testing.T) {
	pi := math.Pi
	plate := Region{Rect(0, 0, 100, 60)}
	for _, tt := range []struct {
		name   string
		op     byte // + or -
		of     []Region
		paths  int
		corner int // vertices in all
		area   float64
	}{
		{"strip along an edge", '-', []Region{plate, Region{Rect(0, 0, 100, 0.4)}}, 1, 4, 100 * 59.6},
		{"strip along part of it", '-', []Region{plate, Region{Rect(20, 0, 50, 0.4)}}, 1, 8, 6000 - 12},
		{"strip to a corner", '-', []Region{plate, Region{Rect(50, 0, 100, 0.4)}}, 1, 6, 6000 - 20},
		{"strip that reaches out", '-', []Region{plate, Region{Rect(-5, -3, 30, 0.4)}}, 1, 6, 6000 - 12},
		{"chamfer", '-', []Region{plate, Region{{V: []Vertex{V(0, 0), V(0.5, 0), V(0, 0.5)}, Closed: true}}}, 1, 5, 6000 - 0.125},
		{"both chamfers of an edge", '-', []Region{plate,
			Region{{V: []Vertex{V(0, 0), V(0.5, 0), V(0, 0.5)}, Closed: true}},
			Region{{V: []Vertex{V(100, 0), V(100, 0.5), V(99.5, 0)}, Closed: true}}}, 1, 6, 6000 - 0.25},
		{"chamfer and strip beside it", '-', []Region{plate,
			Region{{V: []Vertex{V(0, 0), V(0.5, 0), V(0, 0.5)}, Closed: true}}, Region{Rect(0.5, 0, 40, 0.4)}}, 1, 8, 6000 - 0.125 - 39.5*0.4},
		{"hole", '-', []Region{plate, disc(50, 30, 5)}, 2, 6, 6000 - 25*pi},
		{"hole touching an edge", '-', []Region{plate, disc(50, 5, 5)}, 2, 6, 6000 - 25*pi},
		{"hole touching two edges", '-', []Region{plate, disc(5, 5, 5)}, 2, 9, 6000 - 25*pi},
		{"hole through an edge", '-', []Region{plate, disc(50, 0, 5)}, 1, 6, 6000 - 12.5*pi},
		{"disc at a corner", '-', []Region{plate, disc(0, 0, 5)}, 1, 5, 6000 - 25*pi/4},
		{"disc through a corner, on the bisector", '-', []Region{plate, disc(-3, -3, 3*math.Sqrt2)}, 1, 4, 6000},
		{"two discs touching", '-', []Region{plate, disc(40, 30, 5), disc(50, 30, 5)}, 3, 8, 6000 - 50*pi},
		{"two discs of one edge point", '-', []Region{plate, disc(50, 3, 3), disc(50, 5, 5)}, 2, 6, 6000 - 25*pi},
		{"capsule from an edge", '-', []Region{plate, Region{Slot(orb.Point{50, 0}, orb.Point{50, 20}, 6)}}, 1, 8, 6000 - 120 - 4.5*pi},
		{"slot as wide as the plate", '-', []Region{plate, Region{Rect(40, 0, 46, 60)}}, 2, 8, 6000 - 360},
		{"slot to the exact edge", '-', []Region{plate, Region{Rect(40, 20, 46, 60)}}, 1, 8, 6000 - 240},
		{"nothing left", '-', []Region{plate, Region{Rect(-1, -1, 101, 61)}}, 0, 0, 0},
		{"itself", '-', []Region{plate, plate}, 0, 0, 0},
		{"with itself", '+', []Region{plate, plate}, 1, 4, 6000},
		{"abutting", '+', []Region{square(0, 0, 10), square(10, 0, 10)}, 1, 4, 200},
		{"abutting, offset", '+', []Region{square(0, 0, 10), square(10, 5, 10)}, 1, 8, 200},
		{"corner to corner", '+', []Region{square(0, 0, 10), square(10, 10, 10)}, 2, 8, 200},
		{"four corners round a hole", '+', []Region{square(0, 10, 10), square(10, 0, 10), square(20, 10, 10), square(10, 20, 10)}, 4, 16, 400},
		{"frame of four bars", '+', []Region{Region{Rect(0, 0, 30, 5)}, Region{Rect(0, 25, 30, 30)}, Region{Rect(0, 0, 5, 30)}, Region{Rect(25, 0, 30, 30)}}, 2, 8, 900 - 400},
		{"plug in a hole", '+', []Region{Difference(plate, disc(50, 30, 5)), disc(50, 30, 5)}, 1, 4, 6000},
		{"smaller plug", '+', []Region{Difference(plate, disc(50, 30, 5)), disc(50, 30, 4)}, 3, 8, 6000 - 9*pi},
		{"round ear on an edge", '+', []Region{plate, disc(100, 30, 8)}, 1, 7, 6000 + 32*pi},
		{"round end", '+', []Region{plate, Region{{V: []Vertex{B(100, 0, 1), V(100, 60)}, Closed: true}}}, 1, 4, 6000 + 450*pi},
		{"half discs of one circle", '+', []Region{Region{{V: []Vertex{B(5, 0, 1), V(-5, 0)}, Closed: true}}, Region{{V: []Vertex{B(-5, 0, 1), V(5, 0)}, Closed: true}}}, 1, 2, 25 * pi},
		{"quarter discs of one circle", '+', []Region{quarters(5, 0, 1), quarters(5, 2, 3)}, 1, 2, 25 * pi},
	} {
		t.Run(tt.name, func(t *testing.T) {
			rng := rand.New(rand.NewSource(1))
			for form := range 6 {
				of := make([]Region, len(tt.of))
				for i, r := range tt.of {
					of[i] = inForm(r, form, rng)
				}
				var got Region
				if tt.op == '+' {
					got = Union(of...)
				} else {
					got = Difference(of[0], of[1:]...)
				}
				n := 0
				for _, p := range got {
					n += len(p.V)
				}
				require.Len(t, got, tt.paths, "form %d: %v", form, got)
				if form != 4 { // where edges were divided
					require.Equal(t, tt.corner, n, "form %d: %v", form, got)
				}
				slack := 1e-9
				if form == 3 {
					slack = 1e-7
				}
				require.InDelta(t, tt.area, got.Area(), slack, "form %d", form)
				proper(t, got)
				require.NoError(t, got.Check())
			}
		})
	}
}

// quarters are quarter discs about the origin.
func quarters(r float64, ks ...int) Region {
	var out Region
	for _, k := range ks {
		p := Path{V: []Vertex{V(0, 0), B(r, 0, math.Tan(math.Pi/8)), V(0, r)}, Closed: true}
		out = append(out, p.Move(Turn(float64(k)*math.Pi/2, orb.Point{})))
	}
	return out
}

// Untouched vertices and bulges keep their digits; an edge cut by what does not
// matter in the end is whole.
func TestBooleansKeepDigits(t *testing.T) {
	odd := Path{V: []Vertex{V(0.1, 0.2), B(30.3, 0.7, 0.123456789), V(31.1, 20.9), B(17, 22.3, -0.3), V(2.2, 19.8)}, Closed: true}
	got := Union(Region{odd}, disc(15, 10, 2))
	require.Equal(t, Region{odd}, got)
	got = Difference(Region{odd}, disc(15, 10, 2), disc(-20, -20, 3))
	require.Equal(t, odd, got[0])
	require.Len(t, got, 2)
	// cut, and covered again
	got = Union(Difference(Region{odd}, square(25, 10, 15)), Intersection(Region{odd}, square(25, 10, 15)))
	require.Len(t, got, 1)
	require.InDelta(t, odd.Area(), got.Area(), 1e-9)
	// crossing pieces that lie inside leave nothing on the boundary
	got = Union(Region{odd}, square(5, 5, 5), square(7, 7, 5), disc(12, 12, 3))
	require.Equal(t, Region{odd}, got)
	// a strip whose end lies on the boundary of another: its edge is whole
	got = Union(Region{Rect(0, 0, 100, 10)}, Region{Rect(20, 0, 30, 10)}, Region{Rect(50, 4, 60, 10)})
	require.Equal(t, Region{Rect(0, 0, 100, 10)}, got)
}

func TestBooleansWithNothing(t *testing.T) {
	a := square(0, 0, 10)
	require.Equal(t, a, Union(a))
	require.Equal(t, a, Union(a, nil))
	require.Equal(t, a, Union(nil, a))
	require.Empty(t, Union())
	require.Empty(t, Union(nil, nil))
	require.Empty(t, Intersection(a, nil))
	require.Empty(t, Intersection(nil, a))
	require.Equal(t, a, Difference(a))
	require.Equal(t, a, Difference(a, nil))
	require.Empty(t, Difference(nil, a))
	// points, open paths and paths without area bound nothing
	require.Equal(t, a, Union(a, Region{{V: []Vertex{V(3, 3)}, Closed: true}, {V: []Vertex{V(0, 0), V(50, 50)}},
		{V: []Vertex{V(-5, 5), V(15, 5)}, Closed: true}}))
}

func TestClean(t *testing.T) {
	// an eight: one loop counter-clockwise, the other clockwise and outside
	eight := Region{{V: []Vertex{V(0, 0), V(4, 4), V(4, 0), V(0, 4)}, Closed: true}}
	require.InDelta(t, 4, eight.Clean().Area(), 1e-9)
	// a spike is gone
	spike := Region{{V: []Vertex{V(0, 0), V(4, 0), V(9, 0), V(4, 0), V(4, 4), V(0, 4)}, Closed: true}}
	got := spike.Clean()
	require.Len(t, got, 1)
	require.InDelta(t, 16, got.Area(), 1e-12)
	require.Len(t, got[0].V, 4)
	// a loop run through twice
	twice := Region{{V: append(append([]Vertex(nil), Rect(0, 0, 3, 3).V...), Rect(0, 0, 3, 3).V...), Closed: true}}
	require.InDelta(t, 9, twice.Clean().Area(), 1e-12)
	// a hole without anything round it is nothing
	require.Empty(t, Region{Rect(0, 0, 3, 3).Reverse()}.Clean())
}

// Rubbish in must not panic or hang.
func TestBooleansOfRubbish(t *testing.T) {
	bad := []float64{0, 1, -1, 1e300, -1e300, math.NaN(), math.Inf(1), 1e-300, 1e15, 7, 3, 1e8, -9.9e8, 0.5, -0.3, 1e-9}
	for seed := range 2000 {
		r := rand.New(rand.NewSource(int64(seed)))
		var rg [2]Region
		for k := range rg {
			for range 1 + r.Intn(2) {
				p := Path{Closed: r.Intn(5) > 0}
				for range r.Intn(6) {
					p.V = append(p.V, B(bad[r.Intn(len(bad))], bad[r.Intn(len(bad))], bad[r.Intn(len(bad))]))
				}
				rg[k] = append(rg[k], p)
			}
		}
		Union(rg[0], rg[1])
		Difference(rg[0], rg[1])
	}
}

// A plate less 40 discs, strips and chamfers.
func BenchmarkDifferencePlate(b *testing.B) {
	plate := Region{Rect(0, 0, 200, 120)}
	var cut []Region
	for i := range 20 {
		x := 5 + 9.5*float64(i)
		cut = append(cut, disc(x, 0, 1.6), Region{Rect(x, 119.6, x+4, 120)},
			Region{{V: []Vertex{V(x, 0), V(x+5, 0), V(x, 0.5)}, Closed: true}})
	}
	for b.Loop() {
		Difference(plate, cut...)
	}
}
