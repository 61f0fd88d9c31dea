package shelf

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
)

// A Shelf is the folder of fixtures of one shop. Its methods may be called from
// several goroutines.
type Shelf struct {
	shop string // the shop's folder
	swap func(dir *os.File, a, b string) error

	mu      sync.Mutex
	kept    *os.Root // the folder of fixtures while it is kept open
	cleared bool     // what killed writers left has been looked for
}

// Open is the shelf of the shop in the folder dir. Nothing is read: a shelf that
// has no folder yet is empty.
func Open(dir string) *Shelf { return &Shelf{shop: dir, swap: exchange} }

// Dir is the path of the folder of fixtures.
func (s *Shelf) Dir() string { return filepath.Join(s.shop, Folder) }

// Path is the path of a fixture's folder, or of the file in it.
func (s *Shelf) Path(id string, file ...string) string {
	return filepath.Join(append([]string{s.Dir(), id}, file...)...)
}

// A MissingError tells of an ID without a fixture.
type MissingError struct{ ID, Dir string }

func (e *MissingError) Error() string {
	return fmt.Sprintf("%s: no fixture %s; see 'shelf list'", e.Dir, e.ID)
}

// Is makes the error one of a file that does not exist.
func (e *MissingError) Is(target error) bool { return target == fs.ErrNotExist }

// root opens the folder of fixtures without leaving the shop's. The error is
// fs.ErrNotExist where there is none yet.
func (s *Shelf) root() (*os.Root, error) {
	shop, err := os.OpenRoot(s.shop)
	if err != nil {
		return nil, err
	}
	defer shop.Close()
	r, err := shop.OpenRoot(Folder)
	return r, s.placed(err)
}

// KeepOpen opens the folder of fixtures once for all that is read until release is
// called. Where it cannot be opened, reading tells why.
func (s *Shelf) KeepOpen() (release func()) {
	root, err := s.root()
	if err != nil {
		return func() {}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.kept = root
	return func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		if s.kept == root {
			s.kept = nil
		}
		root.Close()
	}
}

// opened is the folder of fixtures: the one that is kept open, or opened for the
// caller. done ends its use.
func (s *Shelf) opened() (root *os.Root, done func(), err error) {
	s.mu.Lock()
	root = s.kept
	s.mu.Unlock()
	if root != nil {
		return root, func() {}, nil
	}
	root, err = s.root()
	return root, func() { root.Close() }, err
}

// placed names the file of an error as the caller knows it: those of a Root name it
// from there.
func (s *Shelf) placed(err error, parts ...string) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return &fs.PathError{Op: "open", Path: s.Path(filepath.Join(parts...)), Err: p.Err}
	}
	return err
}

// Names are what stands in the folder of fixtures.
type Names struct {
	IDs     []string // folders whose name can be an ID
	Pending []string // folders that a writer is making, or that a killed one left
	Others  []string // what does not belong there
}

// Names reads the folder of fixtures, in the order of the names. Fixtures that a
// killed writer set aside and did not replace are among the IDs.
func (s *Shelf) Names() (Names, error) {
	var n Names
	root, err := s.root()
	if errors.Is(err, fs.ErrNotExist) {
		if _, err := os.Stat(s.shop); err != nil {
			return n, err
		}
		return n, nil
	}
	if err != nil {
		return n, err
	}
	defer root.Close()
	dir, err := root.Open(".")
	if err != nil {
		return n, s.placed(err)
	}
	defer dir.Close()
	entries, err := dir.ReadDir(FixturesMax + 1)
	if len(entries) > FixturesMax {
		return n, &fs.PathError{Op: "read", Path: s.Dir(), Err: fmt.Errorf("more than %d entries", FixturesMax)}
	}
	if err != nil && len(entries) > 0 {
		return n, s.placed(err)
	}
	slices.SortFunc(entries, func(a, b fs.DirEntry) int { return strings.Compare(a.Name(), b.Name()) })
	var aside []string
	for _, e := range entries {
		switch name := e.Name(); {
		case name == lockName:
		case strings.HasPrefix(name, newPrefix):
			n.Pending = append(n.Pending, name)
		case strings.HasPrefix(name, oldPrefix):
			n.Pending = append(n.Pending, name)
			aside = append(aside, strings.TrimPrefix(name, oldPrefix))
		case e.IsDir() && ValidID(name):
			n.IDs = append(n.IDs, name)
		case strings.HasPrefix(name, "."), !e.IsDir() && name == PageName:
		default:
			n.Others = append(n.Others, name)
		}
	}
	for _, id := range aside {
		if at, there := slices.BinarySearch(n.IDs, id); !there && ValidID(id) {
			n.IDs = slices.Insert(n.IDs, at, id)
		}
	}
	return n, nil
}

// PageName is the file in the folder of fixtures that shows them all.
const PageName = "index.html"

// Names of folders that are no fixture yet or no longer. What follows the prefix is
// the ID.
const (
	lockName  = ".lock"
	newPrefix = ".new-"
	oldPrefix = ".old-"
)
