package shelf

import (
	"strings"
	"testing"

	"blockwright/jig/source"
)

// FuzzParse reads anything as a fixture.toml: no panic; a fault has a place and is one
// line; what is read writes a text that reads back as the same, and that is safe to
// take names of files from.
func FuzzParse(f *testing.F) {
	text := full().Text()
	f.Add(text)
	f.Add(plain("a").Text())
	for _, change := range [][2]string{
		{"dxf", "../dxf"}, {"size", "x"}, {"block", "\\u0000"}, {"[files]", "[file]"}, {"turned", "up"}, {"= 3 ", "= 1e999 "}, {"2026-11-25", "2026-13-45"},
	} {
		f.Add([]byte(strings.ReplaceAll(string(text), change[0], change[1])))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		id := full().ID
		r, err := Parse("fixture.toml", id, text)
		if err != nil {
			faults, ok := err.(source.Faults)
			if !ok || len(faults) == 0 {
				t.Fatalf("%T: %v", err, err)
			}
			for _, x := range faults {
				if x.Pos.Line < 1 || strings.ContainsAny(x.Error(), "\r\n") {
					t.Fatalf("%q: want one line with a place", x.Error())
				}
			}
			return
		}
		if r.ID != id {
			t.Fatalf("id %q", r.ID)
		}
		for _, x := range r.all() {
			if n := name(r.ID, x.Ext); strings.ContainsAny(n, "/\\\x00") || strings.Contains(n, "..") {
				t.Fatalf("file name %q", n)
			}
		}
		again, err := Parse("fixture.toml", id, r.Text())
		if err != nil {
			t.Fatalf("cannot read our own text: %v\n%s", err, r.Text())
		}
		if string(again.Text()) != string(r.Text()) {
			t.Fatalf("%s\nreads back as\n%s", r.Text(), again.Text())
		}
	})
}
