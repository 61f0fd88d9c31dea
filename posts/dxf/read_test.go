package dxf

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
)

// groups makes a file of pairs "code value", one a line.
func groups(pairs string) string {
	var b strings.Builder
	for _, line := range strings.Split(strings.TrimSpace(pairs), "\n") {
		code, value, _ := strings.Cut(strings.TrimSpace(line), " ")
		fmt.Fprintf(&b, "%s\n%s\n", code, value)
	}
	return b.String()
}

func entities(pairs string) string {
	return groups("0 SECTION\n2 ENTITIES\n" + strings.TrimSpace(pairs) + "\n0 ENDSEC\n0 EOF")
}

// foreign is as other programs write: inches, comments, CR LF, handles, widths,
// an upside-down arc, entities that we do not read.
var foreign = strings.ReplaceAll(groups(`
999 made elsewhere
0 SECTION
2 HEADER
9 $ACADVER
1 AC1015
9 $INSUNITS
70 1
9 $EXTMIN
10 0.0
20 0.0
0 ENDSEC
0 SECTION
2 TABLES
0 TABLE
2 LAYER
70 1
0 LAYER
2 Part
70 0
62 -3
6 DASHED
0 ENDTAB
0 ENDSEC
0 SECTION
2 BLOCKS
0 BLOCK
2 mark
0 LINE
8 0
10 0
20 0
11 1
21 1
0 ENDBLK
0 ENDSEC
0 SECTION
2 ENTITIES
0 LINE
5 2A
8 part
10 0
20 0
30 1.5
11 1e0
21 0
0 ARC
8 Part
10 -1
20 0.5
40 0.5
50 90
51 270
210 0
220 0
230 -1
0 LWPOLYLINE
8 PART
90 3
70 0
43 0.1
10 1
20 1
42 0.0
10 0.5
20 1
40 0.1
41 0.1
10 0
20 1
0 LINE
8 part
10 0
20 1
11 0
21 0
0 MTEXT
8 part
1 a note
0 POLYLINE
8 Other
66 1
70 1
0 VERTEX
8 Other
10 3
20 0
42 1
0 VERTEX
8 Other
10 4
20 0
42 1
0 SEQEND
0 LINE
8 Part
67 1
10 7
20 7
11 8
21 8
0 INSERT
8 Notes
2 MARK
10 0
20 0
0 ENDSEC
0 EOF
`), "\n", "\r\n")

func TestReadForeign(t *testing.T) {
	d, err := Read("foreign.dxf", []byte(foreign))
	require.NoError(t, err)
	assert.Equal(t, "in", d.Units)
	part := d.Layer("PART")
	require.NotNil(t, part)
	assert.Equal(t, "Part", part.Name)
	assert.Equal(t, 3, part.Colour)
	assert.Equal(t, Dashed, part.Line)
	assert.Len(t, part.Paths, 4, "the line in paper space is left out")
	require.Len(t, d.Skipped, 2)
	assert.Equal(t, Skip{Kind: "MTEXT", Layer: "part", At: d.Skipped[0].At}, d.Skipped[0])
	assert.Equal(t, Skip{Kind: "INSERT", Layer: "Notes", At: d.Skipped[1].At, Shape: true, Inside: []string{"0"}}, d.Skipped[1])

	//    ______
	//   |      )   1 in square with a half round right side; the arc is drawn
	//   |______)   from below and joins the lines all the same
	r, err := d.Region("Part", "foreign.dxf")
	require.NoError(t, err)
	require.Len(t, r, 1)
	assert.InDelta(t, 25.4*25.4*(1+math.Pi/8), r.Area(), 1e-6)
	assert.InDelta(t, 1.5*25.4, r.Bound().Max[0], 1e-6)

	r, err = d.Region("other", "foreign.dxf")
	require.NoError(t, err)
	assert.InDelta(t, math.Pi*12.7*12.7, r.Area(), 1e-6)

	_, err = d.Region("Notes", "foreign.dxf")
	assert.ErrorContains(t, err, "INSERT on layer Notes cannot be read")
	_, err = d.Region("WALL", "foreign.dxf")
	assert.ErrorContains(t, err, "foreign.dxf: no layer WALL; it has Part, Other")
}

// joined is a square of four lines in wild order and sense, with a hole of two
// arcs and an island in the hole.
var joined = entities(`
0 LINE
8 WALL
10 10
20 10
11 0
21 10
0 LINE
8 WALL
10 0
20 0
11 10
21 0
0 LINE
8 WALL
10 10.0005
20 10
11 10
21 0
0 LINE
8 WALL
10 0
20 10
11 0
21 0
0 ARC
8 WALL
10 5
20 5
40 3
50 30
51 300
0 ARC
8 WALL
10 5
20 5
40 3
50 300
51 30
0 CIRCLE
8 WALL
10 5
20 5
40 1
0 POINT
8 WALL
10 5
20 5
`)

