package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"blockwright/jig/cutter"
	"blockwright/jig/joint"
	"blockwright/jig/shop"
	"blockwright/jig/source"
)

func newCutterCmd(s *streams) *cobra.Command {
	return group(&cobra.Command{
		Use:   "cutter",
		Short: "List, check, describe and trace cutters",
		Long: `A cutter is a file cutters/HANDLE.toml of the shop. HANDLE is 1 to 40 of a-z, 0-9
and -. 'new' makes one from sizes read by caliper, 'trace' from a scan of a test cut,
'import' from a drawing; or write it by hand. Its keys:

  name     shown and engraved
  joint    lock-miter, drawer-lock, edge-glue, matched or edge
  units    mm or in, of the numbers in this file
  shank    diameter; max_rpm as marked on the cutter; both may be left out
  profile  points [radius, height] from the end nearest the shank upward, heights
           never falling; a third number is the bulge of the arc that follows
  body     points of what does not cut but is in the way; may be left out

Lengths with a unit and fractions stand in quotes: "3/4in". Then 'check' the file,
and 'show' what was understood: its centre, and the stock it joins.`,
	}, newCutterListCmd(s), newCutterCheckCmd(s), newCutterShowCmd(s), newCutterTraceCmd(s), newCutterImportCmd(s), newCutterCompareCmd(s), newCutterNewCmd(s))
}

// A cutterItem is a line of the list of cutters.
type cutterItem struct {
	Cutter string  `json:"cutter"`
	Name   string  `json:"name,omitempty"`
	Joint  string  `json:"joint,omitempty"`
	Units  string  `json:"units,omitempty"`
	Radius float64 `json:"radius_mm,omitempty"`
	Height float64 `json:"height_mm,omitempty"`
	Error  string  `json:"error,omitempty"`
}

func newCutterListCmd(s *streams) *cobra.Command {
	return &cobra.Command{
		Use:   "list",
		Short: "List the shop's cutters",
		Long: `List prints the shop's cutters in the order of their handles. A cutter whose file
has faults is listed with the first of them.

Exit status is 0 if all cutters could be read, 1 if one has a fault, 3 for a
wrong command line and 4 if the shop or a cutter cannot be read.`,
		Args: atMost(0, "arguments"),
		RunE: func(*cobra.Command, []string) error { return listCutters(s) },
	}
}

func listCutters(s *streams) error {
	sh, err := s.shop()
	if err != nil {
		return err
	}
	entries, err := cutter.List(sh.Dir)
	if err != nil {
		return err
	}
	items := make([]cutterItem, len(entries))
	var bad []error
	for i, e := range entries {
		items[i] = cutterItem{Cutter: e.Handle}
		if e.Err != nil {
			bad = append(bad, e.Err)
			items[i].Error = firstFault(e.Err)
			continue
		}
		c := e.Cutter
		items[i].Name, items[i].Joint, items[i].Units = c.Name, c.Joint, c.Units
		items[i].Radius, items[i].Height = c.MaxRadius(), c.Top()-c.Bottom()
	}
	err = s.result(map[string]any{"cutters": items}, func(w io.Writer) error {
		if len(items) == 0 {
			_, err := fmt.Fprintf(w, "no cutters in %s\n", sh.Dir)
			return err
		}
		t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
		fmt.Fprintln(t, "CUTTER\tJOINT\tRADIUS\tHEIGHT\tNAME")
		for _, c := range items {
			if c.Error != "" {
				fmt.Fprintf(t, "%s\tfaulty\t\t\t\n", plain(c.Cutter))
				continue
			}
			fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\n", c.Cutter, c.Joint, inUnits(c.Radius, sh.Units), inUnits(c.Height, sh.Units), c.Name)
		}
		return t.Flush()
	})
	return errors.Join(append(bad, err)...)
}

// badFit is how far in mm two cuts of a drawn profile may miss each other before it
// is worth a word: more than a cutter is ground to. Common practice, no source.
const badFit = 0.05

// checkNote says what keeps a profile without faults from making its joint.
func checkNote(c *cutter.Cutter) string {
	v := viewCutter(c, joint.Web)
	switch {
	case v.Centre != nil && *v.Residual > badFit:
		return fmt.Sprintf("as a %s its two cuts miss each other by up to %s: no half turn lays the profile on itself. A slip in one of the points?",
			joint.Words(c.Joint), shopLength(*v.Residual, c.Units))
	case v.Range == nil && c.Joint != "matched" && c.Joint != "edge":
		return v.Note
	}
	return ""
}

// firstFault is the error's first line.
func firstFault(err error) string {
	var faults source.Faults
	if errors.As(err, &faults) {
		return faults[0].Error()
	}
	return err.Error()
}

func newCutterCheckCmd(s *streams) *cobra.Command {
	return &cobra.Command{
		Use:   "check FILE...",
		Short: "Report every fault of cutter files",
		Long: `Check reads cutter files, wherever they lie, and reports every fault of each as
file:line:column: key: what is there; what is wanted. It needs no shop; in one, the
handle of a cutter stands for its file.

Exit status is 0 without faults, 1 with faults, 3 for a wrong command line and 4
if a file cannot be read.`,
		Example: "  blockwright cutter check cutters/*.toml",
		Args:    atLeast(1, "file"),
		RunE:    func(_ *cobra.Command, args []string) error { return checkCutters(s, args) },
	}
}

// A checkItem is the answer for one file.
type checkItem struct {
	File   string      `json:"file"`
	Cutter string      `json:"cutter,omitempty"`
	Faults []faultItem `json:"faults"`
	Note   string      `json:"note,omitempty"`  // what of the profile will keep its joint from closing
	Error  string      `json:"error,omitempty"` // the file could not be read
}

// cutterFile is the file of the shop's cutter where arg is its handle and no file.
func (s *streams) cutterFile(arg string) string {
	if _, err := os.Lstat(arg); err == nil || !cutter.ValidHandle(arg) {
		return arg
	}
	dir, err := shop.Find("", s.dir.path, s.env(shop.Variable))
	if err != nil {
		return arg
	}
	path := filepath.Join(dir, cutter.Folder, arg+".toml")
	if _, err := os.Lstat(path); err != nil {
		return arg
	}
	return path
}

func checkCutters(s *streams, files []string) error {
	var bad []error
	items := make([]checkItem, len(files))
	for i, file := range files {
		file = s.cutterFile(file)
		items[i] = checkItem{File: file, Faults: []faultItem{}}
		c, err := cutter.Load(file)
		if err == nil {
			items[i].Cutter, items[i].Note = c.Handle, checkNote(c)
			continue
		}
		if errors.Is(err, fs.ErrNotExist) && cutter.ValidHandle(file) {
			err = fmt.Errorf("%w; want a file's path, such as cutters/%s.toml, or in a shop the handle of one of its cutters", err, file)
		}
		bad = append(bad, err)
		if f := faultItems(err); len(f) > 0 {
			items[i].Faults = f
		} else {
			items[i].Error = err.Error()
		}
	}
	err := s.result(map[string]any{"files": items}, func(w io.Writer) error {
		for _, c := range items {
			if c.Cutter != "" {
				fmt.Fprintf(w, "%s: no faults\n", plain(c.File))
				if c.Note != "" {
					wrapped(w, "  note: ", c.Note)
				}
			}
		}
		return nil
	})
	return errors.Join(append(bad, err)...)
}
