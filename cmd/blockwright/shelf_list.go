package main

import (
	"fmt"
	"io"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"blockwright/jig/shelf"
)

func newShelfListCmd(s *streams) *cobra.Command {
	var f shelfFilter
	cmd := &cobra.Command{
		Use:   "list",
		Short: "List the fixtures on the shelf",
		Long: `List shows every fixture with its state. It reads what each was made from and looks
at the sizes of its files; 'blockwright shelf verify' reads and proves them.
` + shelfStatus,
		Example: "  blockwright shelf list --cutter ridge-lock --stock 19mm,3/4in --stale",
		Args:    atMost(0, "arguments"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			lib, err := s.library()
			if err != nil {
				return err
			}
			names, err := lib.Names()
			if err != nil {
				return err
			}
			all, err := lib.look(cmd.Context(), names.IDs, &f, func(id string) shelf.Status { return lib.Look(id, lib.changes) })
			if err != nil {
				return err
			}
			items := make([]shelfItem, len(all))
			for i, st := range all {
				items[i] = viewShelved(st)
			}
			return s.result(map[string]any{"fixtures": items}, func(w io.Writer) error { return printShelf(w, all, f.some(), lib.shop.Units) })
		},
	}
	f.add(cmd)
	return cmd
}

// printShelf prints a line for each fixture.
func printShelf(w io.Writer, all []shelf.Status, filtered bool, units string) error {
	if len(all) == 0 {
		text := "no fixture is on the shelf; see 'blockwright make'"
		if filtered {
			text = "no such fixture is on the shelf"
		}
		_, err := fmt.Fprintln(w, text)
		return err
	}
	t := tabwriter.NewWriter(w, 0, 4, 2, ' ', 0)
	for _, st := range all {
		fmt.Fprintf(t, "%s\t%s\t%s\n", st.ID, st.State, plain(aboutShelved(st, units)))
	}
	return t.Flush()
}

// aboutShelved is why a fixture is not whole, or else what it sets.
func aboutShelved(st shelf.Status, units string) string {
	if why := st.Because(); why != "" {
		return why
	}
	r := st.Record
	text := fmt.Sprintf("height %s, fence %s", known(r.Setting.Height, !r.Setting.HeightUnknown, units), known(r.Setting.Fence, !r.Setting.FenceUnknown, units))
	if x, ok := r.Last(); ok {
		text += "; " + readingWords(x, units)
	}
	return text
}

// readingWords says what was measured.
func readingWords(x shelf.Reading, units string) string {
	text := "measured " + x.Date
	switch x.Proud {
	case "":
	case "none":
		text += ", no step"
	default:
		text += fmt.Sprintf(", step %s, %s piece proud", inUnits(x.Flip, units), x.Proud)
	}
	switch {
	case !x.Tips:
	case x.Tip < 0:
		text += fmt.Sprintf(", land of %s on the tip", inUnits(-x.Tip, units))
	default:
		text += fmt.Sprintf(", tip shorter by %s", inUnits(x.Tip, units))
	}
	return text
}
