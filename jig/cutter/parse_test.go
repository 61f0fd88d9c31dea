package cutter_test

import (
	"errors"
	"fmt"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/require"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/source"
)

var mark = regexp.MustCompile(`#! (\d+) ([^#]*)`)

// TestBadFiles holds the faults of each file of the archive against the marks in
// it, line by line: no mark without its fault, no fault without its mark.
func TestBadFiles(t *testing.T) {
	text, err := os.ReadFile("testdata/bad.txtar")
	require.NoError(t, err)
	files := txtar.Parse(text).Files
	require.Greater(t, len(files), 60)
	for _, f := range files {
		t.Run(f.Name, func(t *testing.T) {
			var want []string
			for i, line := range strings.Split(string(f.Data), "\n") {
				for _, m := range mark.FindAllStringSubmatch(line, -1) {
					want = append(want, fmt.Sprintf("%d:%s: %s", i+1, m[1], strings.TrimSpace(m[2])))
				}
			}
			if f.Name == "shank-open-quote.toml" {
				want = []string{"4:14: shank: line end inside quotes; want the closing quote on the same line"}
			}
			_, err := cutter.Parse("cutters/"+f.Name, f.Data)
			require.Error(t, err)
			var faults source.Faults
			require.True(t, errors.As(err, &faults))
			var have []string
			for _, x := range faults {
				have = append(have, strings.TrimPrefix(x.Error(), "cutters/"+f.Name+":"))
			}
			for _, w := range want {
				i := -1
				place, part, _ := strings.Cut(w, ": ")
				for j, h := range have {
					if strings.HasPrefix(h, place+": ") && strings.Contains(h, part) {
						i = j
						break
					}
				}
				if i < 0 {
					t.Errorf("no fault %s", w)
					continue
				}
				have = append(have[:i], have[i+1:]...)
			}
			for _, h := range have {
				t.Errorf("no mark for the fault %s", h)
			}
		})
	}
}

const head = "name = \"A\"\njoint = \"edge\"\nunits = \"mm\"\n"

// Faults of bytes, names and sizes, which no archive of texts can hold.
func TestPlaces(t *testing.T) {
	good := head + "profile = [[34, 0], [4, 30]]\n"
	for _, tt := range []struct{ name, file, text, want string }{
		{"NUL", "a.toml", head + "profile = [[34, 0],\x00 [4, 30]]\n", "a.toml:4:20: control character U+0000; want text"},
		{"not UTF-8", "a.toml", good + "# caf\xe9\n", "a.toml:5:6: byte 0xE9, which is not UTF-8; want text in UTF-8"},
		{"not UTF-8 in the name", "a.toml", strings.Replace(good, `"A"`, "\"A\xff\xfe\"", 1), "a.toml:1:10: byte 0xFF, which is not UTF-8; want text in UTF-8"},
		{"UTF-16", "a.toml", "\xff\xfen\x00a\x00", "a.toml:1:1: text in UTF-16; want UTF-8"},
		{"second byte order mark", "a.toml", "\ufeff" + head + "\ufeffprofile = [[34, 0], [4, 30]]\n", "a.toml:4:1: byte order mark inside the file; want one at the start at most"},
		{"column counts characters", "a.toml", good + "\"größe\" = 1; x = 2\n", "a.toml:5:12: \";\"; want nothing more on this line"},
		{"carriage returns alone", "a.toml", strings.ReplaceAll(good, "\n", "\r"), "a.toml:1:11: carriage return without line feed; want lines that end in LF or CR LF\na.toml:1:26: carriage return without line feed; want lines that end in LF or CR LF\na.toml:1:39: carriage return without line feed; want lines that end in LF or CR LF\na.toml:1:68: carriage return without line feed; want lines that end in LF or CR LF"},
		{"CR LF", "a.toml", strings.ReplaceAll(good+"shank = 0\n", "\n", "\r\n"), "a.toml:5:9: shank: 0 mm; want more than 0 and at most 50 mm"},
		{"byte order mark", "a.toml", "\ufeffshank = 0\n" + good, "a.toml:1:9: shank: 0 mm; want more than 0 and at most 50 mm"},
		{"over 1 MB", "a.toml", good + strings.Repeat("#\n", 500_000), "a.toml:1:1: file of more than 1000000 bytes; want a smaller file"},
		{"too many points", "a.toml", head + "profile = [" + strings.Repeat("[1,0],", 10_001) + "]\n", "a.toml:4:11: profile: number of points 10001; want at most 10000"},
		{"file name with a line end", "a\nb.toml", good, "\"a\\nb.toml\":1:1: file name \"a\\nb\"; want 1 to 40 of a-z, 0-9 and -, not - first, before .toml"},
		{"file name of 300 letters", strings.Repeat("a", 300) + ".toml", good, strings.Repeat("a", 300) + ".toml:1:1: file name \"" + strings.Repeat("a", 60) + "\"…; want 1 to 40 of a-z, 0-9 and -, not - first, before .toml"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := cutter.Parse(tt.file, []byte(tt.text))
			require.Error(t, err)
			require.Equal(t, tt.want, err.Error())
		})
	}
}

