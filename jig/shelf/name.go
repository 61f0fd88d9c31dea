package shelf

import (
	"fmt"
	"regexp"
	"strings"
)

// Folder is the name of a shop's folder of fixtures.
const Folder = "fixtures"

// Limits on what a shelf takes.
const (
	FilesMax    = 100       // output files of one fixture
	FileSizeMax = 64 << 20  // bytes of one of them
	StagesMax   = 20        // of one fixture
	HistoryMax  = 1000      // readings of one fixture
	FixturesMax = 1_000_000 // entries of the folder
	textMax     = 4000      // characters of one text
	postsMax    = 50        // names of writers
)

var (
	idForm    = regexp.MustCompile(`^[a-z0-9][a-z0-9.+-]{0,199}$`)
	dateForm  = regexp.MustCompile(`^[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$`)
	stageForm = regexp.MustCompile(`^[a-z0-9-]{1,40}$`)
	keyForm   = regexp.MustCompile(`^[a-z0-9_]{1,40}$`)
)

// ValidID tells whether the word can be a fixture's ID and so the name of a folder:
// 1 to 200 of a-z, 0-9, point, + and -, the first a letter or digit.
func ValidID(s string) bool { return idForm.MatchString(s) && !strings.Contains(s, "..") }

// validExt tells whether the word can be a file's ending: one to four words of a-z
// and 0-9 with points between them.
func validExt(s string) bool {
	words, letters := 1, 0
	for i := range len(s) {
		switch c := s[i]; {
		case c >= 'a' && c <= 'z' || c >= '0' && c <= '9':
			letters++
		case c == '.' && letters > 0:
			words, letters = words+1, 0
		default:
			return false
		}
	}
	return len(s) <= 40 && letters > 0 && words <= 4 && s != "toml"
}

// validHash tells whether the word can be a SHA-256.
func validHash(s string) bool {
	for i := range len(s) {
		if c := s[i]; !(c >= '0' && c <= '9' || c >= 'a' && c <= 'f') {
			return false
		}
	}
	return len(s) == 64
}

// An IDError tells of a word that cannot be a fixture's ID.
type IDError struct{ ID string }

func (e *IDError) Error() string {
	id := e.ID
	if len(id) > 60 {
		id = strings.ToValidUTF8(id[:60], "") + "…"
	}
	return fmt.Sprintf("fixture %q; want an ID as 'shelf list' shows it", id)
}

// name is the file's name in the fixture's folder.
func name(id, ext string) string { return id + "." + ext }
