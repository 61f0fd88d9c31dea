package source

import (
	"errors"
	"io"
	"io/fs"
	"os"
)

// errIrregular is met at a folder, a device or a pipe, which could be endless.
var errIrregular = errors.New("not a regular file")

// Load is the content of the file at path, at most [SizeMax] bytes and one more,
// which [Open] and [Read] then refuse. Folders, pipes and devices are not opened.
// The error is an [*fs.PathError].
func Load(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	return load(path, info, func() (*os.File, error) { return os.Open(path) })
}

// LoadIn is [Load] of a file below an opened folder. A symbolic link that leads
// out of the folder is an error.
func LoadIn(root *os.Root, name string) ([]byte, error) {
	info, err := root.Stat(name)
	if err != nil {
		return nil, err
	}
	return load(name, info, func() (*os.File, error) { return root.Open(name) })
}

func load(name string, info fs.FileInfo, open func() (*os.File, error)) ([]byte, error) {
	if !info.Mode().IsRegular() {
		return nil, &fs.PathError{Op: "read", Path: name, Err: errIrregular}
	}
	f, err := open()
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, SizeMax+1))
}
