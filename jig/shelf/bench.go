package shelf

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"
	"sync"
)

// A bench is the folder of fixtures, opened by the one writer that holds the lock.
type bench struct {
	shelf *Shelf
	root  *os.Root
	dir   *os.File
}

func (s *Shelf) newBench() (*bench, error) {
	root, err := s.root()
	if err != nil {
		return nil, err
	}
	dir, err := root.Open(".")
	if err != nil {
		root.Close()
		return nil, s.placed(err)
	}
	return &bench{s, root, dir}, nil
}

func (b *bench) close() {
	b.dir.Close()
	b.root.Close()
}

const (
	partName   = FileName + ".part"   // a fixture.toml not yet whole
	unreadName = FileName + ".unread" // one that could not be read, kept for its owner
)

// errNoExchange says that the file system cannot swap two folders in one step.
var errNoExchange = errors.New("folders cannot be exchanged here")

// put makes the fixture's folder anew: fixture.toml from the record and the files by
// ending. With old, the record that stands, every other regular file of the old
// folder stays that old did not list or r still lists.
func (b *bench) put(r *Record, files map[string][]byte, old *Record) error {
	tmp := newPrefix + r.ID
	there, err := b.there(r.ID)
	if err != nil {
		return err
	}
	if err := b.build(tmp, r, files, old); err != nil {
		_ = b.root.RemoveAll(tmp) // what stays is removed by the next writer
		return b.shelf.placed(err, r.ID)
	}
	if err := b.place(tmp, r.ID, there); err != nil {
		return err
	}
	return b.empty(tmp, r.ID)
}

// there tells whether a folder stands at the fixture's place.
func (b *bench) there(id string) (bool, error) {
	info, err := b.root.Lstat(id)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return false, nil
	case err != nil:
		return false, b.shelf.placed(err, id)
	case !info.IsDir():
		return false, &InTheWayError{b.shelf.Path(id)}
	}
	return true, nil
}

// An InTheWayError tells of something that stands at a fixture's place and is no
// folder.
type InTheWayError struct{ Path string }

func (e *InTheWayError) Error() string {
	return e.Path + ": is no folder; want a place for a fixture: move it away"
}

// build makes the new folder beside its place, every file and its names synced.
// fixture.toml gets its name last: a folder without one is not whole.
func (b *bench) build(tmp string, r *Record, files map[string][]byte, old *Record) error {
	if err := b.root.RemoveAll(tmp); err != nil {
		return err
	}
	if err := b.root.Mkdir(tmp, 0o755); err != nil {
		return err
	}
	dir, err := b.root.OpenRoot(tmp)
	if err != nil {
		return err
	}
	defer dir.Close()
	all := map[string][]byte{partName: r.Text()}
	for ext, text := range files {
		all[name(r.ID, ext)] = text
	}
	if err := writeAll(dir, all); err != nil {
		return err
	}
	if old != nil {
		for _, f := range old.all() {
			if _, listed := r.File(f.Ext); !listed {
				all[name(r.ID, f.Ext)] = nil
			}
		}
		if err := b.keepFiles(tmp, r.ID, all); err != nil {
			return err
		}
	}
	if err := dir.Rename(partName, FileName); err != nil {
		return err
	}
	return syncFolder(dir)
}

// writeAll writes files and syncs them all at once: one after the other would wait
// for the disk as many times.
func writeAll(dir *os.Root, files map[string][]byte) error {
	errs := make(chan error, len(files))
	var wait sync.WaitGroup
	for name, text := range files {
		f, err := dir.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		if err == nil {
			_, err = f.Write(text)
		}
		if err != nil {
			errs <- err
			if f != nil {
				f.Close()
			}
			break
		}
		wait.Go(func() {
			err := f.Sync()
			if closed := f.Close(); err == nil {
				err = closed
			}
			if err != nil {
				errs <- err
			}
		})
	}
	wait.Wait()
	close(errs)
	return <-errs // the first, or nil
}

