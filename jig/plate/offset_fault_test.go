package plate

import (
	"fmt"
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
)

// apart is the greatest distance of a place of one region's boundary from the other's.
func apart(a, b geom.Region) float64 {
	d, _ := geom.FarthestOf(a, b, 1e-6)
	e, _ := geom.FarthestOf(b, a, 1e-6)
	return math.Max(d, e)
}

// A fault of the offset cannot reach a wall: whatever one offset of a fit is changed
// into, the fit is refused or the wall is what it should be.
func TestFaultOfTheOffsetIsRefused(t *testing.T) {
	t.Cleanup(func() { offset = geom.Region.Offset })
	truly := func(r geom.Region, d float64) geom.Region {
		out, err := r.Offset(d)
		if err != nil {
			return nil
		}
		return out
	}
	faults := map[string]func(r geom.Region, d float64, from geom.Region) geom.Region{
		"shifted 0.03 in x":  func(r geom.Region, _ float64, _ geom.Region) geom.Region { return r.Move(geom.Shift(0.03, 0)) },
		"shifted -0.03 in y": func(r geom.Region, _ float64, _ geom.Region) geom.Region { return r.Move(geom.Shift(0, -0.03)) },
		"empty":              func(geom.Region, float64, geom.Region) geom.Region { return nil },
		"first loop missing": func(r geom.Region, _ float64, _ geom.Region) geom.Region { return r[min(1, len(r)):] },
		"the region itself":  func(_ geom.Region, _ float64, from geom.Region) geom.Region { return from },
		"0.03 too far":       func(_ geom.Region, d float64, from geom.Region) geom.Region { return truly(from, d+0.03) },
		"0.03 too near":      func(_ geom.Region, d float64, from geom.Region) geom.Region { return truly(from, d-0.03) },
		"to the other side":  func(_ geom.Region, d float64, from geom.Region) geom.Region { return truly(from, -d) },
		"a hole in the middle": func(r geom.Region, _ float64, from geom.Region) geom.Region {
			c := from.Bound().Center()
			return append(append(geom.Region(nil), r...), geom.Circle(orb.Point{c[0] + 5, c[1]}, 3).Reverse())
		},
	}
	for v := 0; v < 60; v++ {
		for _, by := range []orb.Point{{0.02, -0.0224}, {-0.02, 0.0224}} {
			faults[fmt.Sprintf("with vertex %d off by %v", v, by)] = func(r geom.Region, _ float64, _ geom.Region) geom.Region {
				out := make(geom.Region, len(r))
				n := v
				for i, p := range r {
					q := append([]geom.Vertex(nil), p.V...)
					if n >= 0 && n < len(q) {
						q[n].Point = orb.Point{q[n].Point[0] + by[0], q[n].Point[1] + by[1]}
					}
					n -= len(q)
					out[i] = geom.Path{V: q, Closed: p.Closed}
				}
				return out
			}
		}
	}
	designs, err := Blocks(request(t, 19))
	require.NoError(t, err)
	for _, part := range designs[0] {
		asked := 0
		try := func(n int, spoil func(r geom.Region, d float64, from geom.Region) geom.Region) (Cut, error) {
			asked = 0
			offset = func(r geom.Region, d float64) (geom.Region, error) {
				out, err := r.Offset(d)
				if err == nil && n == asked {
					out = spoil(out, d, r)
				}
				asked++
				return out, err
			}
			return fit(shrunk{part, shrink(part)}, 3.175)
		}
		good, err := try(-1, nil)
		require.NoError(t, err)
		refused, same := 0, 0
		for k := range asked {
			for name, spoil := range faults {
				c, err := try(k, spoil)
				if err != nil {
					refused++
					continue
				}
				same++
				assert.Less(t, apart(good.Wall, c.Wall), 1e-3, "%s: offset %d %s", part.Part, k+1, name)
			}
		}
		t.Logf("%s: %d refused, %d the same wall", part.Part, refused, same)
		assert.Positive(t, refused)
	}
}
