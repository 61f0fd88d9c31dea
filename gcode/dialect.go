package gcode

import (
	"fmt"
	"sort"
	"strings"
)

// A Dialect is what one family of controllers reads. The reader judges by it and
// the printer keeps to it.
type Dialect struct {
	Name     string
	LineMax  int     // characters a line may hold
	Digits   int     // digits a number may have; 0 = no limit
	Decimals int     // that Print writes, in mm; one more in inches
	ArcAbs   float64 // mm: by how much the radii of an arc may always differ, millimetre programs
	ArcInch  float64 // mm: the same in inch programs
	ArcRel   float64 // fraction of the radius that is allowed beyond, up to ArcMost
	ArcMost  float64 // mm

	Codes map[string]bool // "G0", "G61.1", "M3"

	Counted   bool // LineMax counts neither blanks nor comments
	Percent   bool // "%" lines are known
	Semicolon bool // ";" starts a comment
	RealTime  bool // the bytes ? ! ~ act at once and must not occur
	UnitsLast bool // F has the units in force before the line's own G20 or G21 (N table 8)
	Motion    int  // ten times the motion code in force at the start: 0 for G0, 800 for G80
}

// RS274NGC is NIST RS274/NGC version 3 and nothing beyond it: NISTIR 6556,
// tables 5 and 7 for the codes, 3.3 for the line, 3.5.3.2 for the arcs.
func RS274NGC() *Dialect {
	return &Dialect{
		Name: "rs274ngc", LineMax: 256, Decimals: 4,
		ArcAbs: 0.002, ArcInch: 0.0002 * 25.4,
		Codes: codes("G0 G1 G2 G3 G4 G10 G17 G18 G19 G20 G21 G28 G30 G38.2 G40 G41 G42 G43 G49 G53" +
			" G54 G55 G56 G57 G58 G59 G59.1 G59.2 G59.3 G61 G61.1 G64 G80 G81 G82 G83 G84 G85 G86 G87 G88 G89" +
			" G90 G91 G92 G92.1 G92.2 G92.3 G93 G94 G98 G99" +
			" M0 M1 M2 M3 M4 M5 M6 M7 M8 M9 M30 M48 M49 M60"),
		Percent: true, UnitsLast: true, Motion: 800,
	}
}

// Grbl is the documented subset of that open firmware, version 1.1: its list of
// supported codes, 79 significant characters a line, 8 digits a number, and its
// rule for arcs (0.005 mm, or else 0.1 % of the radius up to 0.5 mm).
func Grbl() *Dialect {
	return &Dialect{
		Name: "grbl", LineMax: 79, Digits: 8, Decimals: 4,
		ArcAbs: 0.005, ArcInch: 0.005, ArcRel: 0.001, ArcMost: 0.5,
		Codes: codes("G0 G1 G2 G3 G4 G10 G17 G18 G19 G20 G21 G28 G28.1 G30 G30.1 G38.2 G38.3 G38.4 G38.5 G40 G43.1 G49 G53" +
			" G54 G55 G56 G57 G58 G59 G61 G80 G90 G91 G91.1 G92 G92.1 G93 G94" +
			" M0 M1 M2 M3 M4 M5 M8 M9 M30"),
		Counted: true, Semicolon: true, RealTime: true,
	}
}

// Dialects lists the dialects by name.
func Dialects() []string { return []string{"grbl", "rs274ngc"} }

// DialectNamed gives the dialect of that name.
func DialectNamed(name string) (*Dialect, error) {
	switch name {
	case "rs274ngc":
		return RS274NGC(), nil
	case "grbl":
		return Grbl(), nil
	}
	return nil, fmt.Errorf("dialect %q is not known; want one of %s", name, strings.Join(Dialects(), ", "))
}

// codes makes the set of the codes in a list.
func codes(list string) map[string]bool {
	set := map[string]bool{}
	for _, c := range strings.Fields(list) {
		set[c] = true
	}
	return set
}

// List is the dialect's codes in order, for people.
func (d *Dialect) List() []string {
	out := make([]string, 0, len(d.Codes))
	for c := range d.Codes {
		out = append(out, c)
	}
	key := func(s string) string { // G2 before G10
		whole, part, _ := strings.Cut(s[1:], ".")
		return fmt.Sprintf("%c%5s.%s", s[0], whole, part)
	}
	sort.Slice(out, func(i, j int) bool { return key(out[i]) < key(out[j]) })
	return out
}

// arcSlack is by how much in mm the radii of an arc of radius r may differ.
func (d *Dialect) arcSlack(r float64, inch bool) float64 {
	slack := d.ArcAbs
	if inch {
		slack = d.ArcInch
	}
	if rel := min(d.ArcRel*r, d.ArcMost); rel > slack {
		slack = rel
	}
	return slack
}

// table is the dialect's codes by ten times their number, for G and M.
func (d *Dialect) table() (g, m [1000]bool) {
	for c := range d.Codes {
		if len(c) < 2 {
			continue
		}
		whole, part, _ := strings.Cut(c[1:], ".")
		n := 0
		for _, r := range whole {
			n = n*10 + int(r-'0')
		}
		n *= 10
		if part != "" {
			n += int(part[0] - '0')
		}
		if n < 0 || n >= 1000 {
			continue
		}
		if c[0] == 'G' {
			g[n] = true
		} else {
			m[n] = true
		}
	}
	return g, m
}
