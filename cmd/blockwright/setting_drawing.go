package main

import (
	"path/filepath"

	"github.com/google/renameio/v2"

	"blockwright/jig/joint"
	"blockwright/posts"
)

// drawJoints writes the drawing of the closed joints to the file that is named for
// it, whole or not at all. Without a file it does nothing.
func (f *settingFlags) drawJoints(found []*joint.Setting, units string) error {
	path := f.drawing.path
	if path == "" {
		return nil
	}
	text := posts.JointDrawing(found, units, f.wrong(units))
	if err := renameio.WriteFile(path, text, 0o644, renameio.WithTempDir(filepath.Dir(path))); err != nil {
		return placed(err, path)
	}
	return nil
}