func TestRegionJoinsAndNests(t *testing.T) {
	d, err := Read("joined.dxf", []byte(joined))
	require.NoError(t, err)
	r, err := d.Region("wall", "joined.dxf")
	require.NoError(t, err)
	require.Len(t, r, 3)
	assert.InDelta(t, 100-9*math.Pi+math.Pi, r.Area(), 0.01)
	assert.Equal(t, 1, r.Winding(orb.Point{1, 1}))
	assert.Equal(t, 0, r.Winding(orb.Point{5, 7}))
	assert.Equal(t, 1, r.Winding(orb.Point{5, 5.5}))
	for _, p := range r {
		assert.True(t, p.Closed)
	}
}

// Whatever of the four sides is drawn the other way round, and whichever comes
// first, the square is the same.
func TestRegionInEveryOrder(t *testing.T) {
	sides := []geom.Path{
		{V: []geom.Vertex{geom.V(0, 0), geom.V(4, 0), geom.V(8, 0)}},
		{V: []geom.Vertex{geom.B(8, 0, 0.4), geom.V(8, 6)}},
		{V: []geom.Vertex{geom.V(8, 6), geom.V(0, 6)}},
		{V: []geom.Vertex{geom.B(0, 6, -0.2), geom.V(0, 0)}},
	}
	want := geom.Path{Closed: true, V: []geom.Vertex{geom.V(0, 0), geom.B(8, 0, 0.4), geom.V(8, 6), geom.B(0, 6, -0.2)}}.Area()
	for first := range 4 {
		for flips := range 16 {
			d := &Drawing{}
			for k := range 4 {
				p := sides[(first+k)%4]
				if flips>>k&1 == 1 {
					p = p.Reverse()
				}
				d.Draw("A", p)
			}
			r, err := d.Region("A", "x.dxf")
			require.NoError(t, err)
			require.Len(t, r, 1)
			require.InDelta(t, want, r.Area(), 1e-9)
		}
	}
}

func TestReadRefuses(t *testing.T) {
	line := "0 LINE\n8 A\n10 0\n20 0\n11 1\n21 0\n"
	for _, tt := range []struct {
		name, text, want string
	}{
		{"empty", "", "x.dxf: is empty"},
		{"binary", "AutoCAD Binary DXF\r\n\x1a\x00", "x.dxf: a binary DXF file; want an ASCII one"},
		{"drawing database", "AC1015\x00\x00", "a DWG file"},
		{"zero bytes", "0\nSECTION\x00", "zero byte"},
		{"no text", "<svg/>\n", `x.dxf:1: "<svg/>"; want a group code`},
		{"odd line", "0\n", "x.dxf:1: group code 0 ends the file; want its value"},
		{"no sections", "0\nEOF\n", "x.dxf:1: EOF before any SECTION"},
		{"no section", "0\nLINE\n", `x.dxf:1: group 0 "LINE"; want 0 SECTION`},
		{"unnamed section", groups("0 SECTION\n0 ENDSEC\n0 EOF"), "x.dxf:1: a section without a name"},
		{"cut short", groups("0 SECTION\n2 ENTITIES\n" + line), "x.dxf:16: ends without EOF"},
		{"lost ENDSEC", groups("0 SECTION\n2 ENTITIES\n" + line + "0 EOF"), "x.dxf:17: EOF before ENDSEC"},
		{"comma", entities("0 LINE\n8 A\n10 0,5\n20 0\n11 1\n21 0"), `x.dxf:10: group 10 is "0,5"; want a number`},
		{"hexadecimal", entities("0 LINE\n8 A\n10 0x1p2\n20 0\n11 1\n21 0"), "want a number"},
		{"no number", entities("0 LINE\n8 A\n10 NaN\n20 inf\n11 1\n21 0"), `x.dxf:12: group 20 is "inf"; want a number`},
		{"too far", entities("0 LINE\n8 A\n10 2e6\n20 0\n11 1\n21 0"), "x.dxf:10: group 10 is \"2e6\", 2e+06 mm; want at most 1e+06 mm"},
		{"missing end", entities("0 LINE\n8 A\n10 0\n20 0\n11 1"), "x.dxf:5: LINE without group 21"},
		{"radius", entities("0 CIRCLE\n8 A\n10 0\n20 0\n40 0"), "x.dxf:5: CIRCLE with radius 0; want more than 0"},
		{"lost vertex", entities("0 LWPOLYLINE\n8 A\n90 3\n70 1\n10 0\n20 0\n10 1\n20 0"), "x.dxf:5: LWPOLYLINE says 3 vertices and has 2"},
		{"half a vertex", entities("0 LWPOLYLINE\n8 A\n90 2\n10 0\n10 1\n20 0"), "x.dxf:5: LWPOLYLINE: vertex 0 has no group 20"},
		{"y first", entities("0 LWPOLYLINE\n8 A\n20 0\n10 1"), "x.dxf:9: group 20 before the first vertex"},
		{"great bulge", entities("0 LWPOLYLINE\n8 A\n10 0\n20 0\n42 1e9\n10 1\n20 0"), "x.dxf:5: LWPOLYLINE reaches"},
		{"no end of vertices", entities("0 POLYLINE\n8 A\n0 VERTEX\n10 0\n20 0\n" + line), `"LINE" among the vertices of a POLYLINE`},
		{"units", groups("0 SECTION\n2 HEADER\n9 $INSUNITS\n70 18\n0 ENDSEC\n0 EOF"), "x.dxf:8: $INSUNITS 18; want 1 (inch), 4 (mm)"},
		{"long line", "0\n" + strings.Repeat("x", 5000) + "\n", "x.dxf:2: a line of 5000 characters"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d, err := Read("x.dxf", []byte(tt.text))
			require.Error(t, err)
			assert.Nil(t, d)
			assert.Contains(t, err.Error(), tt.want)
		})
	}
}

