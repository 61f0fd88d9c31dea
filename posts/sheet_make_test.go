package posts

import (
	"bytes"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/jig/joint"
	"blockwright/posts/sheet"
	"blockwright/posts/svg"
)

func sheetText(t testing.TB, f *Fixture) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, writeSheet(&b, f))
	return b.Bytes()
}

// Every kind of fixture and joint has a sheet that passes its proof, is the same when
// written again, and says how it is used.
func TestEverySheet(t *testing.T) {
	for _, x := range everyFixture(t) {
		name, kind, f := x.joint, x.kind, x.fixture
		text := sheetText(t, f)
		require.NoError(t, f.proveSheet(text), "%s, %s", name, kind)
		assert.Equal(t, text, sheetText(t, f), "%s, %s", name, kind)
		got, err := sheetOf(f)
		require.NoError(t, err)
		sections := map[string]sheet.Section{}
		for _, sec := range got.Sections {
			sections[sec.Name] = sec
		}
		assert.NotEmpty(t, got.Lead, "%s, %s", name, kind)
		assert.NotEmpty(t, sections["use"].Steps, "%s, %s", name, kind)
		assert.NotEmpty(t, sections["care"].List, "%s, %s", name, kind)
		assert.NotEmpty(t, sections["in-place"].Figures, "%s, %s", name, kind)
		assert.NotEmpty(t, sections["sources"].List, "%s, %s", name, kind)
		assert.Len(t, sections["milling"].Tables, 2, "%s, %s", name, kind)
		for _, n := range []string{"joint", "test"} {
			_, there := sections[n]
			assert.Equal(t, kind != "trial", there, "%s, %s: %s", name, kind, n)
		}
		assert.NotContains(t, string(text), "%!", "%s, %s", name, kind)
		assert.NotContains(t, string(text), "NaN", "%s, %s", name, kind)
	}
}

// A sheet that states another setting, is another fixture's, or lacks its drawings
// fails its proof.
func TestSheetProofFails(t *testing.T) {
	f := designed(t, "block", joint.Request{Cutter: worked(1), Stock: 19}, "mm")
	good := string(sheetText(t, f))
	require.NoError(t, f.proveSheet([]byte(good)))
	for name, change := range map[string][2]string{
		"height":  {`<data value="-5.5"`, `<data value="-5.501"`},
		"fence":   {`data-name="fence"`, `data-name="face"`},
		"lost":    {`<data value="9.5"`, `<b title="9.5"`},
		"another": {`<span class="id">`, `<span class="id">x`},
	} {
		bad := strings.Replace(good, change[0], change[1], 1)
		require.NotEqual(t, good, bad, name)
		assert.Error(t, f.proveSheet([]byte(bad)), name)
	}
	bare := regexp.MustCompile(`(?s)<svg.*?</svg>`).ReplaceAllString(good, "")
	assert.ErrorContains(t, f.proveSheet([]byte(bare)), "no drawing")
}

// The corrections of a lock miter's sheet: half of each step, with a lift of 1.5 mm a
// turn. A step of 0.1 moves 0.05: 0.033 turns, 12 degrees. Derived here.
func TestSheetCorrections(t *testing.T) {
	f := designed(t, "block", joint.Request{Cutter: worked(1), Stock: 19}, "mm")
	m := sheetMaker{f: f, units: "mm"}
	rows := m.testCut().Tables[0].Rows
	assert.Equal(t, []string{"0.05", "0.025", "1.0", "0.017", "6°"}, rows[0])
	assert.Equal(t, []string{"0.10", "0.05", "2.0", "0.033", "12°"}, rows[1])
	_, whole := m.tipTable()
	assert.True(t, whole, "45° tips lose what the fence goes back")
	// A matched set's second cutter moves by the whole step.
	m.f = designed(t, "coupon", everyRequest(t)["tongue"], "mm")
	assert.Equal(t, []string{"0.10", "0.10"}, m.testCut().Tables[0].Rows[1][:2])
}

// A length in both units: the nearest 64th and what is left. By hand.
func TestSheetLengths(t *testing.T) {
	mm, in := sheetMaker{units: "mm"}, sheetMaker{units: "in"}
	assert.Equal(t, "−5.500 mm", mm.length(-5.5))
	assert.Equal(t, "−0.2165 in = −(7/32 − 0.0022)", mm.other(-5.5))
	assert.Equal(t, "0.7500 in", in.length(19.05))
	assert.Equal(t, " = 3/4 in, 19.050\u00a0mm", " "+strings.TrimPrefix(in.other(19.05), " "))
	assert.Equal(t, "0.0004 mm", mm.tiny(-0.0004))
}

// The sheet of a block of the shop that init writes.
func TestSheetGolden(t *testing.T) {
	f := designed(t, "block", joint.Request{Cutter: worked(1), Stock: 19}, "mm")
	got := sheetText(t, f)
	const file = "../testdata/golden/sheet-block.html"
	if *update {
		require.NoError(t, os.WriteFile(file, got, 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	w, g := strings.Split(string(want), "\n"), strings.Split(string(got), "\n")
	for i := range min(len(w), len(g)) {
		require.Equal(t, w[i], g[i], "line %d of %s: meant? go test ./posts -update, then read the diff", i+1, file)
	}
	require.Len(t, g, len(w), "lines of %s: meant? go test ./posts -update, then read the diff", file)
}

func BenchmarkSheet(b *testing.B) {
	f := designed(b, "block", joint.Request{Cutter: worked(1), Stock: 19}, "mm")
	for b.Loop() {
		text := sheetText(b, f)
		require.NoError(b, f.proveSheet(text))
	}
}

// No text of a sheet's drawings leaves its drawing or lies on another.
func TestSheetDrawingsHoldTheirTexts(t *testing.T) {
	for _, x := range everyFixture(t) {
		name, kind, units, f := x.joint, x.kind, x.units, x.fixture
		p := pictureOf(f)
		p.Narrow = true
		names := seatNames(p.Parts)
		views := []view{p.inUse(names), p.detail(names), p.onSheet(names)}
		for i := range p.Parts {
			views = append(views, p.onePart(i, names))
		}
		for _, v := range views {
			if v.draw == nil {
				continue
			}
			v = onPaper(v)
			assert.Empty(t, slices.DeleteFunc(overlapsWithin(v), func(s string) bool { return strings.Contains(s, "leaves the page") }), "%s, %s, %s: %s at %g", name, kind, units, v.name, v.times())
			w, h := v.size()
			c := svg.New("test", w+2*margin, h+2*margin, "", "")
			v.picture(c, orb.Point{margin, h + margin})
			for _, l := range c.Labels() {
				b := l.Bound()
				assert.True(t, b.Min[0] >= margin-1 && b.Min[1] >= margin-1 && b.Max[0] <= w+margin+1 && b.Max[1] <= h+margin+1,
					"%s, %s, %s: %q leaves the view %s by %.1f %.1f %.1f %.1f", name, kind, units, l.Text, v.name, margin-b.Min[0], margin-b.Min[1], b.Max[0]-w-margin, b.Max[1]-h-margin)
			}
		}
	}
}
