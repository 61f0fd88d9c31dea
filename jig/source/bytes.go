package source

import (
	"bytes"
	"fmt"
	"unicode/utf8"
)

// SizeMax is the greatest size of a file in bytes: 1 MB. A cutter of a thousand
// points takes 20 kB.
const SizeMax = 1_000_000

var byteOrderMark = []byte("\xef\xbb\xbf")

// badBytes reports each byte that may stand nowhere in a TOML file, and returns
// the text with a blank in its place, so that the rest can be read on. A run of
// bad bytes is one fault.
func badBytes(p *places) ([]byte, Faults) {
	text := p.text
	switch {
	case bytes.HasPrefix(text, []byte("\xff\xfe")), bytes.HasPrefix(text, []byte("\xfe\xff")):
		return nil, Faults{{Pos: p.at(0), Have: "text in UTF-16", Want: "UTF-8"}}
	case len(text) > SizeMax:
		return nil, Faults{{Pos: p.at(0), Have: fmt.Sprintf("file of more than %d bytes", SizeMax), Want: "a smaller file"}}
	}
	var faults Faults
	clean := text
	bad := func(i int) {
		if &clean[0] == &text[0] {
			clean = bytes.Clone(text)
		}
		clean[i] = ' '
	}
	last := -2
	for i := 0; i < len(text); {
		c := text[i]
		if c >= ' ' && c < utf8.RuneSelf && c != 0x7f || c == '\t' || c == '\n' || c == '\r' && i+1 < len(text) && text[i+1] == '\n' {
			i++
			continue
		}
		r, n := utf8.DecodeRune(text[i:])
		f := Fault{}
		switch {
		case r == utf8.RuneError && n == 1:
			f = Fault{Have: fmt.Sprintf("byte 0x%02X, which is not UTF-8", c), Want: "text in UTF-8"}
		case c == '\r':
			f = Fault{Have: "carriage return without line feed", Want: "lines that end in LF or CR LF"}
		case c < utf8.RuneSelf:
			f = Fault{Have: fmt.Sprintf("control character U+%04X", c), Want: "text"}
		case r == '\uFEFF':
			f = Fault{Have: "byte order mark inside the file", Want: "one at the start at most"}
		default:
			i += n
			continue
		}
		if last != i-1 && len(faults) <= faultsMax {
			f.Pos = p.at(i)
			faults = append(faults, f)
		}
		for range n {
			bad(i)
			i++
		}
		last = i - 1
	}
	return clean, faults
}
