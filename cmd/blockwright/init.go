package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/google/renameio/v2"
	"github.com/spf13/cobra"

	"blockwright/jig/cutter"
	"blockwright/jig/shop"
)

func newInitCmd(s *streams) *cobra.Command {
	units := choiceFlag{words: []string{"mm", "in"}, text: "mm"}
	cmd := &cobra.Command{
		Use:   "init [DIR]",
		Short: "Start a shop folder",
		Long: `Init writes a shop.toml, with a comment on every line, and one invented cutter
into DIR, or into the working directory. The folder is made if it is not there.
Nothing is overwritten: if either file exists already, nothing is written.

Then enter your router table, milling machine, end mills and sheets into shop.toml,
and your cutters into files beside the invented one; see 'blockwright cutter --help'.

Exit status is 0 when the shop is there, 1 if one of its files exists already, 3
for a wrong command line and 4 if a file cannot be written.`,
		Example: "  blockwright init ~/shop --units in",
		Args:    atMost(1, "folder"),
		RunE: func(_ *cobra.Command, args []string) error {
			dir := "."
			if s.dir.path != "" {
				dir = s.dir.path
			}
			if len(args) == 1 {
				dir = args[0]
			}
			files, err := startShop(dir, units.text)
			if err != nil {
				return err
			}
			return s.result(map[string]any{"shop": dir, "units": units.text, "files": files}, func(w io.Writer) error {
				for _, f := range files {
					fmt.Fprintln(w, filepath.Join(dir, f))
				}
				return nil
			})
		},
	}
	cmd.Flags().Var(&units, "units", "units of the shop: mm or in")
	return cmd
}

var errNoFolder = errors.New("exists and is no folder")

// startShop writes a new shop into dir and returns its files, relative to dir. On
// failure what it made is taken away again.
func startShop(dir, units string) (files []string, err error) {
	handle, demo := shop.StartCutter()
	write := []struct {
		name string
		text []byte
	}{
		{filepath.Join(cutter.Folder, handle+".toml"), demo},
		{shop.FileName, shop.Start(units)}, // last: it makes the folder a shop
	}
	for _, f := range write {
		if _, err := os.Lstat(filepath.Join(dir, f.name)); err == nil {
			return nil, fmt.Errorf("%s exists already; want a folder without a shop", filepath.Join(dir, f.name))
		}
	}
	if info, err := os.Lstat(filepath.Join(dir, cutter.Folder)); err == nil && !info.IsDir() {
		return nil, &fs.PathError{Op: "init", Path: filepath.Join(dir, cutter.Folder), Err: errNoFolder}
	}
	var made []string // in order, to be removed in reverse
	defer func() {
		if err != nil {
			for i := len(made) - 1; i >= 0; i-- {
				_ = os.Remove(made[i]) // as far as it goes; the first error is the one to tell
			}
		}
	}()
	for _, d := range []string{dir, filepath.Join(dir, cutter.Folder)} {
		more, err := makeFolder(d)
		made = append(made, more...)
		if err != nil {
			return nil, err
		}
	}
	for _, f := range write {
		path := filepath.Join(dir, f.name)
		if err := renameio.WriteFile(path, f.text, 0o644, renameio.WithTempDir(filepath.Dir(path))); err != nil {
			return nil, placed(err, path)
		}
		made = append(made, path)
		files = append(files, f.name)
	}
	return files, errors.Join(syncFolder(filepath.Join(dir, cutter.Folder)), syncFolder(dir))
}

// makeFolder makes the folder and the parents it lacks, and returns which.
func makeFolder(dir string) (made []string, err error) {
	var lack []string
	for d := filepath.Clean(dir); ; d = filepath.Dir(d) {
		info, err := os.Stat(d)
		if err == nil && info.IsDir() {
			break
		}
		if err == nil {
			return nil, &fs.PathError{Op: "mkdir", Path: d, Err: errNoFolder}
		}
		if !errors.Is(err, fs.ErrNotExist) {
			return nil, err
		}
		lack = append(lack, d)
	}
	for i := len(lack) - 1; i >= 0; i-- {
		err := os.Mkdir(lack[i], 0o755)
		if info, there := os.Stat(lack[i]); errors.Is(err, fs.ErrExist) && there == nil && info.IsDir() {
			continue // another run was quicker
		}
		if err != nil {
			return made, err
		}
		made = append(made, lack[i])
	}
	return made, nil
}

// syncFolder makes the names in a folder last through a loss of power.
func syncFolder(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	return d.Sync()
}
