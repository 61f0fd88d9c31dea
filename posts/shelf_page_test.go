package posts

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/jig/joint"
	"blockwright/jig/shelf"
	"blockwright/posts/page"
)

// shelved are fixtures as they stand on a shelf, of several kinds and states.
func shelved(t testing.TB) []Shelved {
	t.Helper()
	var out []Shelved
	states := shelfStates
	for _, kind := range Kinds() {
		for _, stock := range []float64{16, 19, 25.4} {
			s, _ := startedShop(t, "mm")
			f, files, reports, err := Make(t.Context(), Request{Shop: s, Joint: joint.Request{Cutter: worked(1), Stock: stock}, Stock: Measure{MM: stock, Unit: "mm"},
				Kind: kind, Width: StripWidth, Posts: []string{"dxf", "svg", "sheet"}, Version: "test"})
			require.NoError(t, err)
			r := f.Record(reports)
			r.Made = "2026-11-25"
			for ext := range files {
				r.Files = append(r.Files, shelf.File{Ext: ext})
			}
			x := Shelved{ID: f.ID, Record: r, State: states[len(out)%len(states)], Cutter: "Ridge lock 45", Drawing: files["dxf"]}
			if x.State != "whole" {
				x.Why = "invented reason " + fmt.Sprint(len(out))
			}
			if len(out)%2 == 0 {
				x.Last = "2026-11-25, step 0.120 mm, turned piece proud"
			}
			out = append(out, x)
		}
	}
	return append(out, Shelved{ID: "unreadable-19mm-block", State: "broken", Why: "fixture.toml:3:1: no value"})
}

func cards(all []Shelved, dir string) []page.Card {
	var out []page.Card
	for i, s := range all {
		out = append(out, CardOf(s, i, "mm", dir))
	}
	return out
}

// Thin boards before thick ones, not as their names sort; what cannot be read last.
func TestSortShelved(t *testing.T) {
	all := shelved(t)
	slices.Reverse(all)
	all[3].Record.Inputs.Stock, all[3].ID = 9, "ridge-lock-9mm"
	SortShelved(all)
	assert.Equal(t, "ridge-lock-9mm", all[0].ID)
	assert.Equal(t, "ridge-lock-16mm-block", all[1].ID)
	assert.Equal(t, "unreadable-19mm-block", all[len(all)-1].ID)
}

var shelfStates = []string{"whole", "stale", "whole", "retired", "broken"}

// The page shows every fixture with its drawing, state and links; the same shelf gives
// the same bytes; with the page elsewhere the links lead there.
func TestShelfPage(t *testing.T) {
	all := shelved(t)
	write := func(dir string) string {
		var b bytes.Buffer
		require.NoError(t, WriteShelfPage(&b, "Shelf", cards(all, dir), "test"))
		return b.String()
	}
	got := write("")
	assert.Equal(t, got, write(""))
	assert.Equal(t, len(all), strings.Count(got, "<article"))
	assert.Equal(t, len(all)-1, strings.Count(got, "<svg"))
	assert.Equal(t, 1, strings.Count(got, "no drawing"))
	assert.Contains(t, got, `href="ridge-lock-19mm-block/ridge-lock-19mm-block.html"`)
	assert.Contains(t, write("./../shop/fixtures/"), `href="./../shop/fixtures/ridge-lock-19mm-block/ridge-lock-19mm-block.html"`)
	assert.Contains(t, got, "no value")
	assert.NotContains(t, got, "NaN")
	assert.Less(t, len(got)/len(all), 12_000, "bytes for each fixture")
}

// A drawing that cannot be read, or has no walls, leaves the card without one.
func TestThumbnailOfNothing(t *testing.T) {
	for _, text := range []string{"", "0\nEOF\n", "rubbish"} {
		_, err := thumbnail("t", "x", []byte(text))
		require.Error(t, err, "%q", text)
	}
	x := shelved(t)[0]
	x.Drawing = []byte("rubbish")
	assert.Nil(t, CardOf(x, 0, "mm", "").Drawing)
}

func BenchmarkThumbnail(b *testing.B) {
	x := shelved(b)[0]
	for b.Loop() {
		_, err := thumbnail("t", "x", x.Drawing)
		require.NoError(b, err)
	}
}
