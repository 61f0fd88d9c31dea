package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"blockwright/gcode"
	"blockwright/posts"
)

// A readbackItem is what readback says of one program. Lengths are mm.
type readbackItem struct {
	Program   string        `json:"program"`
	Dialect   string        `json:"dialect"`
	Units     string        `json:"units"` // that the program states: "mm", "in", "mm and in" or "", which is read as mm
	Zero      string        `json:"zero"`
	Thickness *float64      `json:"thickness_mm"`
	Mill      *float64      `json:"mill_mm"`
	Findings  []findingItem `json:"findings"`
	Bounds    *[6]float64   `json:"bounds_mm"` // of the cutting moves; null without any
	Deepest   *float64      `json:"deepest_mm"`
	Cut       float64       `json:"cut_mm"`
	Rapid     float64       `json:"rapid_mm"`
	Seconds   float64       `json:"seconds"`
	Gouge     *float64      `json:"gouge_mm"`
	Leftover  *float64      `json:"leftover_mm"`
	Tabs      []float64     `json:"tabs_mm"` // lengths of uncut wall; null without a drawing

	summary gcode.Summary
	found   []gcode.Finding
}

type findingItem struct {
	Line   int    `json:"line"`
	Column int    `json:"column"`
	Code   string `json:"code"`
	Text   string `json:"text"`
}

// readback reads one program. drawing is the part's, nil without one. An error is
// a usageError for a flag that is wanted, or a fault of the drawing.
func readback(file string, text []byte, f *readbackFlags, units string, drawing []byte) (*readbackItem, error) {
	name := f.dialect.text
	if name == "" {
		name = dialectOf(file)
	}
	d, err := gcode.DialectNamed(name)
	if err != nil {
		return nil, err
	}
	p, found := gcode.Parse(file, text)
	head, _ := gcode.ParseHead(p)
	item := &readbackItem{Program: file, Dialect: name, Zero: "top"}
	if f.zero.text != "" {
		item.Zero = f.zero.text
	} else if head.Zero != "" {
		item.Zero = head.Zero
	}
	item.Thickness = stated(&f.thickness, head.Thickness, units)
	item.Mill = stated(&f.mill, head.Mill, units)
	setup := gcode.Setup{Mill: item.Mill != nil}
	if item.Zero == "table" {
		if item.Thickness == nil {
			return nil, wanted("%s: zero is at the table and the sheet's thickness is not stated; want --thickness", plain(file))
		}
		setup.Top = *item.Thickness
	}
	var ran []gcode.Finding
	var keep func(*gcode.Move)
	b := posts.Readback{Program: p, Dialect: d, Head: head, Top: setup.Top, Drawing: drawing, File: f.against.path}
	if drawing != nil || len(head.Limits) > 0 {
		keep = func(m *gcode.Move) { b.Moves = append(b.Moves, *m) }
	}
	item.summary, ran = p.Check(d, setup, keep)
	if keep != nil {
		more, err := item.hold(b)
		if err != nil {
			return nil, err
		}
		found = append(found, unsaid(more, ran)...)
	}
	found = append(found, ran...)
	skipped, err := item.skipFindings(b, setup, found)
	if err != nil {
		return nil, err
	}
	found = append(found, skipped...)
	item.take(found)
	return item, nil
}

// skipFindings are the faults that only show with the block-delete switch on: of the
// motions, and of the part where there is something to hold them against.
func (r *readbackItem) skipFindings(b posts.Readback, setup gcode.Setup, known []gcode.Finding) ([]gcode.Finding, error) {
	p := b.Program
	any := false
	for i := range p.Blocks {
		any = any || p.Blocks[i].Skip
	}
	if !any {
		return nil, nil
	}
	setup.SkipOff = true
	seen := map[gcode.Finding]bool{}
	for _, f := range known {
		seen[f] = true
	}
	var out []gcode.Finding
	b.Moves = nil
	_, found := p.Check(b.Dialect, setup, func(m *gcode.Move) { b.Moves = append(b.Moves, *m) })
	if b.Drawing != nil || len(b.Head.Limits) > 0 {
		with := *r // the figures stay those of all lines
		more, err := with.hold(b)
		if err != nil {
			return nil, err
		}
		found = append(found, unsaid(more, found)...)
	}
	for _, f := range found {
		if !seen[f] {
			f.Text += " (with the lines left out that start with a slash)"
			out = append(out, f)
		}
	}
	return out, nil
}

// take fills in findings and figures.
func (r *readbackItem) take(found []gcode.Finding) {
	gcode.SortFindings(found)
	r.found = found
	r.Findings = make([]findingItem, len(found))
	for i, f := range found {
		r.Findings[i] = findingItem{f.Line, f.Column, f.Code, f.Text}
	}
	s := &r.summary
	r.Units = s.Units
	r.Cut, r.Rapid, r.Seconds = s.Cut, s.Rapid, s.Seconds
	if s.Cuts > 0 {
		r.Bounds = &[6]float64{s.Lo[0], s.Lo[1], s.Lo[2], s.Hi[0], s.Hi[1], s.Hi[2]}
		deepest := s.Deepest()
		r.Deepest = &deepest
	}
}

// stated is a length of a flag, else of the program's head, else none.
func stated(flag *lengthFlag, head float64, units string) *float64 {
	v := head
	if flag.set {
		v = flag.mm(units)
	}
	if v <= 0 {
		return nil
	}
	return &v
}

// dialectOf is the dialect of a file by its name.
func dialectOf(file string) string {
	if strings.EqualFold(filepath.Ext(file), ".nc") {
		return "grbl"
	}
	return "rs274ngc"
}

// hold holds the program against its drawing and its own limits and fills in the
// figures.
func (r *readbackItem) hold(b posts.Readback) ([]gcode.Finding, error) {
	if r.Mill != nil {
		b.Mill = *r.Mill
	}
	if r.Thickness != nil {
		b.Thick = *r.Thickness
	}
	report, err := posts.HoldReadback(b)
	switch {
	case b.Drawing == nil && (errors.Is(err, posts.ErrNoMill) || errors.Is(err, posts.ErrPen)):
		return nil, nil
	case errors.Is(err, posts.ErrPen):
		return nil, fmt.Errorf("%s: %w", plain(r.Program), err)
	case errors.Is(err, posts.ErrNoMill):
		return nil, wanted("%s: the mill's diameter is not stated; want --mill", plain(r.Program))
	case err != nil:
		return nil, err
	}
	if b.Drawing != nil {
		r.Gouge, r.Leftover = &report.Gouge.Size, &report.Leftover.Size
		r.Tabs = []float64{}
		for _, t := range report.Tabs {
			r.Tabs = append(r.Tabs, t.Size)
		}
	}
	for i := range report.Findings {
		report.Findings[i].File = r.Program
	}
	return report.Findings, nil
}

// unsaid are the findings of the proof but for those that say what has been said
// of the same line.
func unsaid(more, said []gcode.Finding) []gcode.Finding {
	type place struct {
		line int
		code string
	}
	have := map[place]bool{}
	for _, f := range said {
		have[place{f.Line, f.Code}] = true
	}
	var out []gcode.Finding
	for _, f := range more {
		if !have[place{f.Line, f.Code}] {
			out = append(out, f)
		}
	}
	return out
}

// wanted is the wrong command line that lacks a flag.
func wanted(format string, args ...any) error {
	return &usageError{err: fmt.Errorf(format, args...)}
}
