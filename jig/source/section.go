package source

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// A File is a file being read key by key. Its sections note which keys were asked
// for; what is left over is unknown and a fault.
type File struct {
	Name  string
	Units string // of bare numbers, "mm" or "in", "" if unknown; set it before reading a length

	places *places
	faults Faults
	late   Faults // told only if nothing else is wrong
	blind  bool   // keys may be there that could not be read
	root   *Section
}

// Open reads the text as TOML. Faults so far are kept for [File.Faults].
func Open(name string, text []byte) *File {
	r := read(name, text)
	f := &File{Name: name, Units: "mm", places: r.places, faults: r.faults, late: r.late, blind: r.blind}
	f.root = &Section{file: f, v: Value{Kind: Table, Fields: r.root, Pos: r.places.at(0), KeyPos: r.places.at(0)}}
	return f
}

// Root is the file's top-level table.
func (f *File) Root() *Section { return f.root }

// Fault notes a fault at the value.
func (f *File) Fault(v Value, have, want string) {
	if v.Kind != Broken {
		f.faults = append(f.faults, Fault{v.Pos, v.Key, have, want})
	}
}

// FaultOf notes a fault of the file as a whole, at its start.
func (f *File) FaultOf(key, have, want string) {
	f.faults = append(f.faults, Fault{f.places.at(0), key, have, want})
}

// Faults are all faults so far, in the order of their places, each once.
func (f *File) Faults() Faults {
	if len(f.faults) == 0 {
		return f.late
	}
	return f.faults.sorted()
}

// A Section is a table of a file.
type Section struct {
	file  *File
	v     Value
	known []string // keys asked for
}

// A Range limits a number. Zero Max means no upper limit.
type Range struct {
	Min, Max float64
	Over     bool // more than Min, not equal
	Unit     string
}

// Over is the range of numbers more than min and at most max.
func Over(min, max float64) Range { return Range{Min: min, Max: max, Over: true} }

// Within is the range from min to max.
func Within(min, max float64) Range { return Range{Min: min, Max: max} }

// String is the range as a wish: more than 0 and at most 500 mm.
func (r Range) String() string {
	n := func(f float64) string { return strconv.FormatFloat(f, 'f', -1, 64) }
	unit := ""
	if r.Unit != "" {
		unit = " " + r.Unit
	}
	low := "at least "
	if r.Over {
		low = "more than "
	}
	switch {
	case r.Max == 0 && r.Min >= 0:
		return low + n(r.Min) + unit
	case r.Over:
		return low + n(r.Min) + " and at most " + n(r.Max) + unit
	}
	return n(r.Min) + " to " + n(r.Max) + unit
}

func (r Range) holds(f float64) bool {
	if r.Over && !(f > r.Min) || !(f >= r.Min) {
		return false
	}
	return r.Max == 0 && r.Min >= 0 || f <= r.Max
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

// Text is the text at the key, trimmed of nothing; false without one.
func (s *Section) Text(key string) (string, bool) {
	v, ok := s.Get(key)
	if ok && v.Kind != Text {
		s.file.Fault(v, v.Have(), "text in quotes")
		return "", false
	}
	return v.Text, ok
}

// Label is a text for people to read: not empty, at most max characters, none of
// them a control character.
func (s *Section) Label(key string, max int) (string, bool) {
	t, ok := s.Text(key)
	if !ok {
		return "", false
	}
	v := s.v.Fields[key]
	if why := LabelFault(t, max); why != "" {
		s.file.Fault(v, quoted(t), why)
		return "", false
	}
	return t, true
}

// LabelFault is what a text for people to read lacks: to be not empty, at most max
// characters, all of them printable, without blanks at the ends. "" if nothing.
func LabelFault(t string, max int) string {
	switch {
	case strings.TrimSpace(t) == "":
		return "a text that is not empty"
	case t != strings.TrimSpace(t):
		return "no blanks at either end"
	case printable(t) != t:
		return "printable characters on one line"
	case len([]rune(t)) > max:
		return fmt.Sprintf("at most %d characters", max)
	}
	return ""
}

// OneOf is the text at the key, which must be one of the words.
func (s *Section) OneOf(key string, words ...string) (string, bool) {
	t, ok := s.Text(key)
	if !ok {
		return "", false
	}
	if !slices.Contains(words, t) {
		s.file.Fault(s.v.Fields[key], quoted(t), Choice(words))
		return "", false
	}
	return t, true
}

// Choice is a list of words as a wish: a, b or c.
func Choice(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
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
	return &Section{file: s.file, v: v}, true
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
		out = append(out, &Section{file: s.file, v: item})
	}
	return out
}

// Done tells of every key that was never asked for.
func (s *Section) Done() {
	for k, v := range s.v.Fields {
		if slices.Contains(s.known, k) || v.Kind == Broken {
			continue
		}
		want := "one of " + strings.Join(s.known, ", ")
		if near := nearest(k, s.known); near != "" {
			want = near
			// One slip of the pen is one fault.
			s.file.faults = slices.DeleteFunc(s.file.faults, func(f Fault) bool {
				return f.Have == missing && f.Key == join(s.v.Key, near)
			})
		}
		s.file.faults = append(s.file.faults, Fault{v.KeyPos, v.Key, "unknown key", want})
	}
}

// Number reads the value as a number in the range.
func (f *File) Number(v Value, in Range) (float64, bool) {
	n, err := v.Number()
	if err != nil {
		f.Fault(v, err.Error(), "a number, "+in.String())
		return 0, false
	}
	if !in.holds(n) {
		have := printable(v.Text)
		if in.Unit != "" {
			have += " " + in.Unit
		}
		f.Fault(v, have, in.String())
		return 0, false
	}
	return n, true
}

// Length reads the value as a length in mm in the range. In a file whose units
// are unknown a bare number is neither a length nor a fault.
func (f *File) Length(v Value, in Range) (float64, bool) {
	units := f.Units
	if units == "" {
		units = "mm"
	}
	n, err := v.Length(units)
	if err == nil && f.Units == "" && v.Kind != Text {
		return 0, false
	}
	in.Unit = "mm"
	if err != nil {
		want := "a length, " + in.String()
		if v.Kind == Text {
			want = `19, "19mm", "0.75in" or "3/4in"`
		}
		f.Fault(v, err.Error(), want)
		return 0, false
	}
	if !in.holds(n) {
		have := printable(v.Text)
		if v.Kind != Text {
			have += " " + f.Units
		}
		f.Fault(v, have, in.String())
		return 0, false
	}
	return n, true
}

// nearest is the word that differs from k by at most two changed, missing or
// additional letters; "" without one.
func nearest(k string, words []string) string {
	best, least := "", min(3, (len(k)+1)/2)
	for _, w := range words {
		if d := distance(k, w); d < least {
			best, least = w, d
		}
	}
	return best
}

// distance is the number of letters to change, drop or add (Levenshtein 1966).
func distance(a, b string) int {
	if len(a) > 40 || len(b) > 40 {
		return len(a) + len(b)
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			d := diagonal
			if a[i] != b[j] {
				d++
			}
			diagonal = row[j+1]
			row[j+1] = min(d, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
