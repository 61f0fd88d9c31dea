package svg

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
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
		require.Equal(t, w[i], g[i], "line %d of %s: meant? go test ./posts/svg -update, then read the diff", i+1, name)
	}
	require.Len(t, g, len(w), "lines of %s: meant? go test ./posts/svg -update, then read the diff", name)
}

// sample uses every kind of mark once.
func sample() *Canvas {
	c := New("sample", 160, 100, "A plate", "A plate with a hole, dimensioned.")
	plate := geom.Path{Closed: true, V: []geom.Vertex{
		geom.V(30, 30), geom.B(90, 30, math.Tan(math.Pi/8)), geom.B(100, 40, -0.4), geom.V(100, 60), geom.V(30, 60),
	}}
	c.Group("plates", func() {
		c.Paths(Style{Stroke: Ink, Width: 0.5, Fill: Birch, Hatch: Hatch{Stroke: Soft, Width: 0.1, Space: 1.6, Angle: 45, Dash: []float64{3, 1}}},
			plate, geom.Circle(orb.Point{50, 45}, 6))
	})
	c.Line(Style{Stroke: Brick, Width: 1, Dash: []float64{4, 2}}, orb.Point{30, 30}, orb.Point{90, 30})
	c.DimX(orb.Point{30, 30}, orb.Point{90, 30}, 20, "60", false)
	c.DimX(orb.Point{90, 30}, orb.Point{100, 40}, 20, "10", false)
	c.DimY(orb.Point{30, 30}, orb.Point{30, 60}, 20, "30", false)
	c.DimY(orb.Point{100, 40}, orb.Point{100, 42}, 112, "2", true)
	c.Leader(orb.Point{50, 51}, orb.Point{62, 75}, "hole", "12 wide")
	c.Text(Label{Text: "<b>\"Ridge\" & 'lock'</b>\x00\u202e", At: orb.Point{80, 90}, Size: 4, Anchor: Middle, Bold: true, Backed: true})
	c.CheckBar(orb.Point{10, 5}, "100 mm")
	return c
}

func TestGolden(t *testing.T) {
	got := sample().Bytes()
	assert.Equal(t, got, sample().Bytes())
	golden(t, "sample.svg", got)
}

// wellFormed decodes the document strictly and gives all elements' names and all
// text.
func wellFormed(t require.TestingT, doc []byte) (elements map[string]int, text string) {
	elements = map[string]int{}
	d := xml.NewDecoder(bytes.NewReader(doc))
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return elements, text
		}
		require.NoError(t, err, string(doc))
		switch tok := tok.(type) {
		case xml.StartElement:
			elements[tok.Name.Local]++
		case xml.CharData:
			text += string(tok)
		}
	}
}

func TestDocument(t *testing.T) {
	doc := sample().Bytes()
	elements, text := wellFormed(t, doc)
	for name := range elements {
		assert.Contains(t, []string{"svg", "title", "desc", "defs", "pattern", "rect", "g", "path", "text"}, name)
	}
	assert.Contains(t, text, `<b>"Ridge" & 'lock'</b>`)
	assert.Contains(t, string(doc), `width="160mm" height="100mm" viewBox="0 0 160 100"`)
	assert.Contains(t, string(doc), `role="img" aria-labelledby="d-sample-title d-sample-desc"`)
	assert.NotContains(t, string(doc), "href")
}

func TestHostileText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "s")
		raw := string(rapid.SliceOf(rapid.Byte()).Draw(t, "raw"))
		c := New(raw, 10, 10, s, raw)
		c.Group(s, func() { c.Text(Label{Text: s, Size: 3}); c.Text(Label{Text: raw, Size: 3, Colour: s}) })
		c.Paths(Style{Stroke: s, Width: 1, Fill: raw, Hatch: Hatch{Stroke: raw, Space: 1}}, geom.Rect(0, 0, 1, 1))
		elements, _ := wellFormed(t, c.Bytes())
		require.LessOrEqual(t, elements["text"], 2)
		require.Equal(t, 1, elements["g"])
	})
}

