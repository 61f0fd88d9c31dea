package gcode

import (
	"fmt"
	"strconv"
	"strings"
)

// A Head is what a program of ours states in its first comment, so that it can be
// read back without its shop:
//
//	(units mm, zero table, sheet 6.02 mm, mill 3.175 mm, for milling)
//	(limits through 0.3, safe 5, ramp 3)
//
// The limits are what the program was made to keep, so that it can be held to
// them again; always in mm, mm/min, degrees, s and rpm. Other comments of the
// head are free text.
type Head struct {
	Inch      bool    // words and the head's own lengths are in inches
	Zero      string  // "table" or "top": where Z0 lies
	Thickness float64 // mm, of the sheet; 0 = not stated
	Mill      float64 // mm, the diameter that it cuts; 0 = not stated
	For       string  // one word: what the program does; "" = not stated
	Limits    []Limit
	Lines     []string
}

// A Limit is a figure that the program keeps to. Its name is one word.
type Limit struct {
	Name  string
	Value float64
}

// limitsMark starts a comment line of limits.
const limitsMark = "limits "

// Comment is the head's lines for [Listing.Head], the machine-readable one first.
func (h Head) Comment() []string {
	units := "mm"
	if h.Inch {
		units = "in"
	}
	items := []string{"units " + units}
	if h.Zero != "" {
		items = append(items, "zero "+h.Zero)
	}
	length := func(name string, mm float64) {
		if mm <= 0 {
			return
		}
		v, decimals := mm, 6
		if h.Inch {
			v, decimals = mm/25.4, 7
		}
		items = append(items, fmt.Sprintf("%s %s %s", name, Number(v, decimals), units))
	}
	length("sheet", h.Thickness)
	length("mill", h.Mill)
	if h.For != "" {
		items = append(items, "for "+h.For)
	}
	return append(append([]string{strings.Join(items, ", ")}, h.limitLines()...), h.Lines...)
}

// limitLines are the limits in lines that need no breaking.
func (h Head) limitLines() []string {
	var out []string
	for _, l := range h.Limits {
		item := l.Name + " " + Number(l.Value, 6)
		if n := len(out); n > 0 && len(out[n-1])+2+len(item) <= commentWidth {
			out[n-1] += ", " + item
			continue
		}
		out = append(out, limitsMark+item)
	}
	return out
}

// ParseHead finds the statement of [Head.Comment] among the comments before the
// program's first words. ok is false if there is none; items that cannot be read
// are taken as not stated.
func ParseHead(p *Program) (h Head, ok bool) {
	end := len(p.Text)
	if len(p.Blocks) > 0 {
		end = int(p.Blocks[0].Off)
	}
	for _, line := range strings.Split(string(p.Text[:min(end, 1<<16)]), "\n") {
		line = strings.TrimSpace(line)
		if len(line) < 2 || line[0] != '(' || line[len(line)-1] != ')' {
			continue
		}
		line = line[1 : len(line)-1]
		if limits, are := strings.CutPrefix(line, limitsMark); ok && are {
			h.Limits = append(h.Limits, readLimits(limits)...)
			continue
		}
		if ok {
			h.Lines = append(h.Lines, line)
			continue
		}
		h, ok = readHead(line)
	}
	return h, ok
}

func readHead(line string) (h Head, ok bool) {
	for i, item := range strings.Split(line, ",") {
		f := strings.Fields(item)
		if i == 0 && (len(f) != 2 || f[0] != "units" || f[1] != "mm" && f[1] != "in") {
			return Head{}, false
		}
		if len(f) < 2 {
			continue
		}
		switch f[0] {
		case "units":
			h.Inch = f[1] == "in"
		case "for":
			h.For = f[1]
		case "zero":
			if f[1] == "table" || f[1] == "top" {
				h.Zero = f[1]
			}
		case "sheet", "mill":
			v, err := strconv.ParseFloat(f[1], 64)
			if err != nil || !(v > 0 && v <= MostLength) || len(f) < 3 {
				continue
			}
			if f[2] == "in" {
				v *= 25.4
			}
			if f[0] == "sheet" {
				h.Thickness = v
			} else {
				h.Mill = v
			}
		}
	}
	return h, true
}

func readLimits(text string) []Limit {
	var out []Limit
	for _, item := range strings.Split(text, ",") {
		f := strings.Fields(item)
		if len(f) != 2 {
			continue
		}
		if v, err := strconv.ParseFloat(f[1], 64); err == nil && finite(v) {
			out = append(out, Limit{f[0], v})
		}
	}
	return out
}
