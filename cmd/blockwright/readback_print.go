package main

import (
	"fmt"
	"io"
	"slices"
	"text/tabwriter"

	"blockwright/gcode"
	"blockwright/posts"
)

// print writes findings and figures for people, lengths in the program's units.
func (r *readbackItem) print(w io.Writer) error {
	for _, f := range r.found {
		place := fmt.Sprintf("%s:%d:%d", plain(f.File), f.Line, f.Column)
		if f.Line == 0 { // of the whole program
			place = plain(f.File)
		}
		fmt.Fprintf(w, "%s: %s %s\n", place, f.Code, f.Text)
	}
	if r.Units == "in" && slices.ContainsFunc(r.found, func(f gcode.Finding) bool { return f.Code >= "RS4" }) {
		fmt.Fprintf(w, "%s: lengths in these faults are mm, as the drawing's are\n", plain(r.Program))
	}
	faults := "no faults"
	switch n := len(r.found); {
	case n == 1:
		faults = "1 fault"
	case n > 1:
		faults = fmt.Sprintf("%d faults", n)
	}
	fmt.Fprintf(w, "%s: %s\n", plain(r.Program), faults)
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	line := func(name, text string) { fmt.Fprintf(t, "  %s\t%s\n", name, text) }
	length := func(mm float64) string { return shopLength(mm, r.Units) }
	read := "dialect " + r.Dialect + ", zero at the sheet's top"
	if r.Zero == "table" {
		read = "dialect " + r.Dialect + ", zero at the table"
	}
	if r.Units == "" {
		read += ", units not stated and taken for mm"
	}
	if r.Thickness != nil {
		read += ", sheet " + length(*r.Thickness)
	}
	if r.Mill != nil {
		read += ", mill " + length(*r.Mill)
	}
	line("read as", read)
	if b := r.Bounds; b != nil {
		for k, axis := range []string{"X", "Y", "Z"} {
			line("cutting "+axis, length(b[k])+" to "+length(b[k+3]))
		}
		if feed := r.summary.Feed; r.Units == "in" {
			line("feed", fmt.Sprintf("%s to %s in/min", fixed(feed[0]/25.4, 1), fixed(feed[1]/25.4, 1)))
		} else {
			line("feed", fmt.Sprintf("%.0f to %.0f mm/min", feed[0], feed[1]))
		}
		line("spindle", spindle(r.summary.RPM))
	} else {
		line("cutting", "nothing")
	}
	if r.Gouge != nil {
		line("gouge", tiny(*r.Gouge, r.Units)+" into the wall")
		line("leftover", tiny(*r.Leftover, r.Units)+" on the wall")
		line("tabs", tabs(r.Tabs, r.Units))
	}
	line("way", fmt.Sprintf("%s cutting, %s rapid", length(r.Cut), length(r.Rapid)))
	line("time", posts.ClockTime(r.Seconds)+", a small machine's")
	return t.Flush()
}

func tabs(lengths []float64, units string) string {
	if len(lengths) == 0 {
		return "none"
	}
	least, most := slices.Min(lengths), slices.Max(lengths)
	if units == "in" {
		return fmt.Sprintf("%d, %.3f to %.3f in of wall uncut at each", len(lengths), least/25.4, most/25.4)
	}
	return fmt.Sprintf("%d, %.2f to %.2f mm of wall uncut at each", len(lengths), least, most)
}

func spindle(rpm [2]float64) string {
	switch {
	case rpm[1] == 0:
		return "off"
	case rpm[0] == rpm[1]:
		return fmt.Sprintf("%.0f rpm", rpm[1])
	}
	return fmt.Sprintf("%.0f to %.0f rpm", rpm[0], rpm[1])
}

// shopLength is a length to 0.001 mm or 0.0001 in.
func shopLength(mm float64, units string) string {
	if units == "in" {
		return fixed(mm/25.4, 4) + " in"
	}
	return fixed(mm, 3) + " mm"
}
