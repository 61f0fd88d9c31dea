package proof_test

import (
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/geom"
)

// read runs a program written by hand.
func read(t *testing.T, text string) []gcode.Move {
	t.Helper()
	p, found := gcode.Parse("hand.ngc", []byte(text))
	require.Empty(t, found)
	var ms []gcode.Move
	_, found = p.Check(gcode.RS274NGC(), gcode.Setup{}, func(m *gcode.Move) { ms = append(ms, *m) })
	require.Empty(t, found)
	return ms
}

// Programs that nobody here planned are held to what is a hazard, and to the part.
func TestHoldForeign(t *testing.T) {
	square := proof.Part{Wall: geom.Region{geom.Rect(20, 20, 60, 50)}, Sheet: sheet, Thick: 3, Rules: proof.Foreign()}
	drilled := proof.Part{Drill: []geom.Path{geom.Circle(orb.Point{30, 30}, 1.5), geom.Circle(orb.Point{40, 30}, 1.5)}, Thick: 3, Rules: proof.Foreign()}
	for _, tt := range []struct {
		name string
		text string
		part proof.Part
		want string
	}{
		{"plunged, one pass, rapid home at Z1", `g21 g17 g90
			s18000 m3
			g0 x18.5 y18.5 z1
			g1 z-3.2 f300
			x61.5 f800
			y51.5
			x18.5
			y18.5
			g0 z1
			x0 y0
			m2`, square, ""},
		{"round the corners by arcs, G91, inches", `G20 G91 G94
			M3 S12000
			G0 Z0.1
			G0 X0.787401575 Y0.728346457
			G1 Z-0.23 F10
			G1 X1.574803149 F30
			G3 X0.059055118 Y0.059055118 J0.059055118
			G1 Y1.181102362
			G3 X-0.059055118 Y0.059055118 I-0.059055118
			G1 X-1.574803149
			G3 X-0.059055118 Y-0.059055118 J-0.059055118
			G1 Y-1.181102362
			G3 X0.059055118 Y-0.059055118 I0.059055118
			G0 Z0.23
			M30`, square, ""},
		{"holes pecked", `G21 G90 G17
			M3 S8000
			G0 Z5
			G99 G83 X30 Y30 Z-3.3 R1 Q1 F100
			X40
			G80
			G0 Z20
			M2`, drilled, ""},
		{"an approach on an arc in ZX", `G21 G90
			M3 S18000
			G0 X10.5 Y18.5 Z4.8
			G18 G2 X18.5 Z-3.2 I8 F300
			G17 G1 X61.5 F800
			Y51.5
			X18.5
			Y18.5
			G0 Z5
			M2`, square, ""},
		{"one side short by a hundredth", `G21 G90
			M3 S18000
			G0 X18.5 Y18.5 Z1
			G1 Z-3.2 F300
			X61.51 F800
			Y51.5
			X18.5
			Y18.5
			G0 Z1
			M2`, square, proof.LeftOver},
		{"never through", `G21 G90
			M3 S18000
			G0 X18.5 Y18.5 Z1
			G1 Z-2.9 F300
			X61.5 F800
			Y51.5
			X18.5
			Y18.5
			G0 Z1
			M2`, square, proof.Uncut},
		{"into the spoilboard", `G21 G90
			M3 S18000
			G0 X18.5 Y18.5 Z1
			G1 Z-3.6 F300
			X61.5 F800
			Y51.5
			X18.5
			Y18.5
			G0 Z1
			M2`, square, proof.TooDeep},
		{"across the part", `G21 G90
			M3 S18000
			G0 X18.5 Y18.5 Z1
			G1 Z-3.2 F300
			X61.5 F800
			Y51.5
			X18.5
			X61.5 Y18.5
			X18.5
			Y51.5
			G0 Z1
			M2`, square, proof.Gouged},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := proof.Hold(read(t, strings.ReplaceAll(tt.text, "\t", "")), 3, tt.part)
			if tt.want == "" {
				require.Empty(t, r.Findings)
				assert.LessOrEqual(t, r.Gouge.Size, 1e-6)
				assert.LessOrEqual(t, r.Leftover.Size, 1e-6)
			}
			assert.Contains(t, codes(r), tt.want)
		})
	}
}
