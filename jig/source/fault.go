package source

import (
	"fmt"
	"sort"
	"strconv"
	"strings"
	"text/scanner"
	"unicode"
)

// A Fault is one thing wrong with a file. It prints as
//
//	cutters/ridge.toml:14:9: max_rpm: 0 rpm; want more than 0
type Fault struct {
	Pos  scanner.Position // file, line, column
	Key  string           // dotted, "profile[3]"; empty where no key is at fault
	Have string           // what is there
	Want string           // what is wanted; empty where Have says it all
}

// Error is the fault on one line, whatever the file's name and text contain.
func (f Fault) Error() string {
	var b strings.Builder
	b.WriteString(printable(f.Pos.Filename))
	if f.Pos.IsValid() {
		if b.Len() > 0 {
			b.WriteByte(':')
		}
		fmt.Fprintf(&b, "%d:%d", f.Pos.Line, f.Pos.Column)
	}
	if b.Len() > 0 {
		b.WriteString(": ")
	}
	if f.Key != "" {
		b.WriteString(f.Key + ": ")
	}
	b.WriteString(f.Have)
	if f.Want != "" {
		b.WriteString("; want " + f.Want)
	}
	return b.String()
}

// Faults are all faults of one or several files, each told once, in the order of
// their places. As an error they print one fault a line.
type Faults []Fault

// Error is one line for each fault.
func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// Err is nil when there is no fault, so that a nil error stays nil.
func (fs Faults) Err() error {
	if len(fs) == 0 {
		return nil
	}
	return fs
}

// faultsMax is the number of faults told of one file: more than a screen full
// helps nobody, and a hostile file could hold a hundred thousand.
const faultsMax = 200

// sorted puts the faults in the order of their places and drops repetitions: of
// several faults at one place with one key the first stays.
func (fs Faults) sorted() Faults {
	sort.SliceStable(fs, func(i, j int) bool {
		a, b := fs[i].Pos, fs[j].Pos
		if a.Filename != b.Filename {
			return a.Filename < b.Filename
		}
		if a.Line != b.Line {
			return a.Line < b.Line
		}
		return a.Column < b.Column
	})
	out := fs[:0]
	for i, f := range fs {
		if i > 0 && f.Pos == fs[i-1].Pos && f.Key == fs[i-1].Key {
			continue
		}
		out = append(out, f)
	}
	if len(out) > faultsMax {
		last := out[faultsMax]
		last.Key, last.Have, last.Want = "", "more faults from here on", ""
		out = append(out[:faultsMax:faultsMax], last)
	}
	return out
}

// printable is the text itself if it can stand in one line of a message, else
// its quoted form.
func printable(s string) string {
	for _, r := range s {
		if !unicode.IsPrint(r) || r == unicode.ReplacementChar {
			return strconv.Quote(s)
		}
	}
	return s
}

// quoted is the text in quotes, cut where a message would get too long.
func quoted(s string) string {
	const most = 40
	n := 0
	for i := range s {
		if n++; n > most {
			return strconv.Quote(s[:i] + "…")
		}
	}
	return strconv.Quote(s)
}
