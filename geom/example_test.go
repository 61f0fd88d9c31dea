package geom_test

import (
	"fmt"
	"math"
	"math/rand"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

func ExamplePath_Area() {
	//   ______________
	//  (______________)  8 wide, 40 between the centres
	p := geom.Slot(orb.Point{0, 0}, orb.Point{40, 0}, 8)
	fmt.Printf("%.3f mm², %.3f mm round\n", p.Area(), p.Length())
	// Output: 370.265 mm², 105.133 mm round
}

func ExampleUnion() {
	//   +-----------+
	//   |           |__
	//   |           |  \    a disc of radius 5 about the middle of an edge
	//   |           |__/    adds half of itself
	//   |           |
	//   +-----------+
	plate := geom.Region{geom.Rect(0, 0, 40, 30)}
	ear := geom.Region{geom.Circle(orb.Point{40, 15}, 5)}
	for _, p := range geom.Union(plate, ear) { // a circle has two arcs
		for _, v := range p.V {
			fmt.Printf("(%g, %g) bulge %.2f\n", v.X(), v.Y(), v.Bulge)
		}
	}
	// Output:
	// (0, 0) bulge 0.00
	// (40, 0) bulge 0.00
	// (40, 10) bulge 0.41
	// (45, 15) bulge 0.41
	// (40, 20) bulge 0.00
	// (40, 30) bulge 0.00
	// (0, 30) bulge 0.00
}

func ExampleDifference() {
	//   +-----------+
	//   |    ( )    |   a hole, and a strip of 0.4 taken off the lower edge:
	//   |           |   the strip's edges lie on the plate's own
	//   +===========+
	plate := geom.Region{geom.Rect(0, 0, 40, 30)}
	hole := geom.Region{geom.Circle(orb.Point{20, 20}, 3)}
	strip := geom.Region{geom.Rect(0, 0, 40, 0.4)}
	wall := geom.Difference(plate, hole, strip)
	fmt.Printf("%d paths, %.3f mm²\n", len(wall), wall.Area())
	// Output: 2 paths, 1155.726 mm²
}

func ExampleIntersection() {
	//      ___
	//    /  _|_ \
	//   |  ( | )|     two discs of radius 5, centres 5 apart
	//    \ _\|/_/
	a := geom.Region{geom.Circle(orb.Point{0, 0}, 5)}
	b := geom.Region{geom.Circle(orb.Point{5, 0}, 5)}
	lens := geom.Intersection(a, b)
	// the published area of a lens, 2r²·acos(d/2r) - d/2·√(4r²-d²)
	want := 50*math.Acos(0.5) - 2.5*math.Sqrt(75)
	fmt.Printf("%.6f mm², %.6f by formula\n", lens.Area(), want)
	// Output: 30.709242 mm², 30.709242 by formula
}

func ExampleFarthest() {
	//   +---------+
	//   | /     \ |
	//   |(       )|    the corners of a square lie farthest from
	//   | \     / |    the circle in it
	//   +---------+
	square := geom.Rect(-10, -10, 10, 10)
	circle := geom.Circle(orb.Point{0, 0}, 10)
	d, _ := geom.Farthest(square, []geom.Path{circle}, 1e-9)
	fmt.Printf("%.6f mm\n", d)
	// Output: 4.142136 mm
}

func ExampleClosest() {
	//   ( )    |
	//          |
	d, at, on := geom.Closest(
		[]geom.Path{geom.Circle(orb.Point{0, 0}, 5)},
		[]geom.Path{{V: []geom.Vertex{geom.V(8, -20), geom.V(8, 20)}}})
	fmt.Printf("%g mm, from (%g, %g) to (%g, %g)\n", d, at.X(), at.Y(), on.X(), on.Y())
	// Output: 3 mm, from (5, 0) to (8, 0)
}

func ExampleCentre() {
	//      \            h
	//       \__         |
	//          |        +-- r
	//    ______|
	//   |   .  centre
	//   |______
	//          |__
	//             \
	//              \
	profile := geom.Path{V: []geom.Vertex{
		geom.V(34, 0), geom.V(24, 10), geom.V(25.5, 10.5), geom.V(25.5, 14.4),
		geom.V(12.5, 15.6), geom.V(12.5, 19.5), geom.V(14, 20), geom.V(4, 30),
	}}
	s, err := geom.Centre(profile)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("centre (%.6f, %.6f), residual %.6f, overlap %.6f mm\n", s.Centre.X(), s.Centre.Y(), s.Residual, s.Overlap)
	// Output: centre (19.000000, 15.000000), residual 0.000000, overlap 15.000000 mm
}

func ExamplePath_Corner() {
	//   |   waste   |
	//   |  _     _  |
	//   | ( )   ( ) |     discs on the bisectors of a notch's corners,
	//   |__\\____//_|     so that a sharp-edged bar goes home
	notch := geom.Path{Closed: true, V: []geom.Vertex{
		geom.V(0, 0), geom.V(60, 0), geom.V(60, 30), geom.V(40, 30),
		geom.V(40, 20), geom.V(20, 20), geom.V(20, 30), geom.V(0, 30),
	}}
	wall := geom.Region{notch}
	for i := range notch.V {
		if c, ok := notch.Corner(i); ok {
			fmt.Printf("(%g, %g): %.0f°, a mill of 6 leaves %.4f mm and %.4f mm² uncut\n",
				c.At.X(), c.At.Y(), c.Angle*180/math.Pi, c.Uncut(3), c.UncutArea(3))
			wall = geom.Difference(wall, geom.Region{c.Bisector(3)})
		}
	}
	fmt.Printf("%d vertices after relief\n", len(wall[0].Merge().V))
	// Output:
	// (40, 20): 90°, a mill of 6 leaves 1.2426 mm and 1.9314 mm² uncut
	// (20, 20): 90°, a mill of 6 leaves 1.2426 mm and 1.9314 mm² uncut
	// 10 vertices after relief
}

func ExamplePath_Root() {
	//   |   waste    |
	//   |            |
	//   |            |   the flanks stay whole; the bottom goes deeper
	//    \__________/    by the mill's radius
	groove := geom.Path{Closed: true, V: []geom.Vertex{
		geom.V(0, 0), geom.V(60, 0), geom.V(60, 30), geom.V(40, 30),
		geom.V(40, 20), geom.V(20, 20), geom.V(20, 30), geom.V(0, 30),
	}}
	root, err := groove.Root(4, 3)
	if err != nil {
		fmt.Println(err)
		return
	}
	b := root.Bound()
	fmt.Printf("from y = %g down to %g, %.4f mm²\n", b.Max.Y(), b.Min.Y(), root.Area())
	// Output: from y = 20 down to 17, 56.1372 mm²
}

func ExampleFitCircle() {
	//     . ' .
	//   '       '    points measured on a rim, 0.01 mm off at random
	//   .
	r := rand.New(rand.NewSource(1))
	var q []orb.Point
	for i := range 200 {
		s, c := math.Sincos(float64(i) / 60)
		d := 12 + 0.01*r.NormFloat64()
		q = append(q, orb.Point{30 + d*c, 7 + d*s})
	}
	f, err := geom.FitCircle(q)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("centre (%.2f, %.2f), radius %.2f\n", f.Centre.X(), f.Centre.Y(), f.Radius)
	// Output: centre (30.00, 7.00), radius 12.00
}

func ExampleRegion_Check() {
	//   0---2
	//    \ /
	//     X      edges 0 and 2 of an eight cross
	//    / \
	//   3---1
	eight := geom.Region{{Closed: true, V: []geom.Vertex{geom.V(0, 4), geom.V(4, 0), geom.V(4, 4), geom.V(0, 0)}}}
	fmt.Println(eight.Check())
	// Output: geom: path 0 at (2.0000, 2.0000): edges 0 and 2 cross
}

func ExamplePath_Merge() {
	//   o--o-----o
	p := geom.Path{V: []geom.Vertex{geom.V(0, 0), geom.V(3, 0), geom.V(10, 0)}}
	fmt.Println(len(p.V), "vertices,", len(p.Merge().V), "merged")
	// Output: 3 vertices, 2 merged
}
