package dxf

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/geom"
)

var update = flag.Bool("update", false, "write the golden files anew")

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("../../testdata/golden", name)
	if *update {
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
		require.NoError(t, os.WriteFile(file, got, 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	w, g := strings.Split(string(want), "\n"), strings.Split(string(got), "\n")
	for i := range min(len(w), len(g)) {
		require.Equal(t, w[i], g[i], "line %d of %s: meant? go test ./posts/dxf -update, then read the diff", i+1, name)
	}
	require.Len(t, g, len(w), "lines of %s: meant? go test ./posts/dxf -update, then read the diff", name)
}

// sample has something of everything: a plate with a hole and arcs both ways, a
// bore, an open seat, a point, lettering.
func sample(t require.TestingT) *Drawing {
	d := New()
	d.Draw("OUTLINE",
		geom.Path{Closed: true, V: []geom.Vertex{
			geom.V(10, 10), geom.B(70.123456789, 10, math.Tan(math.Pi/8)), geom.B(80.123456789, 20, 1),
			geom.B(80.123456789, 30, -0.3), geom.V(60, 45.5), geom.V(10, 45.5),
		}},
		geom.Rect(30, 20, 40, 30).Reverse())
	d.Draw("SEAT", geom.Path{V: []geom.Vertex{geom.V(15, 10), geom.B(40, 10, 0.01), geom.V(50, 10)}})
	d.Draw("ENGRAVE", geom.Path{V: []geom.Vertex{geom.V(20, 40)}})
	require.NoError(t, d.DrawCircles("DRILL", geom.Circle(orb.Point{20, 25}, 3.5)))
	d.DrawAt("POCKET", -4.25, geom.Path{Closed: true, V: []geom.Vertex{geom.V(45, 12), geom.B(60, 12, 0.4), geom.V(60, 20), geom.V(45, 20)}})
	d.DrawAt("POCKET", -1.5, geom.Rect(12, 30, 20, 44), geom.Rect(14, 33, 18, 40).Reverse())
	d.Draw("SHEET", geom.Rect(0, 0, 600, 400))
	l := d.Layer("SHEET")
	l.Texts = append(l.Texts, Text{Text: `Ridge "lock" 45° 漢 100%% \U+0041 ^J`, Place: orb.Point{5, 390}, Height: 5, Angle: math.Pi / 2})
	return d
}

func write(t require.TestingT, d *Drawing, v Version) []byte {
	var b bytes.Buffer
	require.NoError(t, Write(&b, d, v))
	return b.Bytes()
}

func TestGolden(t *testing.T) {
	golden(t, "sample.dxf", write(t, sample(t), R2000))
	golden(t, "sample.r12.dxf", write(t, sample(t), R12))
}

func TestRoundTrip(t *testing.T) {
	for _, v := range []Version{R2000, R12} {
		want := sample(t)
		text := write(t, want, v)
		assert.Equal(t, text, write(t, sample(t), v), "the same drawing, the same bytes")
		got, err := Read("sample.dxf", text)
		require.NoError(t, err)
		if v == R2000 {
			assert.Equal(t, "mm", got.Units)
		} else {
			assert.Empty(t, got.Units)
		}
		assert.Empty(t, got.Skipped)
		equal(t, want, got, v)
		assert.Equal(t, text, write(t, got, v), "read and written again")
	}
}

func equal(t require.TestingT, want, got *Drawing, v Version) {
	require.Len(t, got.Layers, len(want.Layers)+1, "one more: layer 0")
	for _, w := range want.Layers {
		g := got.Layer(w.Name)
		require.NotNil(t, g, w.Name)
		require.Equal(t, w.colour(), g.colour())
		require.Equal(t, w.line(), g.line())
		if v == R2000 {
			require.Equal(t, w.Weight, g.Weight)
		}
		require.Len(t, g.Paths, len(w.Paths), w.Name)
		for i := range w.Paths {
			a, b := w.Paths[i].Path, g.Paths[i].Path
			require.Equal(t, a.Closed, b.Closed)
			require.InDelta(t, w.Paths[i].Z, g.Paths[i].Z, 1e-9)
			require.Len(t, b.V, len(a.V))
			for k := range a.V {
				require.InDelta(t, a.V[k].X(), b.V[k].X(), 1e-9)
				require.InDelta(t, a.V[k].Y(), b.V[k].Y(), 1e-9)
				require.InDelta(t, a.V[k].Bulge, b.V[k].Bulge, 1e-12)
			}
			for k := range a.Edges() { // the arcs themselves, not only their ends
				p, q := a.Edge(k).At(0.5), b.Edge(k).At(0.5)
				// ends rounded by 0.5e-9 each way, a bulge by 0.5e-12 over up to 3000 mm
				require.Less(t, math.Hypot(p[0]-q[0], p[1]-q[1]), 2.5e-9)
			}
		}
		require.Len(t, g.Circles, len(w.Circles))
		for i, c := range w.Circles {
			require.InDelta(t, c.Radius, g.Circles[i].Radius, 1e-9)
			require.True(t, near(c.Centre, g.Circles[i].Centre, 1e-9))
		}
		require.Len(t, g.Texts, len(w.Texts))
		for i, c := range w.Texts {
			require.Equal(t, c.Text, g.Texts[i].Text)
			require.InDelta(t, c.Angle, g.Texts[i].Angle, 1e-9)
		}
	}
}

func TestRoundTripOfAnyPaths(t *testing.T) {
	coord := rapid.Float64Range(-2000, 2000)
	rapid.Check(t, func(t *rapid.T) {
		d := New()
		for range rapid.IntRange(0, 5).Draw(t, "paths") {
			var v []geom.Vertex
			for range rapid.IntRange(1, 9).Draw(t, "vertices") {
				v = append(v, geom.B(coord.Draw(t, "x"), coord.Draw(t, "y"), rapid.Float64Range(-1, 1).Draw(t, "bulge")))
			}
			p, err := geom.NewPath(rapid.Bool().Draw(t, "closed") && len(v) > 1, v...)
			require.NoError(t, err)
			if len(p.V) == 1 {
				p.Closed = false
			}
			d.Draw(rapid.SampledFrom([]string{"WALL", "SEAT", "EXTRA"}).Draw(t, "layer"), p)
		}
		v := rapid.SampledFrom([]Version{R12, R2000}).Draw(t, "version")
		got, err := Read("x.dxf", write(t, d, v))
		require.NoError(t, err)
		equal(t, d, got, v)
	})
}

func TestDrawCircles(t *testing.T) {
	d := New()
	whole := geom.Circle(orb.Point{1, 2}, 3)
	a, b := whole.Edge(0).Split(0.3)
	parts := geom.Path{Closed: true, V: []geom.Vertex{{Point: a.A, Bulge: a.Bulge}, {Point: b.A, Bulge: b.Bulge}, whole.V[1]}}
	require.NoError(t, d.DrawCircles("DRILL", whole, parts, whole.Reverse()))
	for _, c := range d.Layer("DRILL").Circles {
		assert.InDelta(t, 3, c.Radius, 1e-9)
		assert.True(t, near(c.Centre, orb.Point{1, 2}, 1e-9))
	}
	for _, p := range []geom.Path{geom.Slot(orb.Point{}, orb.Point{1, 0}, 2), geom.Rect(0, 0, 1, 1), {V: whole.V}, {}} {
		assert.Error(t, d.DrawCircles("DRILL", p))
	}
}

func TestWriteRefuses(t *testing.T) {
	for _, tt := range []struct {
		name string
		d    Drawing
		v    Version
		want string
	}{
		{"version", Drawing{}, "AC1032", `version "AC1032"; want "AC1009" or "AC1015"`},
		{"lower case", Drawing{Layers: []*Layer{{Name: "wall"}}}, R12, `layer "wall"; want 1 to 31`},
		{"line end in a name", Drawing{Layers: []*Layer{{Name: "A\n0"}}}, R12, `layer "A\n0"; want`},
		{"twice", Drawing{Layers: []*Layer{{Name: "A"}, {Name: "A"}}}, R12, "layer A twice"},
		{"line type", Drawing{Layers: []*Layer{{Name: "A", Line: "wavy"}}}, R2000, `line type "wavy"; want`},
		{"colour", Drawing{Layers: []*Layer{{Name: "A", Colour: 256}}}, R2000, "colour 256; want 0 to 255"},
		{"no number", Drawing{Layers: []*Layer{{Name: "A", Circles: []Circle{{Radius: math.NaN()}}}}}, R2000, "NaN is beyond 1e+06 mm"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			err := Write(&bytes.Buffer{}, &tt.d, tt.v)
			require.Error(t, err)
			assert.Contains(t, err.Error(), tt.want)
		})
	}
}

func TestEmptyDrawing(t *testing.T) {
	for _, v := range []Version{R12, R2000} {
		d, err := Read("empty.dxf", write(t, &Drawing{}, v))
		require.NoError(t, err)
		assert.Equal(t, "0", d.Layers[0].Name)
	}
}

func FuzzRead(f *testing.F) {
	f.Add(write(f, sample(f), R2000))
	f.Add(write(f, sample(f), R12))
	for _, file := range []string{foreign, joined} {
		f.Add([]byte(file))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		d, err := Read("fuzz.dxf", text)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		for _, l := range d.Layers {
			r, err := d.Region(l.Name, "fuzz.dxf")
			if err == nil {
				require.NotEmpty(t, r)
			}
			l.Name = "A" // names from a file may be ones that we do not write
		}
		d.Layers = d.Layers[:min(1, len(d.Layers))]
		var once, twice bytes.Buffer
		if Write(&once, d, R2000) != nil {
			return
		}
		again, err := Read("once.dxf", once.Bytes())
		require.NoError(t, err, "cannot read our own output")
		require.NoError(t, Write(&twice, again, R2000))
	})
}