// keepFiles gives the new folder the regular files of the old one but those named.
func (b *bench) keepFiles(tmp, id string, but map[string][]byte) error {
	names, err := b.entries(id)
	if err != nil {
		return err
	}
	copied := map[string][]byte{}
	for _, e := range names {
		n := e.Name()
		if _, new := but[n]; new || n == FileName || n == partName || !e.Type().IsRegular() {
			continue
		}
		if b.root.Link(id+"/"+n, tmp+"/"+n) == nil {
			continue
		}
		// A file system without links.
		text, err := readFile(b.root, id+"/"+n)
		if err != nil {
			return err
		}
		copied[n] = text
	}
	if len(copied) == 0 {
		return nil
	}
	dir, err := b.root.OpenRoot(tmp)
	if err != nil {
		return err
	}
	defer dir.Close()
	return writeAll(dir, copied)
}

func readFile(root *os.Root, name string) ([]byte, error) {
	f, err := root.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(f)
}

// entries are the names in a folder, sorted.
func (b *bench) entries(name string) ([]fs.DirEntry, error) {
	dir, err := b.root.Open(name)
	if err != nil {
		return nil, err
	}
	defer dir.Close()
	list, err := dir.ReadDir(-1)
	slices.SortFunc(list, func(a, b fs.DirEntry) int { return strings.Compare(a.Name(), b.Name()) })
	return list, err
}

// place puts the new folder in its place, in one step where there was an old one,
// which then has the new one's name.
func (b *bench) place(tmp, id string, there bool) error {
	if !there {
		if err := b.root.Rename(tmp, id); err != nil {
			return b.shelf.placed(err, id)
		}
		return b.dir.Sync()
	}
	err := b.shelf.swap(b.dir, tmp, id)
	if errors.Is(err, errNoExchange) {
		// Readers and the next writer know the old one under this name.
		aside := oldPrefix + id
		if err = b.root.RemoveAll(aside); err == nil {
			if err = b.root.Rename(id, aside); err == nil {
				if err = b.root.Rename(tmp, id); err != nil {
					_ = b.root.Rename(aside, id)
				}
			}
		}
		if err == nil {
			if err = b.dir.Sync(); err == nil {
				err = b.root.Rename(aside, tmp)
			}
		}
	}
	if err != nil {
		return err
	}
	return b.dir.Sync()
}

// empty removes a folder that a fixture has no use for any more: the half of a new
// one, or the old one that was exchanged for it. What is in the old one and was not
// written by this program goes to the fixture that stands.
func (b *bench) empty(tmp, id string) error {
	entries, err := b.entries(tmp)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return b.shelf.placed(err, tmp)
	}
	whole := slices.ContainsFunc(entries, func(e fs.DirEntry) bool { return e.Name() == FileName })
	standing, err := b.there(id)
	if err != nil {
		return err
	}
	if standing && (whole || !slices.ContainsFunc(entries, func(e fs.DirEntry) bool { return e.Name() == partName })) {
		if err := b.bringHome(tmp, id, entries); err != nil {
			return b.shelf.placed(err, tmp)
		}
	}
	return b.shelf.placed(b.root.RemoveAll(tmp), tmp)
}

// bringHome moves what the program did not write from an old folder to the new one.
func (b *bench) bringHome(old, id string, entries []fs.DirEntry) error {
	ours := map[string]bool{FileName: true, partName: true}
	dir, err := b.root.OpenRoot(old)
	if err != nil {
		return err
	}
	r, err := (&folder{b.shelf, id, dir}).record()
	dir.Close()
	if err == nil {
		for _, f := range r.all() {
			ours[name(id, f.Ext)] = true
		}
	} else {
		_ = b.root.Rename(old+"/"+FileName, id+"/"+unreadName) // it may not be there
	}
	for _, e := range entries {
		n := e.Name()
		if ours[n] {
			continue
		}
		if _, err := b.root.Lstat(id + "/" + n); err == nil {
			continue // there is a new one
		}
		if err := b.root.Rename(old+"/"+n, id+"/"+n); err != nil {
			return err
		}
	}
	return nil
}
