package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"blockwright/geom"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
)

// printCutter prints a cutter's view for people.
func printCutter(v *cutterView, c *cutter.Cutter, units string) func(io.Writer) error {
	in := func(mm float64) string { return inUnits(mm, units) }
	brief := func(mm float64) string { return shopLength(mm, units) } // for the columns of the profile
	return func(w io.Writer) error {
		t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
		line := func(what, format string, args ...any) {
			fmt.Fprintf(t, "  "+what+"\t"+format+"\n", args...)
		}
		fmt.Fprintf(t, "%s: %s\n", v.Cutter, v.Name)
		line("joint", "%s", v.Joint)
		line("file", "%s, in %s", plain(v.File), map[string]string{"mm": "millimetres", "in": "inches"}[v.Units])
		if v.Shank != nil {
			line("shank", "%s", in(*v.Shank))
		} else {
			line("shank", "not stated")
		}
		if v.MaxRPM != nil {
			line("speed", "at most %s rpm", shortest(*v.MaxRPM, 0))
		} else {
			line("speed", "not stated; read the marking on the cutter")
		}
		at, _ := c.WidestBetween(math.Inf(-1), math.Inf(1))
		line("greatest radius", "%s, at the height %s", in(at[0]), in(at[1]))
		line("cutting edge", "%s high, from %s to %s", in(v.Edge[1]-v.Edge[0]), in(v.Edge[0]), in(v.Edge[1]))
		if len(c.Body.V) > 0 {
			b, _ := c.Body.MostX(math.Inf(-1), math.Inf(1))
			line("body", "from %s to %s, radius up to %s", in(c.Body.Start()[1]), in(c.Body.End()[1]), in(b[0]))
		}
		if u := unknownShifts(v.Known); u != "" {
			line("known", "%s", u)
		}
		if c.Traced != nil {
			line("traced", "%s", tracedWords(c.Traced, in))
		}
		if v.Centre != nil {
			line("centre", "radius %s, height %s", in(v.Centre[0]), in(v.Centre[1]))
			if *v.Residual < 5e-4 {
				line("", "a half turn about it lays the profile on itself: the two cuts fit each other")
			} else {
				line("", "a half turn about it misses the profile by %s: so far the two cuts miss each other", in(*v.Residual))
			}
		}
		switch {
		case v.Range != nil && v.Range[0] > v.Range[1]:
			line("stock", "none: the lock wants %s, the edge reaches over %s", in(v.Range[0]), in(v.Range[1]))
		case v.Range != nil && v.Usable == nil:
			line("stock", "%s, none of it well", joint.Between(*v.Range).Say(in))
		case v.Range != nil:
			line("stock", "%s", joint.Between(*v.Range).Say(in))
			line("", "better %s", joint.Between(*v.Usable).Say(in))
		case v.Note != "":
			line("stock", "%s", v.Note)
		}
		if err := t.Flush(); err != nil {
			return err
		}
		fmt.Fprintln(w)
		fmt.Fprintln(t, "  RADIUS\tHEIGHT\tEDGE THAT FOLLOWS")
		for i, p := range c.Profile.V {
			edge := ""
			if i < c.Profile.Edges() {
				edge = edgeWords(c.Profile.Edge(i), brief)
			}
			fmt.Fprintf(t, "  %s\t%s\t%s\n", brief(p.X()), brief(p.Y()), edge)
		}
		return t.Flush()
	}
}

// unknownShifts says which shifts of the profile are not known.
func unknownShifts(known [2]bool) string {
	switch known {
	case [2]bool{false, false}:
		return "the profile's shape only: radius and height are off by a shift each"
	case [2]bool{false, true}:
		return "heights; radii are off by a shift"
	case [2]bool{true, false}:
		return "radii; heights are off by a shift"
	}
	return ""
}

// edgeWords describes an edge of a profile, going up.
func edgeWords(e geom.Edge, in func(float64) string) string {
	dr, dh := e.B[0]-e.A[0], e.B[1]-e.A[1]
	way := " outward"
	if dr < 0 {
		way = " inward"
	}
	switch {
	case !e.Straight():
		_, r := e.Arc()
		turn := "bulging outward"
		if e.Bulge < 0 {
			turn = "hollow"
		}
		return fmt.Sprintf("arc of radius %s, %s degrees, %s", in(r), fixed(math.Abs(e.Sweep())*180/math.Pi, 1), turn)
	case dr == 0:
		return "land, " + in(dh) + " high"
	case dh == 0:
		return "shoulder" + way + ", " + in(math.Abs(dr)) + " wide"
	}
	angle := strings.TrimSuffix(fixed(math.Atan2(dh, math.Abs(dr))*180/math.Pi, 1), ".0")
	return "flank" + way + ", rising at " + angle + " degrees"
}
