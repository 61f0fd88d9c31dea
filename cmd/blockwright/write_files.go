package main

import (
	"errors"
	"maps"
	"path/filepath"
	"slices"

	"github.com/google/renameio/v2"
)

// writeFiles writes the files ID.EXT of one fixture into the folder and returns
// their paths in order. All are written in full beside their places before the
// first is moved there, so a full disk or a kill leaves old files or new ones,
// never half a file.
func writeFiles(dir, id string, files map[string][]byte) ([]string, error) {
	if _, err := makeFolder(dir); err != nil {
		return nil, err
	}
	var pending []*renameio.PendingFile
	defer func() {
		for _, p := range pending {
			_ = p.Cleanup() // nothing is left of those already in place
		}
	}()
	var paths []string
	for _, ext := range slices.Sorted(maps.Keys(files)) {
		path := filepath.Join(dir, id+"."+ext)
		p, err := renameio.NewPendingFile(path, renameio.WithPermissions(0o644))
		if err != nil {
			return nil, &fileError{err}
		}
		pending = append(pending, p)
		if _, err := p.Write(files[ext]); err != nil {
			return nil, &fileError{err}
		}
		paths = append(paths, path)
	}
	for _, p := range pending {
		if err := p.CloseAtomicallyReplace(); err != nil {
			return nil, &fileError{err}
		}
	}
	return paths, errors.Join(syncFolder(dir))
}
