package sheet

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// drawing is the least drawing that stands for itself.
const drawing = `<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="30mm" viewBox="0 0 40 30"><title>x</title></svg>` + "\n"

func example(text string) Sheet {
	ask := strings.Join(strings.Fields(text), "_") // each word is an element
	return Sheet{
		ID: text, Kicker: text, Title: text, Lead: text, Version: text,
		Facts:  []Fact{{text, text}},
		Places: []Place{{Name: text, For: text, MM: -5.5, Text: text, Also: text, Says: text}, {Name: text, None: true, Says: text}},
		Sections: []Section{
			{
				Name: text, Title: text, Text: []string{text}, Ask: []string{ask, ask}, Keys: []Fact{{text, text}}, Steps: []Step{{text, text, ask}}, List: []string{text},
				Tables:  []Table{{Caption: text, Head: []string{text, text}, Rows: [][]string{{text, text}}, Note: text}},
				Figures: []Figure{{Title: text, Note: text, SVG: []byte(drawing), Width: 40, Height: 30}},
			},
			{Name: "b", Title: text, Steps: []Step{{"", text, ""}}, Tables: []Table{{Rows: [][]string{{text}}, Text: true}}, Below: true, Care: true},
			{Name: "c", Title: text, Tables: []Table{{Rows: [][]string{{text}}}}, Figures: []Figure{{SVG: []byte(drawing), Width: 40, Height: 30}}, Inset: true},
		},
	}
}

func written(t *testing.T, s Sheet) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, s))
	return b.Bytes()
}

// What is written is read back: ID, places, drawings.
func TestReadsBack(t *testing.T) {
	got, err := Read(written(t, example("plain")))
	require.NoError(t, err)
	assert.Equal(t, "plain", got.ID)
	assert.Equal(t, []Place{{Name: "plain", For: "plain", MM: -5.5}}, got.Places)
	assert.Equal(t, [][2]float64{{40, 30}, {40, 30}}, got.Drawings)
}

// Whatever a name holds, it stays text: the file is proper XML, has as many elements
// as with a plain name, and runs and loads nothing.
func TestNamesStayText(t *testing.T) {
	plain := strings.Count(string(written(t, example("plain"))), "<")
	for _, name := range []string{
		`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `</style><script>`, `'; background: url(http://x)`, "a\nb\tc", `{{.}} {{define "steps"}}`,
		`--> ]]> <!-- &amp; &#x3c;`, `\3c script`, "javascript:alert(1)", strings.Repeat("漢&", 300), `*/ @import "x"; /*`,
	} {
		text := written(t, example(name))
		got, err := Read(text)
		require.NoError(t, err, name)
		assert.Equal(t, plain, strings.Count(string(text), "<"), "elements with %q", name)
		assert.NotContains(t, string(text), "@import \"x\"", name)
		if !strings.ContainsAny(name, "\n") {
			assert.Equal(t, name, got.ID)
		}
	}
}

// Read refuses what could run or load something, and a drawing that is not true.
func TestReadRefuses(t *testing.T) {
	good := string(written(t, example("plain")))
	for name, change := range map[string][2]string{
		"script":       {"</main>", "<script>1</script></main>"},
		"image":        {"</main>", `<img alt="x"/></main>`},
		"handler":      {"<main>", `<main onload="x()">`},
		"link":         {"</main>", `<a href="x">y</a></main>`},
		"broken":       {"</main>", ""},
		"no number":    {`<data value="-5.5"`, `<data value="wide"`},
		"not true":     {`viewBox="0 0 40 30"`, `viewBox="0 0 80 60"`},
		"not in mm":    {`width="40mm"`, `width="40px"`},
		"without size": {` width="40mm"`, ``},
	} {
		bad := strings.Replace(good, change[0], change[1], 1)
		require.NotEqual(t, good, bad, name)
		_, err := Read([]byte(bad))
		assert.Error(t, err, name)
	}
}

// A drawing that leaves the paper, or a place that is no length, is refused.
func TestWriteRefuses(t *testing.T) {
	for name, change := range map[string]func(*Sheet){
		"wide":    func(s *Sheet) { s.Sections[0].Figures[0].Width = MaxWidth + 1 },
		"high":    func(s *Sheet) { s.Sections[0].Figures[0].Height = MaxHeight + 1 },
		"no size": func(s *Sheet) { s.Sections[0].Figures[0].Height = 0 },
		"nan":     func(s *Sheet) { s.Sections[0].Figures[0].Width = math.NaN() },
		"place":   func(s *Sheet) { s.Places[0].MM = math.Inf(1) },
	} {
		s := example("plain")
		change(&s)
		assert.Error(t, Write(new(bytes.Buffer), s), name)
	}
}
