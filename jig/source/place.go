package source

import (
	"bytes"
	"sort"
	"text/scanner"
	"unicode/utf8"
)

// places turns byte offsets of a text into positions. Asked for offsets that rise,
// or go back no farther than they came, it reads the text once or twice.
type places struct {
	name  string
	text  []byte
	lines []int // offset of each line's first byte
	// Last answer, from which the next one on the same line goes on.
	line, off, column int
}

func newPlaces(name string, text []byte) *places {
	lines := make([]int, 1, bytes.Count(text, []byte{'\n'})+1)
	for at := 0; ; {
		n := bytes.IndexByte(text[at:], '\n')
		if n < 0 {
			return &places{name: name, text: text, lines: lines, line: -1}
		}
		at += n + 1
		lines = append(lines, at)
	}
}

// at is the position of the byte at off; past the end, of the end.
func (p *places) at(off int) scanner.Position {
	off = max(0, min(off, len(p.text)))
	line := sort.SearchInts(p.lines, off+1) - 1
	if line != p.line || off-p.lines[line] < p.off-off {
		p.line, p.off, p.column = line, p.lines[line], 1
	}
	if off < p.off {
		p.column -= utf8.RuneCount(p.text[off:p.off])
	} else {
		p.column += utf8.RuneCount(p.text[p.off:off])
	}
	p.off = off
	return scanner.Position{Filename: p.name, Offset: off, Line: line + 1, Column: p.column}
}
