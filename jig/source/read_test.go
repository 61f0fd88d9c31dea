package source_test

import (
	"fmt"
	"strings"
	"testing"
	"text/scanner"
	"time"

	"github.com/stretchr/testify/require"

	"blockwright/jig/source"
)

func TestFaultPrints(t *testing.T) {
	f := source.Fault{Pos: scanner.Position{Filename: "cutters/ridge.toml", Line: 14, Column: 9}, Key: "max_rpm", Have: "0 rpm", Want: "more than 0"}
	require.Equal(t, "cutters/ridge.toml:14:9: max_rpm: 0 rpm; want more than 0", f.Error())
	require.Equal(t, "Have", source.Fault{Have: "Have"}.Error())
	require.Equal(t, "a: Have", source.Fault{Pos: scanner.Position{Filename: "a"}, Have: "Have"}.Error())
	require.NoError(t, source.Faults{}.Err())
	require.Equal(t, f.Error()+"\n"+f.Error(), source.Faults{f, f}.Err().Error())
}

func TestRead(t *testing.T) {
	values, faults := source.Read("f.toml", []byte(`# head
a = 12_000
b.c = "x\ty"
b.d = [1.5, [true, 2026-01-31]]
[t]
k = { m = 'l', n = 0xFF }
[[l]]
v = 1
[[l]]
v = 2
[l.s]
w = 3
`))
	require.Empty(t, faults)
	num := func(v source.Value) float64 {
		f, err := v.Number()
		require.NoError(t, err)
		return f
	}
	require.Equal(t, 12_000.0, num(values["a"]))
	require.Equal(t, "x\ty", values["b"].Fields["c"].Text)
	d := values["b"].Fields["d"]
	require.Equal(t, "b.d", d.Key)
	require.Equal(t, "b.d[2][1]", d.Items[1].Items[0].Key)
	require.Equal(t, source.Boolean, d.Items[1].Items[0].Kind)
	require.Equal(t, source.Date, d.Items[1].Items[1].Kind)
	require.Equal(t, "4:20", place(d.Items[1].Items[1]))
	require.Equal(t, 255.0, num(values["t"].Fields["k"].Fields["n"]))
	require.Equal(t, "6:20", place(values["t"].Fields["k"].Fields["n"]))
	require.Equal(t, "l[2].v", values["l"].Items[1].Fields["v"].Key)
	require.Equal(t, "l[2].s.w", values["l"].Items[1].Fields["s"].Fields["w"].Key)
	require.Equal(t, "9:3", place(values["l"].Items[1]))
}

func place(v source.Value) string { return fmt.Sprintf("%d:%d", v.Pos.Line, v.Pos.Column) }

