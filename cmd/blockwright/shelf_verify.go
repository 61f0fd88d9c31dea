package main

import (
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"blockwright/jig/shelf"
)

// A shelfFault is one thing wrong with a fixture.
type shelfFault struct {
	ID   string `json:"id"`
	File string `json:"file"`
	Why  string `json:"why"`
}

// A verifyResult is what verify found.
type verifyResult struct {
	Fixtures  []shelfItem  `json:"fixtures"`
	Faults    []shelfFault `json:"faults"`
	Leftovers []string     `json:"leftovers"` // folders that a killed run left; they are no fixtures
	Others    []string     `json:"others"`    // what does not belong on the shelf
}

func newShelfVerifyCmd(s *streams) *cobra.Command {
	var f shelfFilter
	cmd := &cobra.Command{
		Use:   "verify [ID...]",
		Short: "Read and prove fixtures again",
		Long: `Verify reads every file of every fixture, or of those named, and holds it to the
size and SHA-256 that were recorded. It makes the fixture's parts anew from what was
asked for, reads every program back from its bytes and holds its moves against them,
reads every drawing back and compares it.

Where shop or cutter changed since, the fixture is stale, and it is said what
changed; its programs are then read back, held to the limits of the machine that it
was made for and against its own drawing. So it is where another build of blockwright
made it and this one writes it otherwise.

What a killed run left is named. It is no fixture, and the next 'blockwright make'
removes it.

Exit status is 0 when no fixture is broken, stale ones or not, 1 if one is, 3 for a
wrong command line and 4 if the shop or a fixture is missing or cannot be read; those
that can are verified all the same.`,
		Example: "  blockwright shelf verify\n  blockwright shelf verify ridge-lock-19mm-block --json",
		Args:    atLeast(0, "fixture"),
		RunE: func(cmd *cobra.Command, args []string) error {
			lib, err := s.library()
			if err != nil {
				return err
			}
			names, err := lib.Names()
			if err != nil {
				return err
			}
			ids := names.IDs
			if len(args) > 0 {
				if ids, err = lib.among(names, args); err != nil {
					return err
				}
			}
			bar := newBar(s, len(ids))
			all, err := lib.look(cmd.Context(), ids, &f, func(id string) shelf.Status {
				defer bar.step()
				return lib.Verify(id, lib.changes, lib.prove)
			})
			bar.end()
			if err != nil {
				return err
			}
			v := verifyResult{Fixtures: []shelfItem{}, Faults: []shelfFault{}, Leftovers: append([]string{}, lib.Leftovers(names)...), Others: append([]string{}, names.Others...)}
			broken, unread := 0, false
			for _, st := range all {
				v.Fixtures = append(v.Fixtures, viewShelved(st))
				for _, x := range st.Faults {
					v.Faults = append(v.Faults, shelfFault{st.ID, x.File, x.Why})
				}
				if st.State == shelf.Broken {
					broken++
				}
				unread = unread || st.Unread
			}
			if err := s.result(v, func(w io.Writer) error { return printVerified(w, v, all, f.some(), lib) }); err != nil {
				return err
			}
			if unread {
				return &silent{statusFile}
			}
			if broken > 0 {
				return &silent{statusFault}
			}
			return nil
		},
	}
	f.add(cmd)
	return cmd
}

// among are the IDs asked for, each once; all must be there.
func (l *library) among(names shelf.Names, args []string) ([]string, error) {
	var ids []string
	var errs []error
	for _, id := range args {
		switch {
		case slices.Contains(ids, id):
		case !shelf.ValidID(id):
			errs = append(errs, &shelf.IDError{ID: id})
		case !slices.Contains(names.IDs, id):
			errs = append(errs, &shelf.MissingError{ID: id, Dir: l.Dir()})
		default:
			ids = append(ids, id)
		}
	}
	return ids, errors.Join(errs...)
}

// printVerified prints a line for each fixture, then faults and leftovers.
func printVerified(w io.Writer, v verifyResult, all []shelf.Status, filtered bool, lib *library) error {
	if err := printShelf(w, all, filtered, lib.shop.Units); err != nil {
		return err
	}
	if len(v.Faults) > 0 {
		fmt.Fprintln(w)
	}
	for _, f := range v.Faults {
		where := lib.Path(f.ID)
		if f.File != "" {
			where = lib.Path(f.ID, f.File)
		}
		fmt.Fprintln(w, onScreen(fmt.Sprintf("%s: %s", where, f.Why)))
	}
	if len(v.Leftovers)+len(v.Others) > 0 {
		fmt.Fprintln(w)
	}
	for _, n := range v.Leftovers {
		fmt.Fprintln(w, onScreen(fmt.Sprintf("%s: left by a run that was stopped; no fixture, the next make removes it", lib.Path(n))))
	}
	for _, n := range v.Others {
		fmt.Fprintln(w, onScreen(fmt.Sprintf("%s: no fixture; it does not belong on the shelf", lib.Path(n))))
	}
	if len(all) > 0 {
		count := map[shelf.State]int{}
		for _, st := range all {
			count[st.State]++
		}
		fmt.Fprintf(w, "\n%d whole, %d stale, %d broken, %d retired\n", count[shelf.Whole], count[shelf.Stale], count[shelf.Broken], count[shelf.Retired])
	}
	return nil
}
