package cutter

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"blockwright/jig/source"
)

// Folder is the name of a shop's folder of cutters.
const Folder = "cutters"

// A HandleError tells of a word that cannot be a cutter's handle.
type HandleError struct{ Handle string }

func (e *HandleError) Error() string {
	return fmt.Sprintf("cutter %s; want a handle: %s", clip(e.Handle), HandleWant)
}

// A MissingError tells of a handle without a file, and which there are.
type MissingError struct {
	Path    string
	Handles []string
}

func (e *MissingError) Error() string {
	const most = 20
	have := "none"
	if n := len(e.Handles); n > most {
		have = fmt.Sprintf("%s and %d more", strings.Join(e.Handles[:most], ", "), n-most)
	} else if n > 0 {
		have = strings.Join(e.Handles, ", ")
	}
	return fmt.Sprintf("%s: no such cutter; the shop has %s", e.Path, have)
}

// Is makes the error one of a file that does not exist.
func (e *MissingError) Is(target error) bool { return target == fs.ErrNotExist }

// Load reads the cutter in the file at path, wherever that is. The error is a
// [source.Faults], or an [*fs.PathError] if the file cannot be read.
func Load(path string) (*Cutter, error) {
	text, err := source.Load(path)
	if err != nil {
		return nil, err
	}
	return Parse(path, text)
}

// Find reads the cutter with the handle from the shop folder dir: the file
// cutters/HANDLE.toml. A link that leads out of the shop
// folder is not followed. Beside the errors of [Load], a [*HandleError] if the
// word is no handle, a [*MissingError] if there is no such file.
func Find(dir, handle string) (*Cutter, error) {
	c, _, err := FindText(dir, handle)
	return c, err
}

// FindText is [Find] with the text of the file, for those who keep its hash.
func FindText(dir, handle string) (*Cutter, []byte, error) {
	if !ValidHandle(handle) {
		return nil, nil, &HandleError{handle}
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, nil, err
	}
	defer root.Close()
	name, whole := pathOf(dir, handle)
	text, err := source.LoadIn(root, name)
	if errors.Is(err, fs.ErrNotExist) {
		handles, _ := handlesIn(root) // without them the message is only shorter
		handles = slices.DeleteFunc(handles, func(h string) bool { return !ValidHandle(h) })
		return nil, nil, &MissingError{whole, handles}
	}
	if err != nil {
		return nil, nil, err
	}
	c, err := Parse(whole, text)
	return c, text, err
}

// pathOf is the file of a handle, from the shop folder dir and as dir is named.
func pathOf(dir, handle string) (name, whole string) {
	name = path.Join(Folder, handle+".toml")
	return name, filepath.Join(dir, name)
}

// An Entry is one file of the folder of cutters: a cutter, or the error of [Find].
type Entry struct {
	Handle string
	Cutter *Cutter // nil with an error
	Err    error
}

// List reads all cutters of the shop folder dir, in the order of their handles.
// The error is of the folder; a folder that is not there holds no cutter.
func List(dir string) ([]Entry, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	handles, err := handlesIn(root)
	if err != nil {
		return nil, err
	}
	var all []Entry
	for _, h := range handles {
		e := Entry{Handle: h}
		name, whole := pathOf(dir, h)
		var text []byte
		if text, e.Err = source.LoadIn(root, name); e.Err == nil {
			e.Cutter, e.Err = Parse(whole, text)
		}
		all = append(all, e)
	}
	return all, nil
}

// handlesIn are the names of the TOML files in the folder of cutters, less their
// ending, valid handles or not. Names that begin with a point are none.
func handlesIn(root *os.Root) ([]string, error) {
	files, err := fs.ReadDir(root.FS(), Folder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	var out []string
	for _, f := range files {
		if h, ok := strings.CutSuffix(f.Name(), ".toml"); ok && !strings.HasPrefix(h, ".") {
			out = append(out, h)
		}
	}
	slices.Sort(out)
	return out, err
}