// Rules of TOML 1.0 about keys and tables, each broken once.
func TestReadFaults(t *testing.T) {
	for _, tt := range []struct {
		name, text string
		want       []string // part of each fault
	}{
		{"key twice", "a = 1\na = 2", []string{"2:1: a: a second time, after line 1; want each key once"}},
		{"key three times", "a = 1\na = 2\na = 3", []string{"2:1: a: a second", "3:1: a: a second"}},
		{"quoted key twice", "a = 1\n\"a\" = 2", []string{"2:1: a: a second time"}},
		{"table twice", "[a]\n[a]", []string{"2:2: a: a second time, after line 1"}},
		{"table over a value", "a = 1\n[a]", []string{"2:2: a: a second time"}},
		{"table below a value", "a = 1\n[a.b]", []string{"2:2: a: a second time"}},
		{"value over a table", "[a.b]\n[a]\nb = 1", []string{"3:1: a.b: a second time"}},
		{"dotted key into a value", "a = 1\na.b = 2", []string{"2:1: a: a second time"}},
		{"dotted key into a table", "[a.b]\nx = 1\n[a]\nb.y = 2", []string{"4:1: a.b: a second time"}},
		{"table over a dotted key", "a.b = 1\n[a]", []string{"2:2: a: a second time"}},
		{"inline table twice", "a = {b = 1, b = 2}", []string{"1:13: a.b: a second time"}},
		{"inline table opened again", "a = {b = 1}\n[a.c]", []string{"2:2: a: a second time"}},
		{"inline table opened by a dotted key", "a = {b = 1}\na.c = 1", []string{"2:1: a: a second time"}},
		{"list of tables over a table", "[a]\n[[a]]", []string{"2:3: a: [[a]] although line 1 makes it one table; want [[a]] everywhere"}},
		{"table over a list of tables", "[[a]]\n[a]", []string{"2:2: a: [a] although line 1 has [[a]]; want [[a]]"}},
		{"list of tables over a list", "a = []\n[[a]]", []string{"2:3: a: a second time"}},
		{"date out of the calendar", "a = 2026-02-30", []string{"1:"}},
		{"number of no size", "a = 99999999999999999999", []string{"1:5: "}},
		{"two broken lines", "a = [1 2]\nb = c\nc = 3", []string{`1:8: a: "2"; want , or ]`, "2:5: b: text without quotes, c; want a number, or quotes round text, \"c\""}},
		{"broken header hides its keys", "[a\nb = 1\n[c]\nb = 1\nb = 2", []string{"1:3: end of line; want ] behind", "5:1: c.b: a second"}},
		{"broken list goes on", "a = [\n 1,\n x,\n [2, 3],\n]\nb = 1\nb = 2", []string{"3:2: a: text without quotes, x", "7:1: b: a second"}},
		{"bad escape", `a = "\q"`, []string{"1:6: a: "}},
		{"open quote at the end", `a = "x`, []string{`1:6: a: end of file inside quotes; want the closing quote`}},
		{"open lines at the end", "a = \"\"\"x\ny", []string{`2:1: a: end of file inside quotes`}},
		{"typographic quotes", "a = “x”", []string{"1:5: a: typographic quotes, “x”; want straight ones"}},
		{"nothing before the equals sign", " = 1", []string{`1:2: "="; want a key`}},
		{"lone bracket", "]", []string{`1:1: "]"; want a key`}},
		{"control character", "a = \"\x01\"", []string{"1:6: control character U+0001; want text"}},
		{"run of bad bytes is one", "a = \"\xff\xff\xff\" # \xff", []string{"1:6: byte 0xFF", "1:13: byte 0xFF"}},
		{"delete", "a = 1 # \x7f", []string{"1:9: control character U+007F"}},
		{"deep list", "a = " + strings.Repeat("[", 17) + strings.Repeat("]", 17), []string{"1:21: lists nested deeper than 16"}},
		{"deep table", "a = " + strings.Repeat("{b = ", 17) + "1" + strings.Repeat("}", 17), []string{"lists nested deeper than 16"}},
		{"deep key", strings.Repeat("a.", 16) + "a = 1", []string{"1:1: key of 17 parts; want at most 16"}},
		{"deep header", "[" + strings.Repeat("a.", 16) + "a]", []string{"1:2: header of 17 parts; want at most 16"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, faults := source.Read("f", []byte(tt.text))
			require.Len(t, faults, len(tt.want), "%v", faults)
			for i, w := range tt.want {
				require.Contains(t, faults[i].Error(), w)
			}
		})
	}
}

