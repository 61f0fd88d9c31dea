//go:build outside

package posts

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/testdata/outside"
)

// Profiles that other libraries write come back within 1e-6 mm, arcs as arcs.
func TestOutsideProfilesComeBack(t *testing.T) {
	for seed := range 40 {
		random := rand.New(rand.NewPCG(uint64(seed), 7))
		want := randomProfile(random)
		var points [][3]float64
		for _, v := range want.V {
			points = append(points, [3]float64{v.X(), v.Y(), v.Bulge})
		}
		text, err := json.Marshal(points)
		require.NoError(t, err)
		dir := t.TempDir()
		outside.Python(t, "profile_write.py", text, dir, fmt.Sprint(seed))
		largest := want.Bound().Max[0] * 2
		level := func(k int) bool { return want.V[k].Y() == want.V[k+1].Y() }
		for _, name := range []string{
			"r12.dxf", "r2000.dxf", "pieces.dxf", "pieces_r12.dxf", "mirrored.dxf", "flipped.dxf", "inches.dxf", "shifted.dxf", "shifted_right.dxf",
			"closed.dxf", "splines.dxf", "ellipses.dxf", "path.svg", "moved.svg", "turned.svg",
		} {
			how := Drawn{}
			switch name {
			case "shifted.dxf":
				how.Placing = cutter.Placing{Axis: "left", Diameter: largest}
			case "shifted_right.dxf":
				how.Placing = cutter.Placing{Axis: "right", Diameter: largest}
			case "closed.dxf":
				if level(0) || level(len(want.V)-2) {
					continue // level ends lead to the axis and are none of the edge
				}
			case "splines.dxf", "ellipses.dxf":
				how.Tolerance = 1e-7
			}
			t.Run(fmt.Sprintf("%d %s", seed, name), func(t *testing.T) {
				file := filepath.Join(dir, name)
				text, err := os.ReadFile(file)
				require.NoError(t, err)
				got, err := ImportProfile(file, text, how)
				require.NoError(t, err)
				assert.Equal(t, [2]bool{true, true}, got.Known)
				assert.Equal(t, map[bool]string{true: "right", false: "left"}[name == "mirrored.dxf" || name == "shifted_right.dxf"], got.Axis)
				d, at := geom.Farthest(got.Profile, []geom.Path{want}, 1e-9)
				assert.Less(t, d, 1e-6, "%v", at)
				d, at = geom.Farthest(want, []geom.Path{got.Profile}, 1e-9)
				assert.Less(t, d, 1e-6, "%v", at)
				if name == "splines.dxf" || name == "ellipses.dxf" { // more than a quarter is two arcs
					assert.LessOrEqual(t, len(got.Profile.V), 2*len(want.V))
					return
				}
				require.Len(t, got.Profile.V, len(want.V))
				for i, v := range want.V {
					g := got.Profile.V[i]
					assert.InDelta(t, 0, math.Hypot(v.X()-g.X(), v.Y()-g.Y()), 1e-6, "point %d", i)
					assert.Equal(t, v.Bulge != 0, g.Bulge != 0, "arcs are arcs")
				}
			})
		}
	}
}

// randomProfile rises from h = 0, with arcs up to half circles, upright and level edges.
func randomProfile(r *rand.Rand) geom.Path {
	p := geom.Path{V: []geom.Vertex{geom.V(5+30*r.Float64(), 0)}}
	for range 4 + r.IntN(8) {
		last := &p.V[len(p.V)-1]
		next := geom.V(5+30*r.Float64(), last.Y()+0.5+5*r.Float64())
		switch r.IntN(6) {
		case 0: // upright
			next.Point[0] = last.X()
		case 1: // level
			next.Point[1] = last.Y()
		case 2: // on a lattice
			next = geom.V(math.Round(next.X()), math.Round(last.Y())+1)
		}
		if r.IntN(2) == 0 {
			last.Bulge = (r.Float64() - 0.5) * 2
			if _, falls := (geom.Edge{A: last.Point, B: next.Point, Bulge: last.Bulge}).Falls(); falls || math.Abs(last.Bulge) < 0.01 {
				last.Bulge = 0
			}
			if q := (geom.Edge{A: last.Point, B: next.Point, Bulge: last.Bulge}).LeastX(); q[0] < 0 {
				last.Bulge = 0
			}
		}
		p.V = append(p.V, next)
	}
	return p
}
