package main

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/google/renameio/v2"
)

// writeFiles writes the files ID.EXT of one fixture into the folder and returns
// their paths in order. All are written in full beside their places before the
// first is moved there, so a full disk or a kill leaves old files or new ones,
// never half a file. A refusal leaves neither files nor a new folder.
func writeFiles(dir, id string, files map[string][]byte) (paths []string, err error) {
	made, err := makeFolder(dir)
	var pending []*renameio.PendingFile
	defer func() {
		for _, p := range pending {
			_ = p.Cleanup() // nothing is left of those already in place
		}
		for i := len(made) - 1; i >= 0 && err != nil; i-- {
			_ = os.Remove(made[i]) // as far as it goes: only if empty
		}
	}()
	if err != nil {
		return nil, err
	}
	exts := slices.Sorted(maps.Keys(files))
	removeLeftovers(dir, id, exts, time.Now())
	for _, ext := range exts {
		path := filepath.Join(dir, id+"."+ext)
		if info, err := os.Lstat(path); err == nil && info.IsDir() {
			return nil, &fs.PathError{Op: "write", Path: path, Err: errors.New("is a folder; want a place for a file")}
		}
		paths = append(paths, path)
	}
	for i, ext := range exts {
		// In the same folder, so that the move is one within a file system and what
		// a kill leaves is found again.
		p, err := renameio.NewPendingFile(paths[i], renameio.WithPermissions(0o644), renameio.WithTempDir(dir))
		if err != nil {
			return nil, placed(err, paths[i])
		}
		pending = append(pending, p)
		if _, err := p.Write(files[ext]); err != nil {
			return nil, placed(err, paths[i])
		}
	}
	for i, p := range pending {
		if err := p.CloseAtomicallyReplace(); err != nil {
			return nil, placed(err, paths[i])
		}
	}
	return paths, syncFolder(dir)
}

// placed is an error of writing the file at path, which the one met may name by what
// it is called until it is whole.
func placed(err error, path string) error {
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		err = p.Err
	case errors.As(err, &l):
		err = l.Err
	}
	return &fileError{fmt.Errorf("%s: %w", path, err)}
}

// leftoverAge is the age at which a file not yet moved to its place belongs to
// nobody any more: far longer than any fixture takes to write.
const leftoverAge = 10 * time.Minute

// removeLeftovers removes what a killed run left of the same fixture: files named
// as its own with a dot before and digits behind, .ID.EXT123. It is a courtesy:
// what cannot be removed stays.
func removeLeftovers(dir, id string, exts []string, now time.Time) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, e := range entries {
		name, ours := strings.CutPrefix(e.Name(), "."+id+".")
		ext := strings.TrimRight(name, "0123456789")
		// r12.dxf has digits within, but every extension ends in a letter.
		if !ours || ext == name || !slices.Contains(exts, ext) {
			continue
		}
		if info, err := e.Info(); err == nil && info.Mode().IsRegular() && now.Sub(info.ModTime()) > leftoverAge {
			_ = os.Remove(filepath.Join(dir, e.Name()))
		}
	}
}
