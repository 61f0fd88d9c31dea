package gcode

import (
	"os"
	"path/filepath"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const programs = "../testdata/programs"

// corpus gives the files of a folder of programs.
func corpus(t testing.TB, folder string) map[string][]byte {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(programs, folder, "*"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	out := map[string][]byte{}
	for _, f := range files {
		text, err := os.ReadFile(f)
		require.NoError(t, err)
		out[filepath.Base(f)] = text
	}
	return out
}

// corpusDialect is grbl for files that end in .nc.
func corpusDialect(name string) *Dialect {
	if strings.HasSuffix(name, ".nc") {
		return Grbl()
	}
	return RS274NGC()
}

// checked parses a program and checks it against a sheet with its top at Z0.
func checked(d *Dialect, name string, text []byte) ([]Move, []Finding) {
	p, found := Parse(name, text)
	var ms []Move
	_, ran := p.Check(d, Setup{}, func(m *Move) { ms = append(ms, *m) })
	found = append(found, ran...)
	SortFindings(found)
	return ms, found
}

// Programs that are right, however odd, have no finding.
func TestGoodPrograms(t *testing.T) {
	all := corpus(t, "good")
	require.GreaterOrEqual(t, len(all), 60)
	for name, text := range all {
		t.Run(name, func(t *testing.T) {
			ms, found := checked(corpusDialect(name), name, text)
			require.Empty(t, found)
			require.NotEmpty(t, ms)
		})
	}
}

var (
	wantMark = regexp.MustCompile(`\(want ([^)]*)\)`)
	nextMark = regexp.MustCompile(`^\(next ([^)]*)\)`)
	lineMark = regexp.MustCompile(`^\(line ([0-9]+) ([^)]*)\)`)
)

// A faulty program says itself what is wrong with it: a line with the findings
// RS1 and RS2 holds the comment (want RS1 RS2), or, where it can hold no comment,
// the line before it is (next RS1 RS2), or any line (line 7 RS1 RS2). Every other line is silent.
func TestBadPrograms(t *testing.T) {
	all := corpus(t, "bad")
	require.GreaterOrEqual(t, len(all), 100)
	codes := map[string]bool{}
	for name, text := range all {
		t.Run(name, func(t *testing.T) {
			want := map[int][]string{}
			for i, line := range strings.Split(string(text), "\n") {
				if m := nextMark.FindStringSubmatch(line); m != nil {
					want[i+2] = append(want[i+2], strings.Fields(m[1])...)
				} else if m := lineMark.FindStringSubmatch(line); m != nil {
					n, err := strconv.Atoi(m[1])
					require.NoError(t, err)
					want[n] = append(want[n], strings.Fields(m[2])...)
				} else if m := wantMark.FindStringSubmatch(line); m != nil {
					want[i+1] = append(want[i+1], strings.Fields(m[1])...)
				}
			}
			require.NotEmpty(t, want, "the file has no mark")
			_, found := checked(corpusDialect(name), name, text)
			got := map[int][]string{}
			lines := strings.Split(string(text), "\n")
			for _, f := range found {
				got[f.Line] = append(got[f.Line], f.Code)
				codes[f.Code] = true
				require.Equal(t, name, f.File)
				require.LessOrEqual(t, f.Line, len(lines))
				require.GreaterOrEqual(t, f.Column, 1)
				require.LessOrEqual(t, f.Column, len(lines[f.Line-1])+1)
				require.NotEmpty(t, f.Text)
			}
			for _, m := range []map[int][]string{want, got} {
				for _, c := range m {
					sort.Strings(c)
				}
			}
			require.Equal(t, want, got, "%v", found)
		})
	}
	for _, c := range []string{BadCharacter, LineLong, CommentOpen, CommentNested, CommentClose, BadNumber, BadLetter,
		Expression, BadSlash, LineNumber, Repeated, GroupConflict, ManyM, PercentOpen, PercentPlace, NoEnd, BadCode,
		NoMotion, UnusedWord, MissingWord, BadValue, AxisConflict, NoFeed, SpindleOff, SpindleZero, InverseFeed,
		ArcNoOffset, ArcRadii, ArcNoEnd, ArcRadius, ArcBothForms, ArcWrongPlane, ArcZero, ArcNoAxis, ReferencePos,
		MachinePos, WorkOffset, FarAway, LostPos, RapidBelow, RapidDown, DialectLine, DialectDigits, DialectCode,
		DialectRealTime, DialectPercent, DialectSemicolon, OtherAxis, NotFollowed} {
		require.True(t, codes[c], "no program shows %s", c)
	}
}
