package source

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
)

// seeds are all shop and cutter files of the packages beside this one.
func seeds(f *testing.F) {
	for _, pattern := range []string{"../*/start/*.toml", "../*/testdata/*.toml", "testdata/*.toml"} {
		names, err := filepath.Glob(pattern)
		if err != nil {
			f.Fatal(err)
		}
		for _, name := range names {
			text, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(text)
		}
	}
	for _, s := range []string{
		"", "a = 1", "a = [[1, 2], [3]]", "[a]\nb = {c = 1, d.e = 2}\n[[f]]\n[[f]]\n[f.g]\n", "a.b = 1\na.c = 2\n[a.d]\n",
		"a = [1,\n# c\n2,\n]\nb = '''x\ny'''", "a = \"\\u00e9\"\r\nb = 1979-05-27T07:32:00Z", "\ufeffa = 1", "a = [[\n{}]]", "a = {\n b = 1,\n}",
		"'' = 1\n\"x y\".z = 2", "a\x00 = 1", "a = \xff", "a = 1 2\nb = [1 2]\n[c\nd = 1\n", "a = [\nb = 1\nc = 2",
	} {
		f.Add([]byte(s))
	}
}

// FuzzRead reads anything: no panic, places inside the text, in order and each
// once, and an answer that agrees with the library's own decoder on whether the
// text is TOML.
func FuzzRead(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		values, faults := Read("f.toml", text)
		lines := bytes.Count(text, []byte("\n")) + 1
		for i, x := range faults {
			if x.Pos.Line < 1 || x.Pos.Line > lines || x.Pos.Column < 1 || x.Pos.Column > len(text)+1 {
				t.Fatalf("%v: no such place in %d lines", x, lines)
			}
			if x.Have == "" || strings.ContainsAny(x.Error(), "\r\n") {
				t.Fatalf("%q: want one line that says what is there", x.Error())
			}
			if i > 0 && (faults[i-1].Pos.Offset > x.Pos.Offset || faults[i-1] == x) {
				t.Fatalf("%v after %v", x, faults[i-1])
			}
		}
		var all map[string]any
		err := toml.Unmarshal(bytes.TrimPrefix(text, byteOrderMark), &all)
		if err != nil && len(faults) == 0 {
			t.Fatalf("no fault, but the decoder says %v", err)
		}
		if err == nil && len(faults) > 0 && !ours(faults) {
			t.Fatalf("the decoder sees no fault, but %v", faults)
		}
		for key, v := range values {
			walk(t, join("", key), v, len(text))
		}
	})
}

// ours tells whether one of the faults is of a rule that TOML does not have.
func ours(faults Faults) bool {
	for _, f := range faults {
		if strings.Contains(f.Have, "nested deeper") || strings.Contains(f.Have, " parts") || strings.Contains(f.Have, "byte order mark") || strings.Contains(f.Have, "file of more") {
			return true
		}
	}
	return false
}

func walk(t *testing.T, key string, v Value, size int) {
	if v.Key != key {
		t.Fatalf("key %q; want %q", v.Key, key)
	}
	if v.start < 0 || v.end > size || v.end > 0 && v.start >= v.end {
		t.Fatalf("%s: bytes %d to %d of %d", key, v.start, v.end, size)
	}
	for k, f := range v.Fields {
		walk(t, join(v.Key, k), f, size)
	}
}

// FuzzLength reads anything: no panic, and a length of either unit.
func FuzzLength(f *testing.F) {
	for _, s := range []string{"19", "0.75in", "1-3/4in", "3/4\"", "1e400", "-5mm", "1 3/4 in", "1/0", "nan", "0x10", ".5", "5."} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		mm, err := Length(s, "mm")
		inch, errInch := Length(s, "in")
		if (err == nil) != (errInch == nil) && !strings.Contains(errInch.Error(), "1 km") {
			t.Fatalf("%q: %v in mm, %v in inches", s, err, errInch)
		}
		if err == nil && !(mm >= -LengthMax && mm <= LengthMax) {
			t.Fatalf("%q is %v mm", s, mm)
		}
		_ = inch
	})
}

// FuzzSet sets each value to another and back: nothing else may change.
func FuzzSet(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		values, faults := Read("f.toml", text)
		if len(faults) > 0 {
			return
		}
		shift := len(text) - len(bytes.TrimPrefix(text, byteOrderMark))
		for key, v := range values {
			if v.end == 0 || join("", key) != v.Key {
				continue
			}
			once, err := Set(text, v.Key, "123456789")
			if err != nil {
				t.Fatal(v.Key, err)
			}
			again, faults := Read("f.toml", once)
			if len(faults) > 0 || again[key].Text != "123456789" {
				t.Fatalf("%q became %q: %v", text, once, faults)
			}
			old := string(text[shift+v.start : shift+v.end])
			if strings.ContainsAny(old, "\r\n") {
				continue
			}
			back, err := Set(once, v.Key, old)
			if err != nil || !bytes.Equal(back, text) {
				t.Fatalf("%q came back as %q: %v", text, back, err)
			}
		}
	})
}
