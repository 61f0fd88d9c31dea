package geom

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
)

// A hard case and what its offset must be: how many paths, how many of them of one
// vertex, how many open, the sum of areas and of lengths in mm. A negative area or
// length is not looked at.
type hardCase struct {
	name          string
	p             Path
	d             float64
	loops, points int
	open          int
	area, length  float64
}

func closed(v ...Vertex) Path { return Path{V: v, Closed: true} }
func open(v ...Vertex) Path   { return Path{V: v} }

// dogbone is two squares of 10 mm, joined by a channel 10 mm long and w wide.
func dogbone(w float64) Path {
	return closed(V(0, 0), V(10, 0), V(10, 5-w/2), V(20, 5-w/2), V(20, 0), V(30, 0),
		V(30, 10), V(20, 10), V(20, 5+w/2), V(10, 5+w/2), V(10, 10), V(0, 10))
}

func hardCases() []hardCase {
	q := quarterBulge
	deg60 := math.Pi / 3
	var cases []hardCase
	add := func(name string, p Path, d float64, loops, points int, area, length float64) {
		cases = append(cases, hardCase{name: name, p: p, d: d, loops: loops, points: points, area: area, length: length})
	}
	addOpen := func(name string, p Path, d float64, loops, open int, length float64) {
		cases = append(cases, hardCase{name: name, p: p, d: d, loops: loops, open: open, length: length})
	}

	// Exact fits. The rooms of the dogbone shrink to squares of 6 mm, its channel to
	// a line to and fro; where they meet, arcs of radius 2 about the mouth's corners
	// leave 8 - 2π.
	add("channel of the tool's width", dogbone(4), 2, 1, 0, 72+16-4*math.Pi, 60+4*math.Pi)
	add("channel wider by half Tol", dogbone(4+Tol/2), 2, 1, 0, 72+16-4*math.Pi, 60+4*math.Pi)
	add("channel narrower by half Tol", dogbone(4-Tol/2), 2, 1, 0, 72+16-4*math.Pi, 60+4*math.Pi)
	add("channel narrower by 3 Tol", dogbone(4-3*Tol), 2, 2, 0, 72+16-4*math.Pi, -1)
	add("slot of the tool's width", Slot(orb.Point{0, 0}, orb.Point{40, 0}, 8), 4, 1, 0, 0, 80)
	add("slot narrower by 3 Tol", Slot(orb.Point{0, 0}, orb.Point{40, 0}, 8-3*Tol), 4, 0, 0, 0, 0)
	add("circle of the tool's radius", Circle(orb.Point{3, 3}, 5), 5, 1, 1, 0, 0)
	add("circle smaller by a tenth of Tol", Circle(orb.Point{3, 3}, 5-Tol/10), 5, 1, 1, 0, 0)
	add("circle smaller by 3 Tol", Circle(orb.Point{3, 3}, 5-3*Tol), 5, 0, 0, 0, 0)
	add("square of the tool's width", Rect(0, 0, 10, 10), 5, 1, 1, 0, 0)
	add("rectangle to a segment", Rect(0, 0, 30, 10), 5, 1, 0, 0, 40)
	add("triangle to its centre", closed(V(0, 0), V(6, 0), V(3, 3*math.Sqrt(3))), math.Sqrt(3), 1, 1, 0, 0)
	add("fillet of the tool's radius", closed(V(0, 0), V(20, 0), B(20, 12, q), V(15, 17), V(0, 17)), 5, 1, 0, 10*7, 34)
	add("fillet smaller than the tool", closed(V(0, 0), V(20, 0), B(20, 14, q), V(17, 17), V(0, 17)), 5, 1, 0, 10*7, 34)
	add("inside fillet grown", closed(V(0, 0), V(20, 0), B(20, 12, q), V(15, 17), V(0, 17)), -2, 1, 0, -1, -1)
	add("bay of the tool's width", closed(V(0, 0), V(30, 0), V(30, 10), V(17, 10), V(17, 4), V(13, 4), V(13, 10), V(0, 10)), -2, 1, 0,
		34*14-4*(4-math.Pi)-(8-2*math.Pi), 84+6*math.Pi)
	add("round bay of the tool's width", closed(V(0, 0), V(30, 0), V(30, 10), V(17, 10), B(17, 6, -1), V(13, 6), V(13, 10), V(0, 10)), -2, 1, 0,
		34*14-4*(4-math.Pi)-(8-2*math.Pi), 84+6*math.Pi)

	// Concentric arcs: a half ring from radius 4 to 8, and one closed by half circles.
	add("half ring of the tool's width", closed(B(8, 0, 1), V(-8, 0), B(-4, 0, -1), V(4, 0)), 2, 1, 0, -1, -1)
	add("bent slot of the tool's width", closed(B(8, 0, 1), B(-8, 0, 1), B(-4, 0, -1), B(4, 0, 1)), 2, 1, 0, 0, 2*6*math.Pi)
	add("bent slot grown", closed(B(8, 0, 1), B(-8, 0, 1), B(-4, 0, -1), B(4, 0, 1)), -1, 1, 0, 6*6*math.Pi+9*math.Pi, -1)
	add("bent slot grown until its middle is a point", closed(B(8, 0, 1), B(-8, 0, 1), B(-4, 0, -1), B(4, 0, 1)), -4, 1, 0, -1, -1)
	add("sector to a point", closed(V(0, 0), B(9, 0, math.Tan(deg60/4)), V(4.5, 9*math.Sqrt(3)/2)), 3, 1, 1, 0, 0)

	// Full circles written as half circles, and a half circle alone.
	add("two half circles grow", Circle(orb.Point{}, 3), -2, 1, 0, 25*math.Pi, 10*math.Pi)
	add("half disc to a lens of height Tol", closed(V(-4, 0), B(4, 0, 1)), 2, 1, 0, 0, -1)
	add("circle in many arcs", closed(B(3, 0, q), B(0, 3, q), B(-3, 0, q), B(0, -3, q)), 1, 1, 0, 4*math.Pi, 4*math.Pi)

	// Cusps of angle zero: the arbelos, a drop.
	add("arbelos shrunk", closed(B(4, 0, 1), B(-4, 0, -1), B(0, 0, -1)), 0.5, 1, 0, -1, -1)
	add("arbelos grown", closed(B(4, 0, 1), B(-4, 0, -1), B(0, 0, -1)), -1, 1, 0, -1, -1)
	add("drop grown", closed(B(0, 0, -q), B(4, 4, 1), B(-4, 4, -q)), -1, 1, 0, -1, -1)

	// Edges that coincide.
	add("spike outside, grown", closed(V(0, 0), V(10, 0), V(10, 5), V(15, 5), V(10, 5), V(10, 10), V(0, 10)), -1, 1, 0,
		100+40+math.Pi+2*4+math.Pi/2, -1)
	add("spike outside, shrunk", closed(V(0, 0), V(10, 0), V(10, 5), V(15, 5), V(10, 5), V(10, 10), V(0, 10)), 1, 1, 0, 64, 32)
	add("spike inside, shrunk", closed(V(0, 0), V(10, 0), V(10, 5), V(6, 5), V(10, 5), V(10, 10), V(0, 10)), 1, 1, 0, 64-2*3-math.Pi/2, -1)
	add("spike inside, grown", closed(V(0, 0), V(10, 0), V(10, 5), V(6, 5), V(10, 5), V(10, 10), V(0, 10)), -1, 1, 0, 140+math.Pi, 40+2*math.Pi)

	// Loops and islands that touch themselves.
	add("squares that touch in a corner, shrunk", closed(V(0, 0), V(5, 0), V(5, 5), V(10, 5), V(10, 10), V(5, 10), V(5, 5), V(0, 5)), 1, 2, 0, 18, 24)
	add("squares that touch in a corner, grown", closed(V(0, 0), V(5, 0), V(5, 5), V(10, 5), V(10, 10), V(5, 10), V(5, 5), V(0, 5)), -1, 1, 0, -1, -1)
	add("hole cut open by a seam, grown", closed(V(0, 0), V(20, 0), V(20, 20), V(0, 20), V(0, 10), V(5, 10), V(5, 15), V(15, 15), V(15, 5), V(5, 5), V(5, 10), V(0, 10)),
		-1, 2, 0, 400+80+math.Pi-64, 80+2*math.Pi+32)
	add("hole of the tool's width, cut open", closed(V(0, 0), V(20, 0), V(20, 20), V(0, 20), V(0, 10), V(5, 10), V(5, 15), V(15, 15), V(15, 5), V(5, 5), V(5, 10), V(0, 10)),
		-5, 2, 1, 400+400+25*math.Pi, -1)
	add("ring wall of twice the tool", closed(V(0, 0), V(20, 0), V(20, 20), V(0, 20), V(0, 10), V(5, 10), V(5, 15), V(15, 15), V(15, 5), V(5, 5), V(5, 10), V(0, 10)),
		2.5, 1, 0, 25-6.25*math.Pi, -1)

	// Small things.
	add("an edge of 2 µm", closed(V(0, 0), V(5, 0), V(5.002, 0), V(10, 0), V(10, 10), V(0, 10)), 2, 1, 0, 36, 24)
	add("an edge of a tenth of Tol", closed(V(0, 0), V(5, 0), V(5+Tol/10, 0), V(10, 0), V(10, 10), V(0, 10)), 2, 1, 0, 36, 24)
	add("a chamfer of 10 µm", closed(V(0, 0), V(9.99, 0), V(10, 0.01), V(10, 10), V(0, 10)), -2, 1, 0,
		100-5e-5+2*(40-0.02+0.01*math.Sqrt2)+4*math.Pi, 40-0.02+0.01*math.Sqrt2+4*math.Pi)
	add("a flat arc", closed(B(0, 0, 1e-7), V(10, 0), V(10, 10), V(0, 10)), 2, 1, 0, 36, 24)
	add("a triangle of 3 µm, grown", closed(V(0, 0), V(0.003, 0), V(0, 0.003)), -1, 1, 0, math.Pi+0.01024, 2*math.Pi+0.01024)
	add("collinear vertices", closed(V(0, 0), V(2, 0), V(4, 0), V(10, 0), V(10, 10), V(0, 10)), 2, 1, 0, 36, 24)

	// Open paths.
	addOpen("line", open(V(0, 0), V(10, 0)), 2, 1, 1, 10)
	addOpen("inside corner", open(V(0, 0), V(10, 0), V(10, 10)), 2, 1, 1, 16)
	addOpen("outside corner", open(V(0, 0), V(10, 0), V(10, 10)), -2, 1, 1, 20+math.Pi)
	addOpen("hairpin of the tool's width", open(V(0, 0), V(10, 0), V(10, 4), V(0, 4)), 2, 1, 1, 16)
	addOpen("hairpin too narrow", open(V(0, 0), V(10, 0), V(10, 3), V(0, 3)), 2, 0, 0, 0)
	addOpen("there and back", open(V(0, 0), V(10, 0), V(0, 0)), 1, 1, 1, 20+math.Pi)
	return cases
}

