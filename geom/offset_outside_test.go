//go:build outside

package geom

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	checkers "blockwright/testdata/outside"
)

// TestOutsideOffsets holds offsets of random and lattice paths against GEOS:
// area, number of loops and distance of the boundaries.
func TestOutsideOffsets(t *testing.T) {
	var in bytes.Buffer
	n := 0
	add := func(name string, p Path, d float64, out []Path, fits bool) {
		var edges [][5]float64
		for i := range p.Edges() {
			e := p.Edge(i)
			edges = append(edges, [5]float64{e.A[0], e.A[1], e.B[0], e.B[1], e.Bulge})
		}
		rings := [][][2]float64{}
		area := 0.0
		for _, q := range out {
			ring := [][2]float64{}
			if len(q.V) == 1 {
				ring = append(ring, q.V[0].Point)
			} else {
				ls := q.Flatten(1e-5)
				for _, v := range ls[:len(ls)-1] {
					ring = append(ring, v)
				}
			}
			rings = append(rings, ring)
			area += q.Area()
		}
		text, err := json.Marshal(map[string]any{
			"name": name, "edges": edges, "d": math.Abs(d), "inside": d > 0, "rings": rings,
			"area": area, "loops": len(out), "fits": fits,
		})
		require.NoError(t, err)
		in.Write(append(text, '\n'))
		n++
	}
	for seed := 50000; n < 150; seed++ {
		rng := rand.New(rand.NewSource(int64(seed)))
		m := makers[seed%len(makers)]
		p, ds := m.make(rng)
		switch m.name {
		case "star", "cells", "cells rounded", "annular slots", "crescent", "simple lattice":
		default:
			continue
		}
		if loose(p) {
			continue
		}
		if p.Area() < 0 {
			p = p.Reverse()
		}
		for _, d := range ds[:2] {
			if math.Abs(d) < 0.05 {
				continue
			}
			out, err := p.Offset(d)
			require.NoError(t, err)
			add(fmt.Sprintf("seed %d, %s, by %.9g", seed, m.name, d), p, d, out, m.name != "star")
		}
	}
	got := strings.TrimSpace(string(checkers.Python(t, "offsets.py", in.Bytes())))
	var cases, uncounted int
	_, err := fmt.Sscan(got, &cases, &uncounted)
	require.NoError(t, err, got)
	require.Equal(t, n, cases)
	require.Less(t, uncounted, n/20, "loops that GEOS cannot count")
	t.Logf("%d offsets, loops of %d not counted", cases, uncounted)
}
