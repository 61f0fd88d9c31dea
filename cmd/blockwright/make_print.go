package main

import (
	"fmt"
	"io"
	"math"
	"path/filepath"
	"strings"

	"blockwright/jig/shelf"
	"blockwright/posts"
)

// printMade tells of the fixtures made: where they are and what to know of them.
func printMade(w io.Writer, r makeResult, lib *library) error {
	units := lib.shop.Units
	for i, m := range r.Fixtures {
		if i > 0 {
			fmt.Fprintln(w)
		}
		if m.Kept {
			fmt.Fprintf(w, "%s  %s\n", m.ID, m.title)
			fmt.Fprintf(w, "  kept        stands on the shelf as asked for; --force makes it anew\n")
			printOffer(w, m, units)
			printFiles(w, m)
			continue
		}
		f := m.fixture
		if m.Finish != nil {
			printFinish(w, m, units, r.sizes)
			continue
		}
		fmt.Fprintf(w, "%s  %s\n", m.ID, f.Title)
		fmt.Fprintf(w, "  setting     height %s, fence %s\n", known(f.Pass.Height, f.Pass.Cutter.Known[1], units), known(f.Pass.Fence, f.Pass.Cutter.Known[0], units))
		fmt.Fprintf(w, "  sheet       %s, %s thick; parts %s\n", f.Sheet.Name, inUnits(m.Thickness, units), strings.Join(parts(f, units), ", "))
		fmt.Fprintf(w, "  end mill    %s, cuts %s; %.0f rpm, feed %s/min\n", f.Mill.Name, inUnits(m.Mill, units), f.RPM, feedIn(f.Feed, units))
		fmt.Fprintf(w, "  Z zero      %s; about %s\n", zeroWords(m.Zero), posts.ClockTime(m.Seconds))
		fmt.Fprintf(w, "  proved      gouge %s, leftover %s off the tabs\n", tiny(m.Gouge, units), tiny(m.Leftover, units))
		if e := m.ToolError; e != nil {
			fmt.Fprintf(w, "  error left  %s of height, %s of fence for each %s that the mill cuts wider\n",
				tiny(math.Abs(e.Height), units), tiny(math.Abs(e.Fence), units), shortUnits(e.Wider, units))
		}
		if n := m.Nose; n != nil {
			fmt.Fprintf(w, "  nose        at x = %s from the fence face, measured from the %s\n", inUnits(n.X, units), n.From)
			if n.From == "cutter" {
				fmt.Fprintf(w, "              lay it on %s; ±%s of height moves the reading by %s\n", n.Support, shortUnits(0.5, units), tiny(n.Change, units))
			}
		}
		for _, text := range m.warned(units) {
			wrapped(w, "  WARNING     ", text)
		}
		for _, h := range f.Hints {
			fmt.Fprintf(w, "  note        %s\n", h)
		}
		if m.Witness != nil {
			printWitness(w, m, units)
		}
		printOffer(w, m, units)
		printFiles(w, m)
		if f.Figures != nil {
			printStandoff(w, f, units)
		}
	}
	if len(r.Fixtures) > 0 {
		fmt.Fprintf(w, "\n%s\n", cautions)
	}
	return nil
}

// warned is what to know before the fixture is used, empty for most.
func (m madeFixture) warned(units string) []string {
	var out []string
	for _, x := range m.warnings {
		out = append(out, x.Say(func(mm float64) string { return shortUnits(mm, units) }))
	}
	if m.Unread {
		out = append(out, "the fixture.toml that stood there could not be read and is kept as fixture.toml.unread: what was measured, and a correction, are not in the new one")
	}
	return out
}

// printOffer tells of a correction that was measured and not applied.
func printOffer(w io.Writer, m madeFixture, units string) {
	if words := offered(m, units); words != "" {
		fmt.Fprintf(w, "  measured    %s\n", words)
	}
}

// offered is what a recorded test cut asks for and the fixture has not, "" if
// nothing.
func offered(m madeFixture, units string) string {
	if m.Offer == nil {
		return ""
	}
	words := correctionWords(shelf.Correction{Height: m.Offer.Height, Fence: m.Offer.Fence}, units)
	return "the test cut asks for " + words + "; make it with --apply"
}

// correctionWords says what a correction sets.
func correctionWords(c shelf.Correction, units string) string {
	if words := posts.CorrectionWords(c, units); words != "" {
		return words + " than computed"
	}
	return "the computed setting again"
}

// printFiles lists the folder and the files in it.
func printFiles(w io.Writer, m madeFixture) {
	if len(m.Files) == 0 {
		return
	}
	fmt.Fprintf(w, "  files       %s\n", filepath.Dir(m.Files[0]))
	for _, p := range m.Files {
		fmt.Fprintf(w, "    %s\n", filepath.Base(p))
	}
}

// parts are the plates with the sizes that the mill leaves.
func parts(f *posts.Fixture, units string) []string {
	var out []string
	for _, c := range f.Plates {
		b := c.Wall.Bound()
		out = append(out, fmt.Sprintf("%s %s × %s", c.Part, sawn(b.Max[0]-b.Min[0], units), sawn(b.Max[1]-b.Min[1], units)))
	}
	return out
}

// tiny is a length of thousandths of a millimetre.
func tiny(mm float64, units string) string {
	if units == "in" {
		return fixed(mm/25.4, 5) + " in"
	}
	return fixed(mm, 4) + " mm"
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
	length := func(mm float64) string {
		if units == "in" {
			return fixed(mm/25.4, 4)
		}
		return fixed(mm, 2)
	}
	name := "mm"
	if units == "in" {
		name = "inches"
	}
	fmt.Fprintf(w, "  how far the block stays off the fence when it is slid home against the cutter (%s):\n", name)
	fmt.Fprintf(w, "    %-24s", "fence too far back by")
	rows := f.Figures.Standoff
	for _, r := range rows {
		if r.DZ == rows[0].DZ {
			fmt.Fprintf(w, "%9s", length(r.E))
		}
	}
	for i, r := range rows {
		if i == 0 || r.DZ != rows[i-1].DZ {
			text := "cutter at its height"
			switch {
			case r.DZ > 0:
				text = "cutter " + length(r.DZ) + " too high"
			case r.DZ < 0:
				text = "cutter " + length(-r.DZ) + " too low"
			}
			fmt.Fprintf(w, "\n    %-24s", text)
		}
		fmt.Fprintf(w, "%9s", length(r.Gap))
	}
	fmt.Fprintln(w)
	if len(f.Figures.Shims) == 0 {
		return
	}
	fmt.Fprintln(w, "  with a shim under it and another at its fence edge it sets thicker stock:")
	for _, s := range f.Figures.Shims {
		fmt.Fprintf(w, "    shim %-8s stock %s\n", thick(s.Thick, units), thick(s.Stock, units))
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

// known is a height or fence in the shop's units, where the cutter's file gives it.
func known(mm float64, is bool, units string) string {
	if !is {
		return "not known"
	}
	return inUnits(mm, units)
}
