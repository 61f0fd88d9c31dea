package source

import (
	"fmt"
	"slices"
)

// A Section is a table of a file.
type Section struct {
	file  *File
	v     Value
	known []string // keys asked for
}

func newSection(f *File, v Value) *Section {
	return &Section{file: f, v: v, known: make([]string, 0, len(v.Fields))}
}

// Has tells whether the key is there, readable or not.
func (s *Section) Has(key string) bool {
	_, ok := s.v.Fields[key]
	return ok
}

// Value is the section itself.
func (s *Section) Value() Value { return s.v }

// Get is the value at the key, if there is one that could be read.
func (s *Section) Get(key string) (Value, bool) {
	if !slices.Contains(s.known, key) {
		s.known = append(s.known, key)
	}
	v, ok := s.v.Fields[key]
	return v, ok && v.Kind != Broken
}

const missing = "missing" // what a Fault of an absent key has

// Need is Get for a key that must be there; want says what should stand there.
func (s *Section) Need(key, want string) (Value, bool) {
	v, ok := s.Get(key)
	if !ok && !s.Has(key) && !s.file.blind {
		s.file.faults = append(s.file.faults, Fault{s.v.Pos, join(s.v.Key, key), missing, want})
	}
	return v, ok
}

// Bool is the truth value at the key.
func (s *Section) Bool(key string) (value, ok bool) {
	v, ok := s.Get(key)
	if ok && v.Kind != Boolean {
		s.file.Fault(v, v.Have(), "true or false")
		return false, false
	}
	return v.Text == "true", ok
}

// Number is the number at the key, held to the range.
func (s *Section) Number(key string, in Range) (float64, bool) {
	v, ok := s.Get(key)
	if !ok {
		return 0, false
	}
	return s.file.Number(v, in)
}

// Count is the whole number at the key, held to the range.
func (s *Section) Count(key string, in Range) (int, bool) {
	v, ok := s.Get(key)
	if !ok {
		return 0, false
	}
	if v.Kind != Integer {
		s.file.Fault(v, v.Have(), "a whole number, "+in.String())
		return 0, false
	}
	f, ok := s.file.Number(v, in)
	return int(f), ok
}

// Length is the length in mm at the key, held to the range in mm.
func (s *Section) Length(key string, in Range) (float64, bool) {
	v, ok := s.Get(key)
	if !ok {
		return 0, false
	}
	return s.file.Length(v, in)
}

// NeedLength is Length for a key that must be there.
func (s *Section) NeedLength(key string, in Range) (float64, bool) {
	if _, ok := s.Need(key, "a length, "+in.said(s.file.Units)); !ok {
		return 0, false
	}
	return s.Length(key, in)
}

// Lengths are the lengths in mm at the key: a list of exactly n.
func (s *Section) Lengths(key string, n int, in Range) ([]float64, bool) {
	v, ok := s.Get(key)
	if !ok {
		return nil, false
	}
	if v.Kind != Array || len(v.Items) != n {
		s.file.Fault(v, v.Have(), fmt.Sprintf("a list of %d lengths", n))
		return nil, false
	}
	out := make([]float64, n)
	for i, item := range v.Items {
		f, good := s.file.Length(item, in)
		out[i], ok = f, ok && good
	}
	return out, ok
}

// Section is the table at the key.
func (s *Section) Section(key string) (*Section, bool) {
	v, ok := s.Get(key)
	if !ok {
		return nil, false
	}
	if v.Kind != Table {
		s.file.Fault(v, v.Have(), "a table, ["+v.Key+"]")
		return nil, false
	}
	return newSection(s.file, v), true
}

// Sections are the tables of the list at the key, [[key]].
func (s *Section) Sections(key string) []*Section {
	v, ok := s.Get(key)
	if !ok {
		return nil
	}
	if v.Kind != Array {
		s.file.Fault(v, v.Have(), "a list of tables, [["+v.Key+"]]")
		return nil
	}
	var out []*Section
	for _, item := range v.Items {
		if item.Kind != Table {
			s.file.Fault(item, item.Have(), "a table, [["+v.Key+"]]")
			continue
		}
		out = append(out, newSection(s.file, item))
	}
	return out
}
