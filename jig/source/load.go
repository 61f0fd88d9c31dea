package source

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// errIrregular is met at a folder, a device or a pipe, which could be endless.
var errIrregular = errors.New("not a regular file")

// Load is the content of the file at path, at most [SizeMax] bytes and one more,
// which [Open] and [Read] then refuse. Folders, pipes and devices are not opened.
// The error is an [*fs.PathError].
func Load(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, placed(err, path)
	}
	return load(path, info, func() (*os.File, error) { return os.Open(path) })
}

// LoadIn is [Load] of a file below an opened folder. A symbolic link that leads
// out of the folder is an error.
func LoadIn(root *os.Root, name string) ([]byte, error) {
	whole := filepath.Join(root.Name(), name)
	info, err := root.Stat(name)
	if err != nil {
		return nil, placed(err, whole)
	}
	text, err := load(whole, info, func() (*os.File, error) { return root.Open(name) })
	return text, placed(err, whole)
}

// placed names the file as the caller knows it: errors of a Root name it from
// there and the system's call.
func placed(err error, name string) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return &fs.PathError{Op: "open", Path: name, Err: p.Err}
	}
	return err
}

func load(name string, info fs.FileInfo, open func() (*os.File, error)) ([]byte, error) {
	if !info.Mode().IsRegular() {
		return nil, &fs.PathError{Op: "open", Path: name, Err: errIrregular}
	}
	f, err := open()
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var b bytes.Buffer
	b.Grow(int(min(info.Size(), SizeMax)) + bytes.MinRead) // read in one go
	_, err = b.ReadFrom(io.LimitReader(f, SizeMax+1))
	return b.Bytes(), err
}