// A hostile file of 1 MB is answered in reasonable time, and with a list of
// faults that ends.
func TestHostile(t *testing.T) {
	for name, text := range map[string]string{
		"brackets":      "a = " + strings.Repeat("[", 900_000),
		"braces":        "a = " + strings.Repeat("{a=", 300_000),
		"lists":         "a = [" + strings.Repeat("[],", 300_000) + "]",
		"one line":      "a = [" + strings.Repeat("x,", 400_000),
		"broken lines":  strings.Repeat("a =\n", 240_000),
		"same key":      strings.Repeat("a = 1\n", 160_000),
		"dotted":        strings.Repeat("a.", 400_000) + "a = 1",
		"headers":       strings.Repeat("[a.b]\n", 160_000),
		"tables":        strings.Repeat("[[a]]\n", 160_000),
		"zeros":         strings.Repeat("\x00", 1_000_000),
		"bad bytes":     strings.Repeat("\xff ", 500_000),
		"umlauts":       "a = [" + strings.Repeat("\"ü\",", 190_000) + "]",
		"open quotes":   strings.Repeat("\"\"\"\n", 240_000),
		"half escapes":  "a = \"" + strings.Repeat("\\u00", 200_000),
		"comment":       "#" + strings.Repeat(" ", 999_000),
		"blank lines":   strings.Repeat("\n", 1_000_000),
		"unlike keys":   numbered("k%d = 1\n", 80_000),
		"unlike heads":  numbered("[k%d]\n", 80_000),
		"inline tables": "a = [" + strings.Repeat("{a = 1},", 120_000) + "]",
		"inline table":  "a = {" + numbered("k%d = 1,", 80_000) + "a = 1}",
		"over the size": strings.Repeat("\n", 5_000_000),
	} {
		t.Run(name, func(t *testing.T) {
			start := time.Now()
			_, faults := source.Read("f", []byte(text))
			require.LessOrEqual(t, len(faults), 201)
			require.Less(t, time.Since(start), 5*time.Second) // reading twice per byte would take minutes
		})
	}
}

// numbered is the text n times over, with a number in each.
func numbered(text string, n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, text, i)
	}
	return b.String()
}

func TestSet(t *testing.T) {
	text := "\ufeff# shop\r\nunits = \"mm\" # of all\r\n\r\n[table]\r\npin = 6 # mm\r\nlist = [1, [2, 3]]\r\n[[mill]]\r\nd = 6\r\n[[mill]]\r\nd = 3.175 # small\r\nm = { ply = 3.1 }\r\n"
	for _, tt := range []struct{ key, value, old, new string }{
		{"units", `"in"`, `units = "mm"`, `units = "in"`},
		{"table.pin", `"1/4in"`, "pin = 6 #", `pin = "1/4in" #`},
		{"table.list[2][1]", "5.5", "[2, 3]", "[5.5, 3]"},
		{"table.list", "[]", "[1, [2, 3]]", "[]"},
		{"mill[2].d", "3.17", "3.175 #", "3.17 #"},
		{"mill[1].d", "5.98", "d = 6", "d = 5.98"},
		{"mill[2].m.ply", "3.16", "3.1 }", "3.16 }"},
		{"mill[2].m", "{ ply = 3, mdf = 4 }", "{ ply = 3.1 }", "{ ply = 3, mdf = 4 }"},
	} {
		got, err := source.Set([]byte(text), tt.key, tt.value)
		require.NoError(t, err, tt.key)
		require.Equal(t, strings.Replace(text, tt.old, tt.new, 1), string(got), tt.key)
	}
	for _, tt := range []struct{ key, value, want string }{
		{"pin", "6", `no key "pin"`},
		{"mill[3].d", "6", `no key "mill[3].d"`},
		{"", "6", `no key ""`},
		{"table", "6", "table is a whole table"},
		{"mill", "6", "mill is a whole table"},
		{"mill[1]", "6", "mill[1] is a whole table"},
		{"table.pin", "", "want one TOML value"},
		{"table.pin", "6 # mm", "want one TOML value"},
		{"table.pin", "6, 7", "want one TOML value"},
		{"table.pin", "six", "want one TOML value"},
		{"table.pin", "6\nx = 1", "want it on one line"},
		{"table.pin", "99999999999999999999", "want one TOML value"},
	} {
		_, err := source.Set([]byte(text), tt.key, tt.value)
		require.ErrorContains(t, err, tt.want)
	}
	_, err := source.Set([]byte("a = 1\na = 2"), "a", "3")
	require.ErrorContains(t, err, "a second time")
}
