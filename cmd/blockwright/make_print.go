package main

import (
	"fmt"
	"io"
	"math"
	"path/filepath"
	"strings"

	"blockwright/posts"
)

// printMade tells of the fixtures made: where they are and what to know of them.
func printMade(w io.Writer, r makeResult, units string) error {
	for i, m := range r.Fixtures {
		if i > 0 {
			fmt.Fprintln(w)
		}
		f := m.fixture
		fmt.Fprintf(w, "%s  %s\n", m.ID, f.Title)
		fmt.Fprintf(w, "  setting     height %s, fence %s\n", inUnits(f.Pass.Height, units), inUnits(f.Pass.Fence, units))
		fmt.Fprintf(w, "  sheet       %s, %s thick; parts %s\n", f.Sheet.Name, inUnits(m.Thickness, units), strings.Join(parts(f), ", "))
		fmt.Fprintf(w, "  end mill    %s, cuts %s; %.0f rpm, feed %s/min\n", f.Mill.Name, inUnits(m.Mill, units), f.RPM, feedIn(f.Feed, units))
		fmt.Fprintf(w, "  Z zero      %s; about %s\n", zeroWords(m.Zero), clockTime(m.Seconds))
		fmt.Fprintf(w, "  proved      gouge %.4f mm, leftover %.4f mm off the tabs\n", m.Gouge, m.Leftover)
		if e := m.ToolError; e != nil {
			fmt.Fprintf(w, "  error left  %.4f mm of height, %.4f of fence for each 0.1 mm that the mill cuts wider\n", math.Abs(e.Height), math.Abs(e.Fence))
		}
		if n := m.Nose; n != nil {
			fmt.Fprintf(w, "  nose        at x = %s from the fence face, measured from the %s\n", inUnits(n.X, units), n.From)
			if n.From == "cutter" {
				fmt.Fprintf(w, "              lay it on %s; ±0.5 mm of height moves the reading by %.3f mm\n", n.Support, n.Change)
			}
		}
		for _, h := range f.Hints {
			fmt.Fprintf(w, "  note        %s\n", h)
		}
		fmt.Fprintf(w, "  files       %s\n", filepath.Dir(m.Files[0]))
		for _, p := range m.Files {
			fmt.Fprintf(w, "    %s\n", filepath.Base(p))
		}
		if f.Figures != nil {
			printStandoff(w, f, units)
		}
	}
	if len(r.Fixtures) > 0 {
		fmt.Fprintf(w, "\n%s\n", cautions)
	}
	return nil
}

func parts(f *posts.Fixture) []string {
	var out []string
	for _, c := range f.Plates {
		b := c.Wall.Bound()
		out = append(out, fmt.Sprintf("%s %.0f × %.0f", c.Part, b.Max[0]-b.Min[0], b.Max[1]-b.Min[1]))
	}
	return out
}

func zeroWords(zero string) string {
	if zero == "top" {
		return "on the sheet's top"
	}
	return "on the spoilboard under the sheet"
}

// printStandoff prints the block's two tables: the gap left at the fence with the
// block slid home, and the stock that it sets with shims.
func printStandoff(w io.Writer, f *posts.Fixture, units string) {
	fmt.Fprintln(w, "  gap left at the fence with the block slid home:")
	fmt.Fprintf(w, "    %-18s", "cutter out by")
	rows := f.Figures.Standoff
	for _, r := range rows {
		if r.DZ == rows[0].DZ {
			fmt.Fprintf(w, "%9.2f", r.E)
		}
	}
	for i, r := range rows {
		if i == 0 || r.DZ != rows[i-1].DZ {
			fmt.Fprintf(w, "\n    height off %+6.2f ", r.DZ)
		}
		fmt.Fprintf(w, "%9.2f", r.Gap)
	}
	fmt.Fprintln(w)
	if len(f.Figures.Shims) > 0 {
		fmt.Fprint(w, "  with a shim under it and the same at the fence it sets:")
		for _, s := range f.Figures.Shims {
			fmt.Fprintf(w, "  %.1f → %s", s.Thick, inUnits(s.Stock, units))
		}
		fmt.Fprintln(w)
	}
}

// feedIn is a feed per minute in the shop's units, without decimals that nobody
// could set.
func feedIn(mm float64, units string) string {
	if units == "in" {
		return fixed(mm/25.4, 1) + " in"
	}
	return fixed(mm, 0) + " mm"
}
