package geom

import (
	"math"
	"math/rand"
	"testing"
)

// pathOf decodes a path and an offset: half of all bytes give lattice points, round
// bulges and lattice distances, the rest lie beside them by parts of Tol or
// anywhere.
func pathOf(b []byte) (p Path, d float64, beside bool) {
	if len(b) < 8 {
		return p, 0, false
	}
	p.Closed = b[0]&1 == 0
	d = latticeOffsets[int(b[1])%len(latticeOffsets)]
	switch b[2] % 8 {
	case 0:
		d += 0.4 * Tol
	case 1:
		d -= 0.4 * Tol
	case 2:
		d = 0.01 * float64(1+int(b[1]))
	}
	if b[0]&2 != 0 {
		d = -d
	}
	bulges := [...]float64{0, 0, 0, 1, -1, quarterBulge, -quarterBulge, 0.3, -0.05, 1e-7}
	aside := func(c byte) float64 {
		switch c % 16 {
		case 0:
			beside = true
			return 0.3 * Tol
		case 1:
			beside = true
			return -0.2 * Tol
		case 2, 3:
			return float64(c) / 250
		}
		return 0
	}
	for b = b[3:]; len(b) >= 5 && len(p.V) < 14; b = b[5:] {
		p.V = append(p.V, B(float64(int8(b[0])>>3)+aside(b[2]), float64(int8(b[1])>>3)+aside(b[3]), bulges[int(b[4])%len(bulges)]))
	}
	return p, d, beside
}

// FuzzOffset: no path makes it panic. Every point of an offset lies |d| from the
// path, also if that crosses itself on a lattice; if the path is simple and the
// distance not on the very limit of a fit, nothing is missing and the offset winds as
// it must.
func FuzzOffset(f *testing.F) {
	for seed := range 40 {
		rng := rand.New(rand.NewSource(int64(seed)))
		b := make([]byte, 3+5*(3+rng.Intn(11)))
		for i := range b {
			b[i] = byte(rng.Intn(256))
		}
		if seed%2 == 0 { // lattice only
			for i := 3; i+5 <= len(b); i += 5 {
				b[i+2], b[i+3] = 4, 4
			}
			b[2] = 7
		}
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		p, d, beside := pathOf(b)
		if len(p.V) == 0 {
			return
		}
		v := p.V
		p, err := NewPath(p.Closed, v...)
		if err != nil {
			t.Fatal(err)
		}
		out, err := p.Offset(d)
		if err != nil {
			t.Fatal(err)
		}
		simple := len(SelfCrossings(p)) == 0
		if beside && !simple {
			return // strands that cross and run together beside each other: no panic is all
		}
		pf := prove([]Path{p}, d, out)
		if err := pf.distances(); err != nil {
			t.Fatalf("%s by %.9g: %v", write(p), d, err)
		}
		if !p.Closed || math.Abs(p.Area()) < 1e-3 || !simple {
			return
		}
		// Where a distance a few 1e-9 mm larger or smaller gives other loops, it lies on
		// the very limit of what fits, and rounding decides.
		for _, aside := range []float64{-4e-9, 4e-9} {
			if beside, err := p.Offset(d + aside); err != nil || len(beside) != len(out) {
				return
			}
		}
		if err := pf.all(rand.New(rand.NewSource(1)), 12); err != nil {
			t.Fatalf("%s by %.9g: %v", write(p), d, err)
		}
	})
}