// Files that look odd and are right.
func TestGoodFiles(t *testing.T) {
	for _, tt := range []struct{ name, text string }{
		{"CR LF", strings.ReplaceAll(head+"profile = [[34, 0], [4, 30]]\n", "\n", "\r\n")},
		{"byte order mark", "\ufeff" + head + "profile = [[34, 0], [4, 30]]"},
		{"no line end at the end", head + "profile = [[34, 0], [4, 30]]"},
		{"trailing comma and comments", head + "profile = [\n [34, 0], # wide\n # between\n [4, 30],\n]"},
		{"texts with units", head + "profile = [[\"34mm\", \"0\"], [\"5/32in\", \"1-3/16 in\"]]"},
		{"bulge 0 at the last point", head + "profile = [[34, 0], [4, 30, 0]]"},
		{"shoulders", head + "profile = [[34, 0], [20, 0], [20, 5], [30, 5], [30, 9]]"},
		{"half circle outward", head + "profile = [[34, 0, 1], [34, 30]]"},
		{"round nose from the axis", head + "profile = [[0, 0, 0.41421356], [10, 10], [10, 20]]"},
		{"quarter round stated to four digits", head + "profile = [[10, 0, 0.4142], [15, 5]]"},
		{"body touches the edge", head + "profile = [[34, 0], [4, 30]]\nbody = [[6, -30], [6, 0], [4, 0], [4, 30], [4, 40]]"},
		{"body arc touches the edge", head + "profile = [[20, 0], [20, 10]]\nbody = [[19, 0, 0.2], [19, 10]]"},
		{"sizes at the limit", head + "profile = [[500, -500], [0, 500]]"},
		{"whole numbers of other bases", head + "max_rpm = 14_000\nshank = 0xC\nprofile = [[34, 0], [4, 30]]"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := cutter.Parse("a.toml", []byte(tt.text))
			require.NoError(t, err)
		})
	}
}

// The same cutter in mm and in inches is the same to the last bit: a length is
// converted once and rounded once.
func TestInches(t *testing.T) {
	mm, err := cutter.Parse("a.toml", []byte(head+"shank = 12.7\nprofile = [[34.925, 0, 0.5], [25.4, 19.05], [0.127, 30]]"))
	require.NoError(t, err)
	in, err := cutter.Parse("a.toml", []byte(strings.Replace(head, `"mm"`, `"in"`, 1)+"shank = \"1/2\"\nprofile = [[\"1-3/8\", 0, 0.5], [1, 0.75], [0.005, \"30mm\"]]"))
	require.NoError(t, err)
	require.Equal(t, mm.Profile, in.Profile)
	require.Equal(t, mm.Shank, in.Shank)
	require.Equal(t, "in", in.Units)
	require.Equal(t, geom.B(34.925, 0, 0.5), in.Profile.V[0])
}

func FuzzParse(f *testing.F) {
	text, err := os.ReadFile("testdata/bad.txtar")
	require.NoError(f, err)
	for _, x := range txtar.Parse(text).Files {
		f.Add(x.Data)
	}
	f.Add([]byte(head + "profile = [[34, 0, 0.3], [25.4, 19.05, -0.2], [\"1/8in\", 30]]\nbody = [[1, -5], [1, 40]]"))
	f.Fuzz(func(t *testing.T, text []byte) {
		c, err := cutter.Parse("a.toml", text)
		if err != nil {
			return // refusing is right; panicking is not
		}
		for _, p := range []geom.Path{c.Profile, c.Body} {
			b := p.Bound()
			for i := range p.Edges() {
				e := p.Edge(i)
				require.LessOrEqual(t, e.A[1], e.B[1])
				require.LessOrEqual(t, max(e.Bulge, -e.Bulge), 1.0)
			}
			if len(p.V) > 0 {
				require.GreaterOrEqual(t, b.Min[0], -geom.Tol)
				require.LessOrEqual(t, b.Max[0], cutter.SizeMax+geom.Tol)
			}
		}
		require.LessOrEqual(t, c.MaxRadius(), cutter.SizeMax+geom.Tol)
		_, ok := c.RadiusAt(c.Bottom())
		require.True(t, ok, strconv.Itoa(len(c.Profile.V)))
	})
}
