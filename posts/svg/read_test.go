package svg

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"blockwright/geom"
)

func one(t *testing.T, body, head string, how Reading) geom.Path {
	t.Helper()
	p, err := Read("x.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" `+head+`>`+body+`</svg>`), how)
	require.NoError(t, err)
	require.Len(t, p.Paths, 1)
	return p.Paths[0].Path
}

const mmPage = `width="100mm" height="100mm" viewBox="0 0 100 100"`

func TestReadPlacesAndUnits(t *testing.T) {
	const line = `<path d="M1 2 L5 2"/>`
	for _, tt := range []struct {
		name, head, body string
		how              Reading
		from, to         orb.Point
	}{
		{"mm page", mmPage, line, Reading{}, orb.Point{1, -2}, orb.Point{5, -2}},
		{"pixels", "", line, Reading{}, orb.Point{pixel, -2 * pixel}, orb.Point{5 * pixel, -2 * pixel}},
		{"inches", `width="2in" height="2in" viewBox="0 0 20 20"`, line, Reading{}, orb.Point{2.54, -5.08}, orb.Point{12.7, -5.08}},
		{"meet", `width="100mm" height="200mm" viewBox="0 0 100 100"`, line, Reading{}, orb.Point{1, -2}, orb.Point{5, -2}},
		{"none", `width="100mm" height="200mm" viewBox="0 0 100 100" preserveAspectRatio="none"`, line, Reading{}, orb.Point{1, -4}, orb.Point{5, -4}},
		{"told", "", line, Reading{Unit: 1}, orb.Point{1, -2}, orb.Point{5, -2}},
		{"nested", mmPage, `<g transform="translate(10,20) rotate(90)"><g transform="scale(2)">` + line + `</g></g>`, Reading{}, orb.Point{6, -22}, orb.Point{6, -30}},
		{"matrix", mmPage, `<path transform="matrix(1 0 0 -1 3 4)" d="m1-2 4,0"/>`, Reading{}, orb.Point{4, -6}, orb.Point{8, -6}},
		{"about a point", mmPage, `<line x1="1" y1="2" x2="5" y2="2" transform="rotate(180 1 2)"/>`, Reading{}, orb.Point{1, -2}, orb.Point{-3, -2}},
		{"relative", mmPage, `<path d="m1 2h2h2"/>`, Reading{}, orb.Point{1, -2}, orb.Point{5, -2}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := one(t, tt.body, tt.head, tt.how)
			for k := range 2 {
				assert.InDelta(t, tt.from[k], p.Start()[k], 1e-9)
				assert.InDelta(t, tt.to[k], p.End()[k], 1e-9)
			}
		})
	}
}

// What Canvas writes comes back with its arcs, within what its words say.
func TestReadTakesCanvasBack(t *testing.T) {
	want := geom.Path{V: []geom.Vertex{geom.V(10, 10), geom.B(30, 10, 0.4142135623730951), geom.B(40, 20, -1), geom.V(40, 30)}}
	c := New("x", 100, 100, "x", "x")
	c.Paths(Style{Stroke: Ink, Width: 0.3}, want)
	pic, err := Read("x.svg", c.Bytes(), Reading{})
	require.NoError(t, err)
	require.NotEmpty(t, pic.Paths)
	got := pic.Paths[len(pic.Paths)-1].Path // what lies before is the page
	down := want.Move(geom.Shift(0, -100))
	d, _ := geom.Farthest(got, []geom.Path{down}, 1e-9)
	assert.Less(t, d, 2e-4)
	assert.InDelta(t, want.Length(), got.Length(), 2e-3)
	arcs := 0
	for _, v := range got.V {
		if v.Bulge != 0 {
			arcs++
		}
	}
	assert.Equal(t, 3, arcs, "the half circle was written in two")
}

// Arcs are arcs under every transform that keeps them round, and right within the
// tolerance under every other; so are curves.
func TestReadArcsAndCurves(t *testing.T) {
	circle := one(t, `<path d="M30 10 A20 20 0 0 1 10 30" transform="rotate(33) scale(-2 2)"/>`, mmPage, Reading{})
	require.Len(t, circle.V, 2)
	_, r := circle.Edge(0).Arc()
	assert.InDelta(t, 40, r, 1e-9)

	const tol = 0.001
	ellipse := one(t, `<ellipse cx="50" cy="50" rx="30" ry="10"/>`, mmPage, Reading{Tolerance: tol})
	assert.True(t, ellipse.Closed)
	assert.InDelta(t, math.Pi*300, math.Abs(ellipse.Area()), 0.01)
	for k := range 1000 {
		s, c := math.Sincos(float64(k) / 1000 * 2 * math.Pi)
		assert.LessOrEqual(t, ellipse.Nearest(orb.Point{50 + 30*c, -50 - 10*s}).Dist, tol)
	}
	rapid.Check(t, func(rt *rapid.T) {
		var q [4]orb.Point
		for i := range q {
			q[i] = orb.Point{rapid.Float64Range(0, 50).Draw(rt, "x"), rapid.Float64Range(0, 50).Draw(rt, "y")}
		}
		data := "M" + number(q[0][0]) + " " + number(q[0][1]) + "C"
		for _, p := range q[1:] {
			data += number(p[0]) + " " + number(p[1]) + " "
		}
		pic, err := Read("x.svg", []byte(`<svg `+mmPage+`><path d="`+data+`"/></svg>`), Reading{Tolerance: tol})
		require.NoError(rt, err)
		if len(pic.Paths) == 0 {
			return
		}
		p := pic.Paths[0].Path
		for k := range 400 {
			u := float64(k) / 399
			v := 1 - u
			at := orb.Point{}
			for i, w := range [4]float64{v * v * v, 3 * v * v * u, 3 * v * u * u, u * u * u} {
				at[0] += w * q[i][0]
				at[1] -= w * q[i][1]
			}
			if d := p.Nearest(at).Dist; d > tol+2e-4 { // the words have four decimals
				rt.Fatalf("misses the curve by %g at %g", d, u)
			}
		}
	})
}

func TestReadRefusals(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{"not XML", "<svg", "no proper XML"},
		{"empty", "", "no svg element"},
		{"other", "<html/>", "want svg as the outermost"},
		{"data", "<svg>\n<path d='M1 2 L3'/></svg>", "x.svg:2: path: path data ends after 7 bytes; want a number"},
		{"command", "<svg><path d='M1 2 B3'/></svg>", `byte 6: "B3"; want a command`},
		{"first", "<svg><path d='L1 2'/></svg>", "M first"},
		{"flag", "<svg><path d='M0 0A1 1 0 2 0 3 3'/></svg>", "want a flag"},
		{"transform", "<svg><g transform='turn(3)'/></svg>", "want matrix"},
		{"box", "<svg viewBox='0 0 0 1'/>", "the last two above 0"},
		{"far", "<svg><path d='M0 0L1e9 0'/></svg>", "want at most 1e+06"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Read("x.svg", []byte(tt.text), Reading{})
			require.Error(t, err)
			assert.Contains(t, err.Error(), tt.want)
		})
	}
	p, err := Read("x.svg", []byte(`<svg width="1mm" height="1mm" viewBox="0 0 1 1"><defs><path d="M0 0L1 1"/></defs><path style="display:none" d="M0 0L1 1"/><use/><text>M</text></svg>`), Reading{})
	require.NoError(t, err)
	assert.Empty(t, p.Paths)
	assert.Len(t, p.Skipped, 2)
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(`<svg viewBox="0 0 9 9"><path d="M1 2c3 4 5 6 7 8s1 2 3 4q1 1 2 2t3 3a1 2 30 1 1 4 4h1v2zl2 2"/></svg>`))
	f.Add([]byte(`<svg><g transform="skewX(10)rotate(1 2 3)"><circle r="3"/><rect width="2" height="3"/><polygon points="1,2 3,4 5,6"/></g></svg>`))
	f.Fuzz(func(t *testing.T, text []byte) {
		p, err := Read("x.svg", text, Reading{})
		if err != nil {
			return
		}
		for _, s := range p.Paths {
			for i := range s.Edges() {
				e := s.Edge(i)
				if !(e.Length() >= 0 && e.Length() < 1e8) {
					t.Fatalf("edge %v", e)
				}
			}
		}
	})
}
