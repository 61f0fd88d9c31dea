package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"blockwright/jig/shelf"
)

func newShelfRetireCmd(s *streams) *cobra.Command {
	why := nameFlag{text: "no longer in use"}
	cmd := &cobra.Command{
		Use:   "retire ID...",
		Short: "Take fixtures out of use",
		Long: `Retire marks fixtures as no longer in use. Their files and their history stay;
'blockwright make' of the same fixture takes it into use again.

Exit status is 0 when it was done, 1 for a fault in a fixture's file, 3 for a wrong
command line and 4 if the shop or a fixture is missing or cannot be read or written.`,
		Example: "  blockwright shelf retire ridge-lock-19mm-block --why 'worn at the seat'",
		Args:    atLeast(1, "fixture"),
		RunE: func(cmd *cobra.Command, args []string) error {
			lib, err := s.library()
			if err != nil {
				return err
			}
			names, err := lib.Names()
			if err != nil {
				return err
			}
			ids, err := lib.among(names, args)
			if err != nil {
				return err
			}
			items := []shelfItem{}
			for _, id := range ids {
				err := lib.Update(cmd.Context(), id, func(r *shelf.Record) error {
					r.Retired = why.text
					return nil
				})
				if err != nil {
					return err
				}
				items = append(items, viewShelved(lib.Look(id, lib.changes)))
			}
			return s.result(map[string]any{"fixtures": items}, func(w io.Writer) error {
				for _, id := range ids {
					fmt.Fprintf(w, "%s: retired, %s\n", id, plain(why.text))
				}
				return nil
			})
		},
	}
	cmd.Flags().Var(&why, "why", "the reason")
	return cmd
}
