package shelf

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"
	"syscall"

	"blockwright/jig/source"
)

// Load reads the record of a fixture. The error is an [*IDError], a
// [*MissingError], a [source.Faults] or an [*fs.PathError].
func (s *Shelf) Load(id string) (*Record, error) {
	var r *Record
	err := s.read(id, func(f *folder) (err error) {
		r, err = f.record()
		return err
	})
	return r, err
}

// LoadAll reads the record of a fixture and all its files, each held to the size
// and hash that the record states: files by ending, what is wrong with them as
// faults. All are of one moment. The error is that of [Shelf.Load].
func (s *Shelf) LoadAll(id string) (r *Record, files map[string][]byte, faults []Fault, err error) {
	err = s.read(id, func(f *folder) (err error) {
		if r, err = f.record(); err != nil {
			return err
		}
		if files, faults = f.files(r); len(faults) > 0 {
			return errDiffers // another folder may stand there now
		}
		return nil
	})
	if errors.Is(err, errDiffers) {
		err = nil
	}
	return r, files, faults, err
}

// A Fault is one thing wrong with a fixture's files.
type Fault struct {
	File string // its name; "" for the fixture as a whole
	Why  string

	unread bool // the system did not let it be read
}

func (f Fault) String() string {
	if f.File == "" {
		return f.Why
	}
	return f.File + ": " + f.Why
}

// A folder is a fixture's folder, opened: it stays the same whatever is put in its
// place.
type folder struct {
	shelf *Shelf
	id    string
	root  *os.Root
}

// read opens a fixture's folder and reads from it. When that fails and another
// folder has taken its place meanwhile, it reads again.
func (s *Shelf) read(id string, read func(*folder) error) error {
	if !ValidID(id) {
		return &IDError{id}
	}
	shelf, done, err := s.opened()
	if errors.Is(err, fs.ErrNotExist) {
		if _, err := os.Stat(s.shop); err != nil {
			return err
		}
		return &MissingError{id, s.Dir()}
	}
	if err != nil {
		return err
	}
	defer done()
	for tries := 0; ; tries++ {
		again, err := s.readOnce(shelf, id, read)
		if err == nil || !again || tries == 100 {
			return err
		}
	}
}

// readOnce reads from the folder that stands there now and tells, after an error,
// whether another one does since.
func (s *Shelf) readOnce(shelf *os.Root, id string, read func(*folder) error) (again bool, err error) {
	at := id
	root, err := shelf.OpenRoot(at)
	if errors.Is(err, fs.ErrNotExist) {
		at = oldPrefix + id // set aside by a writer that cannot exchange folders
		root, err = shelf.OpenRoot(at)
	}
	if errors.Is(err, fs.ErrNotExist) {
		_, err := shelf.Lstat(id)
		return err == nil, &MissingError{id, s.Dir()}
	}
	if err != nil {
		return false, s.placed(err, id)
	}
	defer root.Close()
	if err := read(&folder{s, id, root}); err != nil {
		was, _ := root.Stat(".")
		is, gone := shelf.Stat(at)
		return gone != nil || was == nil || !os.SameFile(was, is), err
	}
	return false, nil
}

// record reads fixture.toml.
func (f *folder) record() (*Record, error) {
	text, err := source.LoadIn(f.root, FileName)
	if err != nil {
		return nil, f.shelf.placed(err, f.id, FileName)
	}
	return Parse(f.shelf.Path(f.id, FileName), f.id, text)
}

// files reads the files that the record lists: those that are what it says.
func (f *folder) files(r *Record) (map[string][]byte, []Fault) {
	out := map[string][]byte{}
	var faults []Fault
	for _, file := range r.all() {
		n := name(r.ID, file.Ext)
		text, err := f.bytes(n, file.Size)
		switch {
		case err != nil:
			faults = append(faults, faultOf(n, err))
		case int64(len(text)) != file.Size:
			faults = append(faults, Fault{File: n, Why: sizeDiffers})
		case Hash(text) != file.Hash:
			faults = append(faults, Fault{File: n, Why: "its content is not what was written: the SHA-256 differs"})
		default:
			out[file.Ext] = text
		}
	}
	return out, append(faults, f.strays(r)...)
}

// bytes reads a file of at most size bytes, and one more of a longer one.
func (f *folder) bytes(name string, size int64) ([]byte, error) {
	info, err := f.root.Stat(name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, &fs.PathError{Op: "open", Path: name, Err: errors.New("not a regular file")}
	}
	file, err := f.root.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(io.LimitReader(file, size+1))
}

// cause is what went wrong, without the path that the message names already.
func cause(err error) string {
	if errors.Is(err, fs.ErrNotExist) {
		return "is missing"
	}
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}

// refused tells whether the system did not let something that is there be read.
func refused(err error) bool {
	var no syscall.Errno
	return errors.As(err, &no) && !errors.Is(err, fs.ErrNotExist) && no != syscall.ENOTDIR
}

// faultOf is the fault of a file that could not be read.
func faultOf(name string, err error) Fault {
	return Fault{File: name, Why: cause(err), unread: refused(err)}
}

// Hash is the SHA-256 of a file's bytes in hexadecimal.
func Hash(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}
