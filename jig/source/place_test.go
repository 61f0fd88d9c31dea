package source

import (
	"strings"
	"testing"
	"unicode/utf8"
)

// Columns are right whichever way the offsets go.
func TestPlacesBack(t *testing.T) {
	text := []byte(strings.Repeat("xxü", 50)) // a rune starts at multiples of 4, and 1 and 2 behind them
	for _, offs := range [][]int{{0, 6, 4, 152, 150, 2, 0, 80}, {200, 0, 9, 8}} {
		p := newPlaces("f", text)
		for _, off := range offs {
			want := 1 + utf8.RuneCount(text[:off])
			if got := p.at(off); got.Column != want {
				t.Errorf("offset %d: column %d; want %d", off, got.Column, want)
			}
		}
	}
}
