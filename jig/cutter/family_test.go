package cutter

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/geom"
)

// right are sizes of invented cutters, and the profiles they make.
var right = map[string]struct {
	sizes map[string]float64
	want  []geom.Vertex
}{
	"lock-miter": {map[string]float64{
		"largest": 68, "smallest": 8, "ridge": 51, "neck": 25, "height": 30, "flank-to": 10, "ridge-from": 10.5,
		"ridge-to": 14.4, "neck-from": 15.6, "neck-to": 19.5, "flank-from": 20, "angle": 45,
	}, []geom.Vertex{geom.V(34, 0), geom.V(24, 10), geom.V(25.5, 10.5), geom.V(25.5, 14.4), geom.V(12.5, 15.6), geom.V(12.5, 19.5), geom.V(14, 20), geom.V(4, 30)}},
	"drawer-lock": {map[string]float64{"land": 40, "tooth": 52, "land-to": 6, "tooth-from": 7, "tooth-height": 5, "height": 12},
		[]geom.Vertex{geom.V(20, 0), geom.V(20, 6), geom.V(26, 7), geom.V(26, 12)}},
	"edge-glue": {map[string]float64{"end": 40, "ridge": 48, "groove": 32, "ridges": 2, "pitch": 12, "end-to": 6, "ridge-from": 7, "ridge-to": 11, "groove-from": 13, "groove-to": 17, "height": 36},
		[]geom.Vertex{geom.V(20, 0), geom.V(20, 6), geom.V(24, 7), geom.V(24, 11), geom.V(16, 13), geom.V(16, 17), geom.V(24, 19), geom.V(24, 23), geom.V(16, 25), geom.V(16, 29), geom.V(20, 30), geom.V(20, 36)}},
	"chamfer":    {map[string]float64{"largest": 38, "smallest": 12, "height": 13}, []geom.Vertex{geom.V(19, 0), geom.V(6, 13)}},
	"round-over": {map[string]float64{"radius": 6, "largest": 24.7, "smallest": 12.7}, []geom.Vertex{geom.B(12.35, 0, -quarter), geom.V(6.35, 6)}},
	"cove":       {map[string]float64{"radius": 8, "largest": 28, "height": 9}, []geom.Vertex{geom.V(14, 0), geom.B(14, 1, quarter), geom.V(6, 9)}},
	"rebate":     {map[string]float64{"largest": 32, "smallest": 10, "height": 12}, []geom.Vertex{geom.V(16, 0), geom.V(16, 12), geom.V(5, 12)}},
}

func TestFamiliesMakeProfiles(t *testing.T) {
	for _, f := range Families() {
		t.Run(f.Name(), func(t *testing.T) {
			r := right[f.Name()]
			p, spread, err := f.Profile(r.sizes, Calipers)
			require.NoError(t, err)
			assert.Equal(t, Calipers, spread)
			require.Len(t, p.V, len(r.want))
			for i, v := range r.want {
				assert.InDelta(t, 0, apart(v.Point, p.V[i].Point), 1e-9, "point %d", i)
				assert.InDelta(t, v.Bulge, p.V[i].Bulge, 1e-12)
			}
			c := &Cutter{Handle: "x", Name: "x", Joint: f.Joint, Known: [2]bool{true, true}, Profile: p}
			_, err = Parse("x.toml", c.Text())
			require.NoError(t, err)
			for _, s := range f.Sizes {
				assert.Contains(t, f.Drawing, s.Letter, s.Name)
				assert.NotEmpty(t, s.Says)
				if s.Usual > 0 {
					continue
				}
				less := map[string]float64{}
				for k, v := range r.sizes {
					if k != s.Name {
						less[k] = v
					}
				}
				_, _, err := f.Profile(less, Calipers)
				assert.ErrorContains(t, err, "--"+s.Name)
			}
			for _, line := range strings.Split(f.Drawing, "\n") {
				assert.LessOrEqual(t, len(line), 60)
			}
		})
	}
}

// Readings that err as calipers do make a profile no farther off than a few times
// that, and one size read wrongly by a millimetre is never taken in silence where
// another says the same.
func TestFamiliesBearReadings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(Families()).Draw(t, "family")
		r := right[f.Name()]
		sizes := map[string]float64{}
		for _, s := range f.Sizes {
			if v, ok := r.sizes[s.Name]; ok {
				if !s.Plain {
					v += rapid.Float64Range(-Calipers, Calipers).Draw(t, s.Name)
				}
				sizes[s.Name] = v
			}
		}
		p, _, err := f.Profile(sizes, Calipers)
		require.NoError(t, err)
		want := geom.Path{V: r.want}
		d, at := geom.Farthest(p, []geom.Path{want}, 1e-6)
		if d > 4*Calipers {
			t.Fatalf("%.3f off at %v", d, at)
		}
		if f.Joint == "lock-miter" || f.Joint == "edge-glue" {
			s, err := geom.Centre(p)
			require.NoError(t, err)
			assert.Less(t, s.Residual, 1e-6, "the joint closes")
		}
	})
	for _, name := range []string{"largest", "smallest", "ridge", "neck", "height", "flank-to", "ridge-from", "ridge-to", "neck-from", "neck-to", "flank-from"} {
		sizes := map[string]float64{}
		for k, v := range right["lock-miter"].sizes {
			sizes[k] = v
		}
		sizes[name] += 1
		_, _, err := lockMiterFamily.Profile(sizes, Calipers)
		var c *Contradiction
		require.ErrorAs(t, err, &c, name)
		assert.Contains(t, c.From, name)
	}
}

func TestFamilyRefusals(t *testing.T) {
	_, err := FamilyOf("matched", "")
	assert.ErrorContains(t, err, "import a drawing or trace a cut")
	_, err = FamilyOf("edge", "")
	assert.ErrorContains(t, err, "chamfer, round-over, cove, rebate")
	_, err = FamilyOf("edge", "ogee")
	assert.ErrorContains(t, err, `no shape "ogee"`)
	_, _, err = rebateFamily.Profile(map[string]float64{"largest": 10, "smallest": 32, "height": 12}, Calipers)
	assert.ErrorContains(t, err, "--largest is 10 and --smallest 32")
	_, _, err = rebateFamily.Profile(map[string]float64{"largest": 32, "smallest": 10, "height": 12, "neck": 3}, Calipers)
	assert.ErrorContains(t, err, "has no size --neck")
}
