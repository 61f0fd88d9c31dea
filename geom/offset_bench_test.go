package geom

import (
	"fmt"
	"testing"
)

// The wavy circle of radius 100 + 3·sin 20θ. Open C++ and Rust libraries that
// keep arcs need about 2, 60 to 80 and 1,700 to 3,900 µs for 8, 200 and 5,000
// arcs by -1.5875.
func BenchmarkOffsetWavy(b *testing.B) {
	for _, n := range []int{8, 200, 5000} {
		p := wavyCircle(n)
		for _, d := range []float64{-1.5875, -10, 10} {
			b.Run(fmt.Sprintf("%d/%g", n, d), func(b *testing.B) {
				b.ReportAllocs()
				for range b.N {
					if _, err := p.Offset(d); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

// comb has n edges: teeth 2 wide and 10 high, gaps 3 wide.
func comb(n int) Path {
	p := Path{Closed: true}
	teeth := (n - 4) / 4
	for i := range teeth {
		x := 5 * float64(i)
		p.V = append(p.V, V(x, 10), V(x, 0), V(x+3, 0), V(x+3, 10))
	}
	x := 5 * float64(teeth)
	p.V = append(p.V, V(x, 10), V(x, -5), V(-2, -5), V(-2, 10))
	return p
}

func BenchmarkOffsetComb(b *testing.B) {
	for _, n := range []int{500, 5000} {
		p := comb(n)
		for _, d := range []float64{0.5, -0.5, 1, -1, -1.5, 2, -2} {
			b.Run(fmt.Sprintf("%d/%g", n, d), func(b *testing.B) {
				b.ReportAllocs()
				for range b.N {
					if _, err := p.Offset(d); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
