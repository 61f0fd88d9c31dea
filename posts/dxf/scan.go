package dxf

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// A group is a code and its value, and the line the code stands on.
type group struct {
	code  int
	value string
	line  int
}

// scanner cuts a file into groups. Lines end in LF, CR LF or CR. It stops at
// the first thing that is no group: what follows would be read out of step.
type scanner struct {
	file   string
	rest   string
	line   int // line last taken
	peeked group
	again  bool // peeked comes next
	done   bool
	faults Faults
}

// The limits of what is read. A file of a drawing for milling is far below them.
const (
	maxBytes    = 32 << 20
	maxLine     = 4096
	maxEntities = 500_000
	maxVertices = 1_000_000
	maxLayers   = 5000
	maxFields   = 4 * maxVertices // of one entity
)

func (s *scanner) fault(line int, format string, args ...any) {
	if len(s.faults) < maxFaults {
		s.faults = append(s.faults, Fault{s.file, line, fmt.Sprintf(format, args...)})
	}
}

// takeLine gives the next line without its end.
func (s *scanner) takeLine() (string, bool) {
	if len(s.rest) == 0 {
		return "", false
	}
	s.line++
	text, end := s.rest, 0
	for end < len(text) && text[end] != '\n' && text[end] != '\r' {
		end++
	}
	switch {
	case end == len(text):
		s.rest = ""
	case s.rest[end] == '\r' && end+1 < len(s.rest) && s.rest[end+1] == '\n':
		text, s.rest = s.rest[:end], s.rest[end+2:]
	default:
		text, s.rest = s.rest[:end], s.rest[end+1:]
	}
	if len(text) > maxLine {
		s.fault(s.line, "a line of %d characters; want at most %d", len(text), maxLine)
		s.rest, s.done = "", true
		return "", false
	}
	return text, true
}

// next gives the next group other than a comment; false at the end.
func (s *scanner) next() (group, bool) {
	if s.again {
		s.again = false
		return s.peeked, true
	}
	for !s.done {
		head, ok := s.takeLine()
		if !ok {
			break
		}
		at := s.line
		code, err := strconv.Atoi(strings.TrimSpace(head))
		if err != nil || code < -5 || code > 1071 {
			if strings.TrimSpace(head) == "" && strings.TrimSpace(s.rest) == "" {
				break // blank lines at the end
			}
			s.fault(at, "%s; want a group code, a whole number from 0 to 1071", quote(head))
			s.done = true
			break
		}
		value, ok := s.takeLine()
		if !ok {
			if !s.done {
				s.fault(at, "group code %d ends the file; want its value on the next line", code)
			}
			s.done = true
			break
		}
		if code == 999 {
			continue
		}
		return group{code, value, at}, true
	}
	s.done = true
	return group{}, false
}

// back puts a group back, to be given again.
func (s *scanner) back(g group) { s.peeked, s.again = g, true }

// fields gives all groups up to the next code 0.
func (s *scanner) fields() []group {
	out := make([]group, 0, 8) // a vertex has no more
	for {
		g, ok := s.next()
		if !ok {
			return out
		}
		if g.code == 0 {
			s.back(g)
			return out
		}
		if len(out) == maxFields {
			s.fault(g.line, "an entity of more than %d groups", maxFields)
			s.done = true
			return out
		}
		out = append(out, g)
	}
}

// float reads a number as the format writes it: no hexadecimal, no words.
func (s *scanner) float(g group) float64 {
	t := strings.TrimSpace(g.value)
	v, err := strconv.ParseFloat(t, 64)
	if err != nil || strings.Trim(t, "0123456789+-.eE") != "" || math.IsInf(v, 0) {
		s.fault(g.line+1, "group %d is %s; want a number", g.code, quote(g.value))
		return 0
	}
	return v
}

// int reads a whole number.
func (s *scanner) int(g group) int {
	v, err := strconv.Atoi(strings.TrimSpace(g.value))
	if err != nil {
		s.fault(g.line+1, "group %d is %s; want a whole number", g.code, quote(g.value))
		return 0
	}
	return v
}

// quote shows text from a file, at most 40 characters of it.
func quote(s string) string {
	r := []rune(strings.TrimSpace(s))
	if len(r) > 40 {
		r = append(r[:39], '…')
	}
	return strconv.Quote(string(r))
}

// decode gives the text that a value stands for: \U+hhhh is one character.
func decode(s string) string {
	for i := 0; ; {
		k := strings.Index(s[i:], `\U+`)
		if k < 0 || i+k+7 > len(s) {
			return s
		}
		k += i
		v, err := strconv.ParseUint(s[k+3:k+7], 16, 16)
		if err != nil {
			i = k + 3
			continue
		}
		c := string(rune(v))
		s, i = s[:k]+c+s[k+7:], k+len(c)
	}
}
