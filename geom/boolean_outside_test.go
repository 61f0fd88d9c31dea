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

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"

	checkers "blockwright/testdata/outside"
)

func TestOutsideBooleans(t *testing.T) {
	const tol = 2e-5
	rings := func(r Region, off orb.Point) [][][2]float64 {
		out := [][][2]float64{}
		for _, p := range r.Move(Shift(-off[0], -off[1])) {
			ls := p.Flatten(tol)
			ring := make([][2]float64, len(ls)-1)
			for i := range ring {
				ring[i] = [2]float64(ls[i])
			}
			out = append(out, ring)
		}
		return out
	}
	var in bytes.Buffer
	n := 0
	for seed := range 250 {
		rng := rand.New(rand.NewSource(int64(100000 + seed)))
		a, b := shape(rng), shape(rng)
		areas := map[string]float64{}
		for form := range 6 {
			fa, fb := inForm(a, form, rng), inForm(b, form, rng)
			u, x, d := Union(fa, fb), Intersection(fa, fb), Difference(fa, fb)
			off := orb.Point{}
			if form == 3 {
				off = orb.Point{1e4, -1e4} // GEOS loses digits out there, we may not
			}
			length := 0.0
			for _, r := range []Region{fa, fb, u, x, d} {
				for _, p := range r {
					length += p.Length()
				}
			}
			c := map[string]any{
				"name": fmt.Sprintf("seed %d form %d", 100000+seed, form), "tol": tol, "length": length,
				"a": rings(fa, off), "b": rings(fb, off),
				"union": rings(u, off), "intersection": rings(x, off), "difference": rings(d, off),
				"areas": map[string]float64{"union": u.Area(), "intersection": x.Area(), "difference": d.Area()},
			}
			for k, v := range c["areas"].(map[string]float64) {
				if form == 0 {
					areas[k] = v
				}
				require.InDelta(t, areas[k], v, 1e-5*(1+math.Abs(v)), "%s of seed %d changes with form %d", k, seed, form)
			}
			text, err := json.Marshal(c)
			require.NoError(t, err)
			in.Write(append(text, '\n'))
			n++
		}
	}
	got := strings.TrimSpace(string(checkers.Python(t, "booleans.py", in.Bytes())))
	require.Equal(t, fmt.Sprint(n), got)
}
