package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"blockwright/jig/cutter"
)

// An asker asks for sizes. Questions go to standard error, so that the result stands
// alone on standard output.
type asker struct {
	s     *streams
	in    *bufio.Scanner
	units string // of plain numbers
}

func newAsker(s *streams, units string) *asker {
	return &asker{s, bufio.NewScanner(io.LimitReader(s.in, 1<<16)), units}
}

// missing asks for the sizes that the family has and have does not.
func (a *asker) missing(f *cutter.Family, have map[string]float64) error {
	fmt.Fprintf(a.s.err, "%s\n\nA number is in %s; 12.7mm, 0.5in and 1/2in are read too.\n", f.Drawing, map[string]string{"mm": "mm", "in": "inches"}[a.units])
	for _, size := range f.Sizes {
		if _, given := have[size.Name]; given {
			continue
		}
		usual := ""
		if size.Usual >= 1e-6 {
			usual = fmt.Sprintf("%g", size.Usual)
		}
		v, kept, ok := a.size(size, usual, size.Usual > 0)
		switch {
		case !ok:
			return errors.Join(a.in.Err(), &usageError{fmt.Errorf("the answers end before --%s", size.Name), "blockwright cutter new"})
		case !kept:
			have[size.Name] = v
		}
	}
	return nil
}

// again says which sizes contradict each other and asks for these once more; an empty
// answer keeps what was given. It is false if there are no more answers, or all were kept.
func (a *asker) again(f *cutter.Family, have map[string]float64, why *cutter.Contradiction) bool {
	fmt.Fprintf(a.s.err, "\n%v\nReturn keeps a size as it is.\n", why)
	changed := false
	for _, size := range f.Sizes {
		old, given := have[size.Name]
		if !slices.Contains(why.From, size.Name) || !given {
			continue
		}
		usual := inUnits(old, a.units)
		if size.Plain {
			usual = fmt.Sprintf("%g", old)
		}
		v, kept, ok := a.size(size, usual, true)
		if !ok {
			return false
		}
		if !kept && v != old {
			have[size.Name], changed = v, true
		}
	}
	return changed
}

// size asks for one size until the answer is one. An empty answer keeps the usual one if
// there is any.
func (a *asker) size(size cutter.Size, usual string, keeps bool) (v float64, kept, ok bool) {
	if usual != "" {
		usual = " [" + usual + "]"
	}
	for {
		fmt.Fprintf(a.s.err, "%s  %s%s: ", size.Letter, size.Says, usual)
		if !a.in.Scan() {
			fmt.Fprintln(a.s.err)
			return 0, false, false
		}
		text := strings.TrimSpace(a.in.Text())
		if text == "" && keeps {
			return 0, true, true
		}
		v, err := sizeOf(text, size, a.units)
		if err == nil {
			return v, false, true
		}
		fmt.Fprintf(a.s.err, "   %v\n", err)
	}
}

func sizeOf(text string, size cutter.Size, units string) (float64, error) {
	if size.Plain {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || !(v > 0 && v < 1000) {
			return 0, fmt.Errorf("%.40q; want a number above 0", text)
		}
		return v, nil
	}
	if err := positive.check(text); err != nil {
		return 0, err
	}
	return (&lengthFlag{text: text}).mm(units), nil
}
