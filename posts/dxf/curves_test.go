package dxf

import (
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func curveFile(entity string) []byte {
	return []byte("0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n" +
		strings.Join(strings.Fields(entity), "\n") + "\n0\nENDSEC\n0\nEOF\n")
}

// A cubic of the power basis, x = 12u, y = 12u³, on two spans of a clamped spline is
// itself in both, and a quarter of an ellipse lies on it.
func TestReadCurves(t *testing.T) {
	const cubic = `0 SPLINE 8 A 70 8 71 3 72 9 73 5
		40 0 40 0 40 0 40 0 40 0.25 40 1 40 1 40 1 40 1
		10 0 20 0 10 1 20 0 10 5 20 0 10 9 20 3 10 12 20 12`
	d, err := ReadCurves("x.dxf", curveFile(cubic), 1e-5)
	require.NoError(t, err)
	require.Len(t, d.Layer("A").Paths, 1)
	p := d.Layer("A").Paths[0].Path
	assert.Equal(t, orb.Point{0, 0}, p.Start())
	assert.Equal(t, orb.Point{12, 12}, p.End())
	for k := range 500 {
		u := float64(k) / 499
		assert.LessOrEqual(t, p.Nearest(orb.Point{12 * u, 12 * u * u * u}).Dist, 1e-5)
	}
	d, err = ReadCurves("x.dxf", curveFile("0 ELLIPSE 8 A 10 5 20 6 11 0 21 20 40 0.5 41 0 42 1.5707963267948966"), 1e-4)
	require.NoError(t, err)
	p = d.Layer("A").Paths[0].Path
	assert.InDelta(t, 0, p.Start()[0]-5, 1e-9)
	assert.InDelta(t, -10, p.End()[0]-5, 1e-9, "counter-clockwise from the major axis")
	for k := range 500 {
		s, c := math.Sincos(float64(k) / 499 * math.Pi / 2)
		assert.LessOrEqual(t, p.Nearest(orb.Point{5 - 10*s, 6 + 20*c}).Dist, 1e-4)
	}
	round, err := ReadCurves("x.dxf", curveFile("0 ELLIPSE 8 A 10 5 20 6 11 20 21 0 40 1"), 1e-6)
	require.NoError(t, err)
	p = round.Layer("A").Paths[0].Path
	assert.True(t, p.Closed)
	assert.Len(t, p.V, 4)
	assert.InDelta(t, math.Pi*400, p.Area(), 1e-9)

	plain, err := Read("x.dxf", curveFile(cubic))
	require.NoError(t, err)
	require.Len(t, plain.Skipped, 1, "without curves as ever")
}

func TestReadCurvesRefuses(t *testing.T) {
	for name, tt := range map[string]struct{ entity, want string }{
		"degree":     {"0 SPLINE 71 0 10 0 20 0", "SPLINE of degree 0; want 1 to 11"},
		"knots":      {"0 SPLINE 71 1 40 0 40 1 10 0 20 0 10 1 20 1", "2 control points and 2 knots"},
		"counts":     {"0 SPLINE 71 1 72 5 73 2 40 0 40 0 40 1 40 1 10 0 20 0 10 1 20 1", "says 2 control points and 5 knots and has 2 and 4"},
		"falling":    {"0 SPLINE 71 1 40 0 40 1 40 0.5 40 1 10 0 20 0 10 1 20 1", "knots that fall, 0.5 after 1"},
		"weight":     {"0 SPLINE 71 1 40 0 40 0 40 1 40 1 41 1 41 0 10 0 20 0 10 1 20 1", "the weight 0"},
		"weights":    {"0 SPLINE 71 1 40 0 40 0 40 1 40 1 41 1 10 0 20 0 10 1 20 1", "1 weights for 2"},
		"no y":       {"0 SPLINE 71 1 40 0 40 0 40 1 40 1 10 0 10 1 20 1", "control point 0 has no group 20"},
		"no stretch": {"0 SPLINE 71 1 40 1 40 1 40 1 40 1 10 0 20 0 10 1 20 1", "no stretch"},
		"axis":       {"0 ELLIPSE 10 0 20 0 11 0 21 0 40 0.5", "want both above 0"},
		"far":        {"0 ELLIPSE 10 0 20 0 11 900000 21 900000 40 1", "want at most 1e+06 mm"},
	} {
		_, err := ReadCurves("x.dxf", curveFile(tt.entity), 1e-3)
		require.Error(t, err, name)
		assert.Contains(t, err.Error(), tt.want, name)
	}
	d, err := ReadCurves("x.dxf", curveFile("0 SPLINE 71 3 74 2 11 0 21 0 11 1 21 1 0 SPLINE 71 1 40 0 40 0 40 1 40 1 10 0 20 0 30 0 10 1 20 1 30 2"), 1e-3)
	require.NoError(t, err)
	assert.Len(t, d.Skipped, 2, "fit points alone, and not in the plane")
}

func FuzzReadCurves(f *testing.F) {
	f.Add(curveFile("0 SPLINE 71 1 40 0 40 0 40 1 40 1 10 0 20 0 10 1 20 1 0 ELLIPSE 10 0 20 0 11 3 21 4 40 0.5 41 1 42 2"))
	f.Fuzz(func(t *testing.T, text []byte) {
		d, err := ReadCurves("x.dxf", text, 0.01)
		if err != nil {
			return
		}
		for _, l := range d.Layers {
			for _, p := range l.Paths {
				for i := range p.Edges() {
					if e := p.Edge(i); !(math.Abs(e.Bulge) <= 1 && e.Length() >= 0) {
						t.Fatalf("edge %v", e)
					}
				}
			}
		}
	})
}