func TestReadReportsAllFaults(t *testing.T) {
	_, err := Read("x.dxf", []byte(entities("0 CIRCLE\n8 A\n10 0\n20 0\n40 -1\n0 LINE\n8 A\n10 0\n20 x\n11 1\n21 1")))
	var fs Faults
	require.ErrorAs(t, err, &fs)
	require.Len(t, fs, 2)
	assert.Equal(t, 5, fs[0].Line)
	assert.Equal(t, 22, fs[1].Line)
}

func TestRegionRefuses(t *testing.T) {
	line := func(x0, y0, x1, y1 float64) string {
		return fmt.Sprintf("0 LINE\n8 A\n10 %g\n20 %g\n11 %g\n21 %g\n", x0, y0, x1, y1)
	}
	for _, tt := range []struct {
		name, text, want string
	}{
		{"open", entities(line(0, 0, 1, 0) + line(1, 0, 1, 1) + line(1, 1, 0, 0.01)),
			"x.dxf:5: the end at (0, 0) on layer A meets no other within 0.002 mm"},
		{"fork", entities(line(0, 0, 1, 0) + line(1, 0, 1, 1) + line(1, 1, 0, 0) + line(1, 0, 2, 0) + line(2, 0, 1, 0)),
			"x.dxf:5: more than two ends meet at (1, 0) on layer A (see lines"},
		{"drawn twice", entities(line(0, 0, 1, 0) + line(0, 0, 1, 0) + line(1, 0, 0, 1) + line(0, 1, 0, 0)), "more than two ends meet"},
		{"to and fro", entities(line(0, 0, 1, 0) + line(1, 0, 0, 0)), "encloses no area"},
		{"flat", entities("0 LWPOLYLINE\n8 A\n70 1\n10 0\n20 0\n10 1\n20 0"), "x.dxf:5: a closed path on layer A encloses no area"},
		{"bow tie", entities("0 LWPOLYLINE\n8 A\n70 1\n10 0\n20 0\n10 3\n20 2\n10 3\n20 0\n10 0\n20 1"), "x.dxf: boundaries on layer A cross at (1, 0.6667)"},
		{"two across", entities("0 CIRCLE\n8 A\n10 0\n20 0\n40 1\n0 CIRCLE\n8 A\n10 1\n20 0\n40 1"), "boundaries on layer A cross at (0.5, "},
		{"nothing", entities("0 POINT\n8 A\n10 0\n20 0"), "x.dxf: nothing on layer A; want closed boundaries"},
		{"spline", entities("0 CIRCLE\n8 A\n10 0\n20 0\n40 1\n0 SPLINE\n8 a"), "x.dxf:15: SPLINE on layer a cannot be read"},
		{"tilted", entities("0 CIRCLE\n8 A\n10 0\n20 0\n40 1\n210 1\n220 0\n230 0"), "CIRCLE on layer A cannot be read"},
		{"solid polyline", entities("0 POLYLINE\n8 A\n70 8\n0 VERTEX\n10 0\n20 0\n0 SEQEND"), "POLYLINE on layer A cannot be read"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d, err := Read("x.dxf", []byte(tt.text))
			require.NoError(t, err)
			r, err := d.Region("A", "x.dxf")
			require.Error(t, err)
			assert.Nil(t, r)
			assert.Contains(t, err.Error(), tt.want)
		})
	}
}

func TestLettering(t *testing.T) {
	d, err := Read("x.dxf", []byte(entities("0 TEXT\n8 A\n10 1\n20 2\n40 3\n1 5 \\U+00B0 \\U+00ZZ\n50 90")))
	require.NoError(t, err)
	assert.Equal(t, []Text{{Text: `5 ° \U+00ZZ`, Place: orb.Point{1, 2}, Height: 3, Angle: math.Pi / 2, At: 5}}, d.Layer("A").Texts)
	assert.LessOrEqual(t, len(plain(strings.Repeat("漢", 999))), 240)
	assert.Equal(t, "a b ?", plain("a\r"+"b\x00\U0001F600"))
}
