package route

import (
	"fmt"
	"math"
	"testing"

	"blockwright/geom"
)

// One plate with a window and a bore: lanes, tabs, leads and moves.
func BenchmarkPlan(b *testing.B) {
	jobs, tool := []Job{window()}, mill(3.175)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Plan(jobs, tool); err != nil {
			b.Fatal(err)
		}
	}
}

// A wavy disc of many arcs: the cost grows little faster than their number.
func BenchmarkPlanWavy(b *testing.B) {
	for _, n := range []int{200, 2000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			p := geom.Path{Closed: true}
			for k := range n {
				a := 2 * math.Pi * float64(k) / float64(n)
				s, c := math.Sincos(a)
				r := 100 + 3*math.Sin(20*a)
				p.V = append(p.V, geom.B(150+r*c, 150+r*s, 0.01))
			}
			grown, err := geom.Region{p}.Offset(3.175 / 2)
			if err != nil {
				b.Fatal(err)
			}
			wall, err := grown.Offset(-3.175 / 2)
			if err != nil {
				b.Fatal(err)
			}
			tool := mill(3.175)
			for b.Loop() {
				if _, err := Plan([]Job{{Wall: wall, Thick: 6, Allowance: 0.2, Climb: true}}, tool); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
