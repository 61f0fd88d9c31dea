// Package random draws cutters at random for tests.
package random

import (
	"math"

	"pgregory.net/rapid"

	"blockwright/geom"
	"blockwright/jig/cutter"
)

// Lock draws a lock miter cutter with a near-horizontal flank and a vertical
// land: the worked cutter's kind in other sizes, corners rounded or sharp.
func Lock(t *rapid.T) *cutter.Cutter {
	f := func(lo, hi float64, name string) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	rc, hc := f(18, 24, "rc"), f(12, 16, "hc")
	s := f(4, 6, "s")
	dx, dy := f(0.8, 2, "dx"), f(0.2, 0.6, "dy")
	land := f(4.2, 5, "land")
	half := [][2]float64{
		{rc + hc, 0}, {rc + s, hc - s}, {rc + s + dx, hc - s + dy}, {rc + s + dx, hc - s + dy + land},
	}
	if half[3][1] > hc-0.2 { // the flank falls toward the shank, as it must
		half[3][1] = hc - 0.2
	}
	var v []geom.Vertex
	for _, q := range half {
		v = append(v, geom.V(q[0], q[1]))
	}
	if rapid.Bool().Draw(t, "round") {
		// The tongue's lower corner with a radius, a quarter turn or less.
		r := f(0.2, 0.5, "radius")
		a, b := v[1], v[2]
		l := math.Hypot(b.X()-a.X(), b.Y()-a.Y())
		ux, uy := (b.X()-a.X())/l, (b.Y()-a.Y())/l
		turn := math.Pi/2 - math.Atan2(uy, ux)
		d := r * math.Tan(turn/2)
		v = []geom.Vertex{v[0], v[1], geom.B(b.X()-d*ux, b.Y()-d*uy, math.Tan(turn/4)), geom.V(b.X(), b.Y()+d), v[3]}
	}
	n := len(v)
	for i := n - 1; i >= 0; i-- {
		w := geom.V(2*rc-v[i].X(), 2*hc-v[i].Y())
		if i > 0 {
			w.Bulge = -v[i-1].Bulge
		}
		v = append(v, w)
	}
	p, err := geom.NewPath(false, v...)
	if err != nil {
		t.Fatal(err)
	}
	return &cutter.Cutter{Handle: "drawn", Name: "Drawn", Joint: "lock-miter", Units: "mm", Profile: p, Known: [2]bool{true, true}}
}
