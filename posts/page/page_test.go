package page

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func example(name string) Page {
	card := Card{ID: name, Title: name, Kind: name, Cutter: name, Stock: name, State: "stale", Why: name, Last: name,
		Facts: []Fact{{name, name}}, Links: []Link{{Text: name, Href: name + "/" + name + ".html"}}}
	other := card
	other.State, other.Drawing = "whole", []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="30mm" viewBox="0 0 40 30"></svg>`)
	return Page{Title: name, Lead: name, Version: name, Cards: []Card{card, other}}
}

func written(t testing.TB, p Page) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, p))
	return b.String()
}

// Whatever a name holds, it stays text: the page has as many elements as with a plain
// one, one script and that of our own, and no address that runs.
func TestNamesStayText(t *testing.T) {
	plain := written(t, example("plain"))
	for _, name := range []string{
		`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, `</style></script>`, `' onclick='x()`, "a\nb", `{{.}}`, `--> ]]>`,
		"javascript:alert(1)", strings.Repeat("漢&", 300), `</li></ul>`,
	} {
		got := written(t, example(name))
		assert.Equal(t, strings.Count(plain, "<"), strings.Count(got, "<"), "%q", name)
		assert.Equal(t, 1, strings.Count(got, "<script>"), "%q", name)
		assert.NotContains(t, strings.ToLower(got), `href="javascript:`, "%q", name)
		assert.Equal(t, got, written(t, example(name)))
	}
}

// Filters list what occurs, each once; thicknesses in the order of the cards.
func TestChoices(t *testing.T) {
	got := choices([]Card{{Kind: "gauge", Cutter: "B", Stock: "9mm", State: "whole"}, {Kind: "block", Cutter: "A", Stock: "19mm", State: "whole"}, {Kind: "block", Cutter: "B", Stock: "9mm", State: "stale"}})
	assert.Equal(t, []string{"block", "gauge"}, got[0].Values)
	assert.Equal(t, []string{"A", "B"}, got[1].Values)
	assert.Equal(t, []string{"9mm", "19mm"}, got[2].Values)
	assert.Equal(t, []string{"stale", "whole"}, got[3].Values)
}

// An empty shelf is a page too.
func TestEmpty(t *testing.T) {
	got := written(t, Page{Title: "Shelf"})
	assert.Contains(t, got, "No fixture is on the shelf yet.")
	assert.Contains(t, got, "0 fixtures")
}

func BenchmarkWrite1000(b *testing.B) {
	p := Page{Title: "Shelf"}
	for i := range 1000 {
		c := example(fmt.Sprintf("fixture-%d", i)).Cards[1]
		p.Cards = append(p.Cards, c)
	}
	for b.Loop() {
		require.NoError(b, Write(new(bytes.Buffer), p))
	}
}
