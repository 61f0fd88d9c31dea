//go:build outside

package posts

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/adjust"
	"blockwright/posts/dxf"
	"blockwright/testdata/outside"
)

// Both programs of measured fixtures run in the interpreter. What GEOS finds left by
// the first is the walls with what is to stay on them, and by the second the walls,
// with a mill that cuts otherwise than the first one reckoned.
func TestOutsideMeasuredSweeps(t *testing.T) {
	for _, c := range fixtures(t) {
		if c.name != "gauge 19" && c.name != "block 16, screws, conventional" {
			continue // a sweep takes a minute
		}
		t.Run(c.name, func(t *testing.T) {
			const limit = 0.0005
			r := withMeasured(c.request)
			first, files, _, err := Make(t.Context(), r)
			require.NoError(t, err)
			sweep := func(f *Fixture, text []byte, wall []geom.Path, drill []geom.Path) sweepReport {
				d := dxf.New()
				d.Draw("WALL", wall...)
				require.NoError(t, d.DrawCircles("DRILL", drill...))
				var b bytes.Buffer
				require.NoError(t, dxf.Write(&b, d, dxf.R2000))
				file := filepath.Join(t.TempDir(), "part.dxf")
				require.NoError(t, os.WriteFile(file, b.Bytes(), 0o600))
				canon, why := outside.RS274(t, text, outside.Options{})
				require.Empty(t, why)
				require.True(t, canon.Ended)
				s := sweptByGEOS(t, f, canon, file, limit)
				t.Logf("gouge %.5f, leftover %.5f, %d tabs", s.Gouge, s.Leftover, len(s.Tabs))
				assert.LessOrEqual(t, s.Gouge, limit)
				assert.LessOrEqual(t, s.Leftover, limit)
				assert.LessOrEqual(t, s.Outside, 0.0)
				assert.Zero(t, s.Off)
				return s
			}
			var walls, drills []geom.Path
			for _, p := range first.Plates {
				walls, drills = append(walls, p.Wall...), append(drills, p.Drill...)
			}
			a := sweep(first, files["ngc"], first.rough, drills)

			r.Found = &adjust.Found{Diameter: first.Diameter + 0.1}
			second, files, _, err := Make(t.Context(), r)
			require.NoError(t, err)
			finish := *second
			finish.Diameter = r.Found.Diameter
			b := sweep(&finish, files["finish.ngc"], walls, nil)
			assert.Len(t, b.Tabs, len(a.Tabs), "the same tabs")

			// With backlash the words are others, and accepted all the same.
			r.Found = &adjust.Found{Diameter: first.Diameter, Backlash: 0.08}
			_, files, _, err = Make(t.Context(), r)
			require.NoError(t, err)
			for _, ext := range []string{"finish.ngc", "finish.nc"} {
				canon, why := outside.RS274(t, files[ext], outside.Options{})
				assert.Empty(t, why, ext)
				assert.True(t, canon.Ended)
			}
		})
	}
}
