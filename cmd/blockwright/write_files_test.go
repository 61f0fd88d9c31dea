package main

import (
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

var twoFiles = map[string][]byte{"r12.dxf": []byte("drawing"), "ngc": []byte("program")}

func names(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	out := []string{}
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

// A folder where a file must go is found before the first file is in its place.
func TestWriteFilesAllOrNone(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(dir, "a.r12.dxf"), 0o755))
	_, err := writeFiles(dir, "a", twoFiles)
	require.ErrorContains(t, err, "a.r12.dxf: is a folder")
	require.Equal(t, statusFile, statusOf(err))
	require.Equal(t, []string{"a.r12.dxf"}, names(t, dir))
}

// A refusal takes the folders it made away again.
func TestWriteFilesNoFolder(t *testing.T) {
	dir := t.TempDir()
	_, err := writeFiles(filepath.Join(dir, "x", "y"), "a/b", twoFiles)
	require.Error(t, err)
	require.Empty(t, names(t, dir))
}

// What a kill leaves is removed by a later run for the same fixture, and nothing
// else: not files of another fixture, of a run still going on, or of somebody's.
func TestWriteFilesLeftovers(t *testing.T) {
	dir := t.TempDir()
	old := time.Now().Add(-time.Hour)
	stay := []string{".a.ngc", ".a.txt12", ".a.ngc9x", ".b.ngc12", "a.ngc12", ".a.ngc77"}
	for _, name := range append([]string{".a.ngc12", ".a.r12.dxf5"}, stay...) {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, nil, 0o644))
		if name != ".a.ngc77" {
			require.NoError(t, os.Chtimes(path, old, old))
		}
	}
	_, err := writeFiles(dir, "a", twoFiles)
	require.NoError(t, err)
	require.ElementsMatch(t, append(stay, "a.ngc", "a.r12.dxf"), names(t, dir))
}

// Runs that start at once make a new folder together, and write only into it.
func TestWriteFilesAtOnce(t *testing.T) {
	temp := t.TempDir()
	t.Setenv("TMPDIR", temp)
	dir := filepath.Join(t.TempDir(), "x", "y", "z")
	var wait sync.WaitGroup
	errs := make([]error, 30)
	for i := range errs {
		wait.Add(1)
		go func() {
			defer wait.Done()
			_, errs[i] = writeFiles(dir, "a", twoFiles)
		}()
	}
	wait.Wait()
	for _, err := range errs {
		require.NoError(t, err)
	}
	require.Equal(t, []string{"a.ngc", "a.r12.dxf"}, names(t, dir))
	require.Empty(t, names(t, temp))
}
