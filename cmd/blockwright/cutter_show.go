package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"blockwright/jig/cutter"
)

func newCutterShowCmd(s *streams) *cobra.Command {
	return &cobra.Command{
		Use:   "show HANDLE",
		Short: "Describe a cutter",
		Long: `Show prints a cutter's sizes and what they allow.

Exit status is 0 when the cutter was read, 1 if its file has faults, 3 for a wrong
command line and 4 if the shop or the cutter is missing or cannot be read.`,
		Example: "  blockwright cutter show ridge-lock",
		Args:    exactly(1, "handle"),
		RunE:    func(_ *cobra.Command, args []string) error { return showCutter(s, args[0]) },
	}
}

// A cutterView describes a cutter.
type cutterView struct {
	Cutter string  `json:"cutter"`
	Name   string  `json:"name"`
	Joint  string  `json:"joint"`
	Units  string  `json:"units"`
	Shank  float64 `json:"shank_mm,omitempty"`
	MaxRPM float64 `json:"max_rpm,omitempty"`
	Bottom float64 `json:"bottom_mm"`
	Top    float64 `json:"top_mm"`
	Radius float64 `json:"radius_mm"`
}

func showCutter(s *streams, handle string) error {
	sh, err := s.shop()
	if err != nil {
		return err
	}
	c, err := cutter.Find(sh.Dir, handle)
	if err != nil {
		return err
	}
	v := cutterView{
		Cutter: c.Handle, Name: c.Name, Joint: c.Joint, Units: c.Units, Shank: c.Shank, MaxRPM: c.MaxRPM,
		Bottom: c.Bottom(), Top: c.Top(), Radius: c.MaxRadius(),
	}
	return s.result(v, func(w io.Writer) error {
		fmt.Fprintf(w, "%s: %s, for %s\n", v.Cutter, v.Name, v.Joint)
		fmt.Fprintf(w, "  cutting height   %s\n", inUnits(v.Top-v.Bottom, sh.Units))
		fmt.Fprintf(w, "  greatest radius  %s\n", inUnits(v.Radius, sh.Units))
		return nil
	})
}
