package dxf

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
)

func TestFloors(t *testing.T) {
	for _, v := range []Version{R2000, R12} {
		d, err := Read("sample.dxf", write(t, sample(t), v))
		require.NoError(t, err)
		fs, err := d.Floors("POCKET", "sample.dxf")
		require.NoError(t, err)
		require.Len(t, fs, 2)
		assert.InDelta(t, -1.5, fs[0].Z, 1e-9)
		assert.InDelta(t, -4.25, fs[1].Z, 1e-9)
		assert.Len(t, fs[0].Region, 2)
		assert.InDelta(t, 8*14-4*7, fs[0].Region.Area(), 1e-9)
		fs, err = d.Floors("WALL", "sample.dxf")
		require.NoError(t, err)
		assert.Empty(t, fs)
		fs, err = d.Floors("NONE", "sample.dxf")
		require.NoError(t, err)
		assert.Empty(t, fs)
	}
}

// An open or crossing floor is refused, and one that cannot be read is not passed
// over in silence.
func TestFloorsRefuse(t *testing.T) {
	for _, c := range []struct {
		name, want string
		draw       func(*Drawing)
	}{
		{"open", "meets no other", func(d *Drawing) { d.DrawAt("POCKET", -2, geom.Rect(0, 0, 5, 5).Cut(0, 12)) }},
		{"crossing", "cross at", func(d *Drawing) { d.DrawAt("POCKET", -2, geom.Rect(0, 0, 5, 5), geom.Rect(3, 3, 9, 9)) }},
		{"not read", "SPLINE on layer POCKET", func(d *Drawing) {
			d.Skipped = append(d.Skipped, Skip{Kind: "SPLINE", Layer: "POCKET", Shape: true})
		}},
	} {
		d := New()
		c.draw(d)
		_, err := d.Floors("POCKET", "x.dxf")
		require.ErrorContains(t, err, c.want, c.name)
	}
	// The same two at two elevations do not cross.
	d := New()
	d.DrawAt("POCKET", -2, geom.Rect(0, 0, 5, 5))
	d.DrawAt("POCKET", -3, geom.Rect(3, 3, 9, 9))
	fs, err := d.Floors("POCKET", "x.dxf")
	require.NoError(t, err)
	assert.Len(t, fs, 2)
}

// An arc and two lines at one elevation make a floor; a circle turned upside down
// lies as far below as it says above.
func TestFloorsOfOtherEntities(t *testing.T) {
	d, err := Read("x.dxf", []byte(strings.Join([]string{
		"0", "SECTION", "2", "ENTITIES",
		"0", "LINE", "8", "POCKET", "10", "0", "20", "0", "30", "-2", "11", "10", "21", "0", "31", "-2",
		"0", "ARC", "8", "POCKET", "10", "5", "20", "0", "30", "-2", "40", "5", "50", "0", "51", "180",
		"0", "CIRCLE", "8", "POCKET", "10", "-30", "20", "0", "30", "3", "40", "4", "210", "0", "220", "0", "230", "-1",
		"0", "ENDSEC", "0", "EOF",
	}, "\n")+"\n"))
	require.NoError(t, err)
	fs, err := d.Floors("POCKET", "x.dxf")
	require.NoError(t, err)
	require.Len(t, fs, 2)
	assert.InDelta(t, -2, fs[0].Z, 1e-12)
	assert.InDelta(t, -3, fs[1].Z, 1e-12)
	assert.True(t, fs[1].Region.Winding([2]float64{30, 0}) > 0)
}
