package posts

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/jig/cutter"
	"blockwright/posts/dxf"
)

// A profile that our own writers drew comes back.
func TestImportOwnDrawings(t *testing.T) {
	c, err := cutter.Parse("curve-lock.toml", []byte(curved))
	require.NoError(t, err)
	for _, v := range []dxf.Version{dxf.R12, dxf.R2000} {
		d := dxf.New()
		d.Draw("CUTTER", c.Profile)
		d.Draw("OUTLINE", c.Profile.Reverse())
		var b bytes.Buffer
		require.NoError(t, dxf.Write(&b, d, v))
		got, err := ImportProfile("x.dxf", b.Bytes(), Drawn{Layer: "cutter"})
		require.NoError(t, err)
		require.Len(t, got.Profile.V, len(c.Profile.V))
		for i, p := range c.Profile.V {
			assert.InDelta(t, p.X(), got.Profile.V[i].X(), 1e-8)
			assert.InDelta(t, p.Y(), got.Profile.V[i].Y(), 1e-8)
			assert.InDelta(t, p.Bulge, got.Profile.V[i].Bulge, 1e-8)
		}
		_, err = ImportProfile("x.dxf", b.Bytes(), Drawn{})
		assert.Error(t, err, "twice the same line")
		_, err = ImportProfile("x.dxf", b.Bytes(), Drawn{Layer: "EDGE"})
		assert.ErrorContains(t, err, `no layer "EDGE"; it has`)
	}
}

func TestImportUnitsAndCurves(t *testing.T) {
	got, err := ImportProfile("x.csv", []byte("r,h\n1,0\n0.5,0.5\n"), Drawn{Units: "in"})
	require.NoError(t, err)
	assert.InDelta(t, 25.4, got.Profile.V[0].X(), 1e-9)

	got, err = ImportProfile("x.svg", []byte(`<svg width="100mm" height="100mm" viewBox="0 0 100 100"><path d="M30 90 C30 80 20 80 20 70 L5 60"/></svg>`), Drawn{})
	require.NoError(t, err)
	assert.Positive(t, got.Arcs)
	assert.Equal(t, 30.0, got.Profile.V[0].X())
	assert.InDelta(t, 30, got.Profile.End()[1], 1e-9)
	assert.Empty(t, got.Remarks)

	got, err = ImportProfile("x.svg", []byte(`<svg><path d="M30 90 L5 60"/></svg>`), Drawn{Units: "mm"})
	require.NoError(t, err)
	assert.InDelta(t, 30, got.Profile.V[0].X(), 1e-9)
	got, err = ImportProfile("x.svg", []byte(`<svg><path d="M30 90 L5 60"/></svg>`), Drawn{})
	require.NoError(t, err)
	assert.Contains(t, got.Remarks[0], "1/96 in")
}

func TestImportRefuses(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{"x.png", "", `an ending of ".png"`},
		{"x.csv", "1,2\n3,4\n\n9,9\n8,8\n", "2 separate lines; the nearest loose ends"},
		{"x.csv", "30,0\n20,10\n25,8\n5,30\n", "an undercut: from (20.0000, 10.0000) to (25.0000, 8.0000)"},
		{"x.svg", "<svg/>", "draws no line"},
		{"x.svg", "<svg><text>M</text></svg>", "line 1: text is not read"},
		{"x.svg", "<svg><use/></svg>", "x.svg:1: use is not read"},
		{"x.dxf", "nothing", "x.dxf"},
	} {
		_, err := ImportProfile(tt.name, []byte(tt.text), Drawn{})
		assert.ErrorContains(t, err, tt.want, "%s %q", tt.name, tt.text)
	}
}
