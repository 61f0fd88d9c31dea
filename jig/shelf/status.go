package shelf

import (
	"errors"
	"fmt"
	"path"
	"slices"
	"strings"

	"blockwright/jig/source"
)

// State is how a fixture on the shelf stands.
type State string

const (
	Whole   State = "whole"   // nothing is wrong
	Stale   State = "stale"   // an input is no longer what it was made from
	Broken  State = "broken"  // a file is missing, changed, or fails its proof
	Retired State = "retired" // no longer in use, whatever its inputs do
)

// States are all states.
func States() []string {
	return []string{string(Whole), string(Stale), string(Broken), string(Retired)}
}

// A Status is what is known of one fixture.
type Status struct {
	ID     string
	Record *Record // nil where it cannot be read
	State  State
	Why    []string // why it is not whole: what changed, what is wrong, why it was retired
	Faults []Fault  // of a broken one
	Unread bool     // something of it could not be read, be it right or wrong
}

// Because is why in one line, "" for a whole fixture.
func (s Status) Because() string { return strings.Join(s.Why, "; ") }

// Changes tells which inputs of a fixture are not what they were, and what its record
// says of them that cannot be.
type Changes func(*Record) (stale []string, wrong []Fault)

// A Prover reads the files of a fixture, which are what the record says by size and
// hash, and tells what does not hold. changed says that inputs are not what they
// were, so that they cannot be held against the part made anew. A fixture that
// holds, but would be made otherwise today, is stale for the reasons given.
type Prover func(r *Record, files map[string][]byte, changed bool) (faults []Fault, stale []string)

// Look judges a fixture by its record, the sizes of its files and what changed since;
// no file is read.
func (s *Shelf) Look(id string, changes Changes) Status {
	st := Status{ID: id}
	var faults []Fault
	err := s.read(id, func(f *folder) (err error) {
		if st.Record, err = f.record(); err == nil {
			faults = f.sizes(st.Record)
			if len(faults) > 0 {
				err = errDiffers // another folder may stand there now
			}
		}
		return err
	})
	if errors.Is(err, errDiffers) {
		err = nil
	}
	return st.judged(err, faults, changes, nil)
}

var errDiffers = errors.New("files are not as the record says")

// Verify reads everything of a fixture, holds every file to its size and hash, and
// has the rest proved.
func (s *Shelf) Verify(id string, changes Changes, prove Prover) Status {
	st := Status{ID: id}
	var faults []Fault
	var files map[string][]byte
	err := s.read(id, func(f *folder) (err error) {
		if st.Record, err = f.record(); err != nil {
			return err
		}
		if files, faults = f.files(st.Record); len(faults) > 0 {
			return errDiffers
		}
		return nil
	})
	if errors.Is(err, errDiffers) {
		err = nil
	}
	return st.judged(err, faults, changes, func(changed bool) ([]Fault, []string) {
		return prove(st.Record, files, changed)
	})
}

// judged fills in the state. prove is nil where nothing is proved.
func (s Status) judged(err error, faults []Fault, changes Changes, prove func(bool) ([]Fault, []string)) Status {
	if err != nil {
		s.Record, s.Unread = nil, refused(err)
		s.Faults = unread(err)
	} else {
		s.Faults = faults
		stale, wrong := changes(s.Record)
		s.Faults = append(s.Faults, wrong...)
		if prove != nil {
			more, also := prove(len(stale) > 0 || s.Record.Retired != "")
			s.Faults, stale = append(s.Faults, more...), append(stale, also...)
		}
		switch {
		case s.Record.Retired != "":
			s.State, s.Why = Retired, []string{s.Record.Retired}
		case len(stale) > 0:
			s.State, s.Why = Stale, stale
		default:
			s.State = Whole
		}
	}
	s.Unread = s.Unread || slices.ContainsFunc(s.Faults, func(f Fault) bool { return f.unread })
	if len(s.Faults) > 0 {
		s.State, s.Why = Broken, []string{s.Faults[0].String()}
		if n := len(s.Faults) - 1; n > 0 {
			s.Why[0] += fmt.Sprintf(" (and %d more)", n)
		}
	}
	return s
}

// unread are the faults of a record that cannot be read.
func unread(err error) []Fault {
	var several source.Faults
	if !errors.As(err, &several) {
		return []Fault{faultOf(FileName, err)}
	}
	var out []Fault
	for _, f := range several {
		f.Pos.Filename = ""
		out = append(out, Fault{File: FileName, Why: f.Error()})
	}
	return out
}

// sizes holds the files that the record lists to their sizes.
func (f *folder) sizes(r *Record) []Fault {
	var faults []Fault
	for _, file := range r.all() {
		n := name(r.ID, file.Ext)
		info, err := f.root.Lstat(n)
		switch {
		case err != nil:
			faults = append(faults, faultOf(n, err))
		case !info.Mode().IsRegular():
			faults = append(faults, Fault{File: n, Why: "is no regular file"})
		case info.Size() != file.Size:
			faults = append(faults, Fault{File: n, Why: sizeDiffers})
		}
	}
	return append(faults, f.strays(r)...)
}

// strays are files that bear the fixture's name, end as one of its files does and are
// not listed in its record: a program among them would be taken for one that was
// proved. What else lies in the folder is its owner's.
func (f *folder) strays(r *Record) []Fault {
	files := r.all()
	dir, err := f.root.Open(".")
	if err != nil {
		return []Fault{faultOf(FileName, err)}
	}
	defer dir.Close()
	names, err := dir.Readdirnames(-1)
	if err != nil {
		return []Fault{faultOf(FileName, err)}
	}
	slices.Sort(names)
	var faults []Fault
	for _, n := range names {
		ext, ours := strings.CutPrefix(n, r.ID+".")
		if !ours || slices.ContainsFunc(files, func(f File) bool { return f.Ext == ext }) {
			continue
		}
		ending := strings.ToLower(path.Ext(n))
		if slices.ContainsFunc(files, func(f File) bool { return path.Ext(name(r.ID, f.Ext)) == ending }) {
			faults = append(faults, Fault{File: n, Why: "is no file of this fixture: nothing has proved it"})
		}
	}
	return faults
}

const sizeDiffers = "its size is not what fixture.toml states"
