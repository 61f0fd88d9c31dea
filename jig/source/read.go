package source

import (
	"bytes"
	"errors"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// Read reads a TOML file whole: its values by key, and every fault. A value that
// could not be read is there as [Broken]. Only the name of the file is used; text
// holds what the file holds.
func Read(name string, text []byte) (map[string]Value, Faults) {
	r := read(name, text)
	if len(r.faults) == 0 {
		r.faults = r.late
	}
	return r.root, r.faults.sorted()
}

// A reading is the state of one pass over a file.
type reading struct {
	places *places
	text   []byte // without its byte order mark, bad bytes blanked
	root   map[string]Value
	faults Faults
	late   Faults       // what only the library's decoder minds
	bad    map[int]bool // lines with bad bytes, of which nothing else is told
	keys   int          // keys and headers met
	plain  bool         // nothing stands in it that the walk could let pass wrongly
	blind  bool         // bad bytes hid a key: none can be said to be missing

	here   map[string]Value // the table that keys go to
	prefix string           // its dotted key

	parts []string // room for the key of one expression
	offs  []int    // and for where its parts begin
}

func read(name string, text []byte) *reading {
	text = bytes.TrimPrefix(text, byteOrderMark)
	r := &reading{places: newPlaces(name, text), root: map[string]Value{}, plain: true}
	r.text, r.faults = badBytes(r.places)
	r.here = r.root
	r.blind = r.text == nil && len(r.faults) > 0
	r.bad = make(map[int]bool, len(r.faults))
	for _, f := range r.faults {
		r.bad[f.Pos.Line] = true
	}

	// The parser stops at a syntax fault; it is set going again on the next line
	// that looks like the start of something.
	for base := 0; base < len(r.text); {
		var p unstable.Parser
		p.Reset(r.text[base:])
		end := -1 // of the expression before
		for p.NextExpression() {
			end = r.expression(p.Expression(), base)
		}
		var stop *unstable.ParserError
		if !errors.As(p.Error(), &stop) {
			break
		}
		off := base + int(p.Range(stop.Highlight).Offset)
		off = min(off, len(r.text))
		start := r.expressionStart(base, end, off)
		f := r.syntax(start, off, stop.Message)
		if r.bad[f.Pos.Line] {
			r.blind = true
		} else {
			r.faults = append(r.faults, f)
		}
		if len(r.faults) > faultsMax {
			break
		}
		base = r.resume(start, off)
	}

	if len(r.faults) == 0 && !r.plain {
		// What the walk above lets pass, the library's own decoder may not: numbers
		// of no size, dates out of the calendar, any rule forgotten here. Those who
		// read key by key have said better by then what is wrong, if anything. Single
		// keys with texts and short numbers leave it nothing to mind.
		var all map[string]any
		err := toml.Unmarshal(r.text, &all)
		var de *toml.DecodeError
		switch {
		case errors.As(err, &de):
			line, column := de.Position()
			off := r.places.lines[min(max(line, 1), len(r.places.lines))-1] + column - 1
			r.late = Faults{{Pos: r.places.at(off), Key: strings.Join(de.Key(), "."), Have: strings.TrimPrefix(de.Error(), "toml: ")}}
		case err != nil:
			r.late = Faults{{Pos: r.places.at(0), Have: err.Error()}}
		}
	}
	return r
}

// fault notes a fault at the byte off.
func (r *reading) fault(off int, key, have, want string) {
	if len(r.faults) <= 2*faultsMax {
		r.faults = append(r.faults, Fault{Pos: r.places.at(off), Key: key, Have: have, Want: want})
	}
}
