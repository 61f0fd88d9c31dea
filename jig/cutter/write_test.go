package cutter

import (
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/geom"
	"blockwright/jig/source"
)

func TestTextIsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := &Cutter{Handle: "some-cutter", Name: rapid.StringMatching(`[A-Za-z0-9 "\\°-]{1,20}x`).Draw(t, "name"), Joint: "edge", Units: "mm", Known: [2]bool{rapid.Bool().Draw(t, "known"), true}}
		h := 0.0
		for range rapid.IntRange(2, 12).Draw(t, "points") {
			c.Profile.V = append(c.Profile.V, geom.B(rapid.Float64Range(1, 50).Draw(t, "r"), h, rapid.SampledFrom([]float64{0, 0.1, -0.05}).Draw(t, "bulge")))
			h += rapid.Float64Range(30, 40).Draw(t, "rise")
		}
		c.Profile.V[len(c.Profile.V)-1].Bulge = 0
		text := c.Text("two\nlines \x07", "and \xff more")
		back, err := Parse("some-cutter.toml", text)
		if err != nil {
			t.Skip(err) // an arc that falls
		}
		assert.Equal(t, c.Name, back.Name)
		assert.Equal(t, c.Known, back.Known)
		require.Len(t, back.Profile.V, len(c.Profile.V))
		for i, v := range c.Profile.V {
			assert.InDelta(t, 0, math.Hypot(v.X()-back.Profile.V[i].X(), v.Y()-back.Profile.V[i].Y()), 1e-9)
			assert.Equal(t, v.Bulge, back.Profile.V[i].Bulge)
		}
		assert.Equal(t, text, c.Text("two\nlines \x07", "and \xff more"))
	})
}

func TestWrite(t *testing.T) {
	dir := t.TempDir()
	c := &Cutter{Handle: "a-cutter", Name: "A", Joint: "edge", Known: [2]bool{true, true}, Shank: 12, MaxRPM: 9000, Traced: &Traced{0.01, 0.02},
		Profile: geom.Path{V: []geom.Vertex{geom.V(10, 0), geom.V(5, 5)}}, Body: geom.Path{V: []geom.Vertex{geom.V(4, -10), geom.V(4, 0)}}}
	path, err := c.Write(dir, false, "measured")
	require.NoError(t, err)
	assert.Equal(t, filepath.Join(dir, Folder, "a-cutter.toml"), path)
	back, err := Find(dir, "a-cutter")
	require.NoError(t, err)
	assert.Equal(t, c.Profile, back.Profile)
	assert.Equal(t, c.Body, back.Body)
	assert.Equal(t, 9000.0, back.MaxRPM)
	assert.Equal(t, c.Traced, back.Traced)

	var exists *ExistsError
	_, err = c.Write(dir, false)
	require.ErrorAs(t, err, &exists)
	c.Name = "B"
	_, err = c.Write(dir, true)
	require.NoError(t, err)
	back, err = Find(dir, "a-cutter")
	require.NoError(t, err)
	assert.Equal(t, "B", back.Name)

	// What is no cutter leaves nothing and replaces nothing.
	bad := *c
	bad.Handle, bad.Profile = "bad", geom.Path{V: []geom.Vertex{geom.V(10, 5), geom.V(5, 0)}}
	var faults source.Faults
	_, err = bad.Write(dir, true)
	require.ErrorAs(t, err, &faults)
	bad.Handle = "../bad"
	_, err = bad.Write(dir, true)
	require.Error(t, err)
	entries, err := os.ReadDir(filepath.Join(dir, Folder))
	require.NoError(t, err)
	assert.Len(t, entries, 1)
	_, err = c.Write(filepath.Join(dir, "nowhere"), false)
	assert.True(t, errors.Is(err, fs.ErrNotExist))
}
