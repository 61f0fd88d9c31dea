package source

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
	f.root = newSection(f, Value{Kind: Table, Fields: r.root, Pos: r.places.at(0), KeyPos: r.places.at(0)})
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
	said := in.said(units)
	if err != nil {
		want := "a length, " + said
		if v.Kind == Text {
			want = `19, "19mm", "0.75in" or "3/4in"`
		}
		f.Fault(v, err.Error(), want)
		return 0, false
	}
	if !in.holds(n) {
		have := printable(v.Text)
		if v.Kind != Text {
			have += " " + f.Units + in.Per
		}
		if mm, err := v.Length("mm"); err == nil && f.Units == "in" && v.Kind != Text && in.holds(mm) {
			said += ", or \"" + printable(v.Text) + "mm\" if mm is meant"
		}
		f.Fault(v, have, said)
		return 0, false
	}
	return n, true
}