func TestNumber(t *testing.T) {
	for _, tt := range []struct {
		v    float64
		want string
	}{
		{0, "0"}, {-0.00001, "0"}, {1, "1"}, {-1.5, "-1.5"}, {0.00005, "0.0001"}, {123456.789, "123456.789"},
		{100, "100"}, {math.NaN(), "0"}, {math.Inf(-1), "0"},
	} {
		assert.Equal(t, tt.want, number(tt.v))
	}
}

// The arcs of the path data, read as SVG 1.1 F.6.5 says, are the path's own: the
// middle of each lies where it should.
func TestArcsAreArcs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Float64Range(0, 300)
		bulge := rapid.Float64Range(-1, 1)
		var v []geom.Vertex
		for range rapid.IntRange(2, 8).Draw(t, "n") {
			v = append(v, geom.B(coord.Draw(t, "x"), coord.Draw(t, "y"), bulge.Draw(t, "b")))
		}
		p, err := geom.NewPath(rapid.Bool().Draw(t, "closed"), v...)
		require.NoError(t, err)
		c := New("x", 300, 300, "", "")
		mids := arcMiddles(t, c.data([]geom.Path{p}), 300)
		k := 0
		for i := range p.Edges() {
			e := p.Edge(i)
			if e.Straight() {
				continue
			}
			parts := []geom.Edge{e}
			if math.Abs(e.Bulge) > 0.42 {
				a, b := e.Split(0.5)
				parts = []geom.Edge{a, b}
			}
			for _, e := range parts {
				if _, r := e.Arc(); math.Hypot(e.B[0]-e.A[0], e.B[1]-e.A[1]) > 1 && r < 1e4 {
					m := e.At(0.5)
					require.InDelta(t, m[0], mids[k][0], 1e-3, "edge %d", i)
					require.InDelta(t, m[1], mids[k][1], 1e-3, "edge %d", i)
				}
				k++
			}
		}
		require.Len(t, mids, k)
	})
}

// arcMiddles evaluates the arc commands of path data.
func arcMiddles(t require.TestingT, data string, h float64) []orb.Point {
	var out []orb.Point
	for _, cmd := range []string{"M", "L", "A", "Z", "l"} {
		data = strings.ReplaceAll(data, cmd, " "+cmd+" ")
	}
	words := strings.Fields(data)
	var at orb.Point
	num := func(i int) float64 {
		v, err := strconv.ParseFloat(words[i], 64)
		require.NoError(t, err)
		return v
	}
	for i := 0; i < len(words); i++ {
		switch words[i] {
		case "M", "L":
			at = orb.Point{num(i + 1), num(i + 2)}
		case "A":
			r, to := num(i+1), orb.Point{num(i + 6), num(i + 7)}
			dx, dy := to[0]-at[0], to[1]-at[1]
			c := math.Hypot(dx, dy)
			r = math.Max(r, c/2)
			// With the large flag 0 the middle lies at the sagitta from the chord;
			// sweep flag 1 runs in the sense of growing angles, X to Y.
			s := r - math.Sqrt(r*r-c*c/4)
			if num(i+5) == 0 {
				s = -s
			}
			require.Zero(t, num(i+4))
			mid := orb.Point{(at[0]+to[0])/2 + s*dy/c, (at[1]+to[1])/2 - s*dx/c}
			out = append(out, orb.Point{mid[0], h - mid[1]})
			at = to
		}
	}
	return out
}

func TestView(t *testing.T) {
	v := View{At: orb.Point{10, 20}, Scale: 0.5}
	p := v.Paths(geom.Path{V: []geom.Vertex{geom.B(2, 4, 0.5), geom.V(6, 4)}})[0]
	assert.Equal(t, geom.Path{V: []geom.Vertex{geom.B(11, 22, 0.5), geom.V(13, 22)}}, p)
	assert.Equal(t, orb.Point{11, 22}, View{At: orb.Point{10, 20}}.Point(orb.Point{1, 2}))
}

func TestLabelBox(t *testing.T) {
	l := Label{Text: "24.5", Size: 3, Anchor: Middle, At: orb.Point{50, 50}, Turn: 90}
	b := l.Bound()
	assert.InDelta(t, Width("24.5", 3), b.Max[1]-b.Min[1], 1e-9)
	assert.InDelta(t, 50-ascent*3, b.Min[0], 1e-9)
	assert.InDelta(t, 50, b.Center()[1], 1e-9)
}