// TestOffsetCorpus holds the hard cases against their expected result and the
// definition: as they are, reversed, mirrored, moved by 10 m, turned, from every
// vertex, with their edges split.
func TestOffsetCorpus(t *testing.T) {
	for _, c := range hardCases() {
		t.Run(c.name, func(t *testing.T) {
			rng := rand.New(rand.NewSource(1))
			out := offset(t, c.p, c.d)
			f := figuresOf(out)
			require.Equal(t, [3]int{c.loops, c.points, c.open}, [3]int{f.loops, f.points, f.open}, "loops, points, open of %s", describe(out))
			if c.area >= 0 {
				require.InDelta(t, c.area, f.area, 1e-4, describe(out))
			}
			if c.length >= 0 {
				require.InDelta(t, c.length, f.length, 1e-4, describe(out))
			}
			require.NoError(t, prove([]Path{c.p}, c.d, out).all(rng, 40))
			require.NoError(t, forms(rng, c.p, c.d, f))
		})
	}
}

// TestOffsetTinyArc: an arc of a few Tol whose end comes back to its neighbour does
// not take the result with it.
func TestOffsetTinyArc(t *testing.T) {
	for _, c := range []struct {
		p Path
		d float64
	}{
		{closed(B(-15.9999997, -0.9999997, -quarterBulge), B(5.9999998, 6.0000003, 0.3), V(6.000003, 6)), 2},
		{closed(B(1, 1, -1), B(1.000003, 1.000003, -quarterBulge), B(-0.999997, 15.000003, -quarterBulge), B(11, -14.999997, 1e-7)), -2},
	} {
		out := offset(t, c.p, c.d)
		require.NotEmpty(t, out)
		require.NoError(t, prove([]Path{c.p}, c.d, out).all(rand.New(rand.NewSource(1)), 40))
	}
}

func describe(ps []Path) string {
	s := ""
	for _, p := range ps {
		s += fmt.Sprintf("\n%s, area %.6f, length %.6f", write(p), p.Area(), p.Length())
	}
	return s
}
