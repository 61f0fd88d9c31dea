//go:build outside

package dxf

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/testdata/outside"
)

// drawings are those that the outside readers are given.
func drawings(t *testing.T) map[string]*Drawing {
	many := New()
	for i := range 200 {
		k := float64(i)
		p := geom.Path{Closed: i%2 == 0, V: []geom.Vertex{
			geom.B(k*math.Pi, -k/7, math.Sin(k)), geom.B(k*math.Pi+1.7, k/3, -math.Cos(k)), geom.B(5+k*math.E, 3, 1e-7), geom.V(k, k+100),
		}}
		if !p.Closed {
			p.V[3].Bulge = 0
		}
		many.Draw([]string{"WALL", "SEAT", "CUTTER"}[i%3], p)
		require.NoError(t, many.DrawCircles("DRILL", geom.Circle(orb.Point{k, -k}, 0.1+k/9)))
	}
	return map[string]*Drawing{"sample": sample(t), "many": many, "layers only": New()}
}

type seen struct {
	Version string
	Units   int
	Faults  []string
	Names   []string
	Handle  int
	Seed    int
	Layers  map[string]struct {
		Paths []struct {
			Closed bool
			Z      float64
			V      [][3]float64
		}
		Circles [][3]float64
		Points  [][2]float64
		Texts   []string
	}
}

// ezdxf's audit of what we write: no errors, no fixes, and the same geometry.
func TestOutsideAudit(t *testing.T) {
	for name, d := range drawings(t) {
		for _, v := range []Version{R2000, R12} {
			t.Run(name+" "+string(v), func(t *testing.T) {
				file := filepath.Join(t.TempDir(), "x.dxf")
				require.NoError(t, os.WriteFile(file, write(t, d, v), 0o644))
				var got seen
				require.NoError(t, json.Unmarshal(outside.Python(t, "dxf_audit.py", nil, file), &got))
				assert.Empty(t, got.Faults)
				assert.Equal(t, string(v), got.Version)
				if v == R2000 {
					assert.Equal(t, 4, got.Units)
					assert.Greater(t, got.Seed, got.Handle)
				}
				for _, l := range d.Layers {
					assert.Contains(t, got.Names, l.Name)
					same(t, l, got)
				}
			})
		}
	}
}

func same(t *testing.T, l *Layer, got seen) {
	t.Helper()
	g := got.Layers[l.Name]
	paths, points := 0, 0
	for _, p := range l.Paths {
		if len(p.V) == 1 {
			require.Greater(t, len(g.Points), points)
			assert.InDelta(t, p.V[0].X(), g.Points[points][0], 1e-9)
			assert.InDelta(t, p.V[0].Y(), g.Points[points][1], 1e-9)
			points++
			continue
		}
		require.Greater(t, len(g.Paths), paths)
		o := g.Paths[paths]
		paths++
		assert.Equal(t, p.Closed, o.Closed)
		assert.InDelta(t, p.Z, o.Z, 1e-9, "elevation")
		require.Len(t, o.V, len(p.V))
		for i, v := range p.V {
			assert.InDelta(t, v.X(), o.V[i][0], 1e-9)
			assert.InDelta(t, v.Y(), o.V[i][1], 1e-9)
			assert.InDelta(t, v.Bulge, o.V[i][2], 1e-12)
		}
	}
	assert.Len(t, g.Paths, paths)
	assert.Len(t, g.Points, points)
	require.Len(t, g.Circles, len(l.Circles))
	for i, c := range l.Circles {
		assert.InDelta(t, c.Centre[0], g.Circles[i][0], 1e-9)
		assert.InDelta(t, c.Centre[1], g.Circles[i][1], 1e-9)
		assert.InDelta(t, c.Radius, g.Circles[i][2], 1e-9)
	}
	require.Len(t, g.Texts, len(l.Texts))
	for i, x := range l.Texts {
		assert.Equal(t, x.Text, g.Texts[i])
	}
}

type extents struct {
	Min, Max    [2]float64
	Own, Header [4]float64
	Units       int
	Layers      map[string]struct {
		Entities, Closed int
		Points           [][3]float64
	}
}

// Two readers written by others agree with us and each other on the extents, on
// what is closed and on every point.
func TestOutsideReadersAgree(t *testing.T) {
	for name, d := range drawings(t) {
		if name == "layers only" {
			continue // nothing to take the extents of
		}
		for _, v := range []Version{R2000, R12} {
			t.Run(name+" "+string(v), func(t *testing.T) {
				var got map[string]extents
				require.NoError(t, json.Unmarshal(outside.Node(t, "extents.js", write(t, d, v)), &got))
				b := d.Bound()
				for reader, e := range got {
					for k := range 2 {
						assert.InDelta(t, b.Min[k], e.Min[k], 2e-9, reader)
						assert.InDelta(t, b.Max[k], e.Max[k], 2e-9, reader)
					}
					for _, l := range d.Layers {
						entities, closed, points := 0, 0, 0
						for _, p := range l.Paths {
							entities++
							points += len(p.V)
							if p.Closed {
								closed++
							}
						}
						n := len(l.Circles)
						assert.Equal(t, entities+n, e.Layers[l.Name].Entities, "%s %s", reader, l.Name)
						assert.Equal(t, closed+n, e.Layers[l.Name].Closed, "%s %s", reader, l.Name)
						assert.Len(t, e.Layers[l.Name].Points, points+n, "%s %s", reader, l.Name)
					}
				}
				for k := range 2 {
					assert.InDelta(t, b.Min[k], got["dxf"].Own[k], 0.5, "arcs as chords")
					assert.InDelta(t, b.Max[k], got["dxf"].Own[k+2], 0.5, "arcs as chords")
					assert.InDelta(t, b.Min[k], got["parser"].Header[k], 1e-9)
					assert.InDelta(t, b.Max[k], got["parser"].Header[k+2], 1e-9)
				}
				if v == R2000 {
					assert.Equal(t, 4, got["parser"].Units)
				}
			})
		}
	}
}
