package main

import (
	"fmt"
	"io"

	"blockwright/posts"
)

// A lineTable prints a line for each fixture, in columns as wide as the longest ID.
type lineTable struct {
	w    io.Writer
	wide int
}

func newLineTable(w io.Writer, requests []posts.Request) *lineTable {
	t := &lineTable{w: w}
	for _, r := range requests {
		t.wide = max(t.wide, len(r.ID()))
	}
	return t
}

func (t *lineTable) print(m madeFixture, lib *library) {
	done := "made"
	if m.Kept {
		done = "kept"
	}
	units := lib.shop.Units
	fmt.Fprintf(t.w, "%-*s  %s  end mill %s, %s", t.wide, m.ID, done, inUnits(m.Mill, units), posts.ClockTime(m.Seconds))
	if words := offered(m, units); words != "" {
		fmt.Fprintf(t.w, "; %s", words)
	}
	for _, text := range m.warned(units) {
		fmt.Fprintf(t.w, "; WARNING: %s", text)
	}
	fmt.Fprintln(t.w)
}

// printSum is the last line of a batch. Not made is whatever was asked for and does
// not stand, be it refused or never come to.
func printSum(w io.Writer, r makeResult, asked int) error {
	kept := 0
	for _, m := range r.Fixtures {
		if m.Kept {
			kept++
		}
	}
	fmt.Fprintf(w, "\n%d of %d fixtures: %d made, %d kept, %d not made\n", len(r.Fixtures), asked, len(r.Fixtures)-kept, kept, asked-len(r.Fixtures))
	if len(r.Fixtures) > 0 {
		fmt.Fprintf(w, "\n%s\n", cautions)
	}
	return nil
}
