//go:build outside

package dxf

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/testdata/outside"
)

// Splines and ellipses that ezdxf writes are where ezdxf says they are, and reach as
// far.
func TestOutsideCurves(t *testing.T) {
	for seed := range 25 {
		file := filepath.Join(t.TempDir(), "x.dxf")
		var want []struct {
			Layer  string
			Points [][2]float64
		}
		require.NoError(t, json.Unmarshal(outside.Python(t, "curves_write.py", nil, file, fmt.Sprint(seed)), &want))
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		const tol = 1e-4
		d, err := ReadCurves(file, text, tol)
		require.NoError(t, err)
		require.Empty(t, d.Skipped)
		require.Len(t, want, 24)
		for _, w := range want {
			l := d.Layer(w.Layer)
			require.NotNil(t, l)
			require.Len(t, l.Paths, 1, w.Layer)
			p := l.Paths[0].Path
			x := geom.NewIndex(p)
			line := geom.Path{}
			for _, q := range w.Points {
				if at := x.Nearest(orb.Point(q)); at.Dist > tol+1e-9 {
					require.LessOrEqual(t, at.Dist, tol+1e-9, "seed %d, %s at %v", seed, w.Layer, q)
				}
				line.V = append(line.V, geom.V(q[0], q[1]))
			}
			assert.InEpsilon(t, line.Length(), p.Length(), 0.08, "seed %d, %s", seed, w.Layer)
		}
		_, err = Read(file, text)
		require.NoError(t, err)
	}
}
