package main

import (
	"fmt"

	"blockwright/jig/source"
)

// A lengthFlag is a flag that takes a length. What a bare number means is known
// only once the shop has been read: ask with mm.
type lengthFlag struct {
	text string
	sign signs
	set  bool
}

// signs are the signs a length may have.
type signs uint8

const (
	anySign signs = iota
	notNegative
	positive
)

func (l *lengthFlag) String() string { return l.text }
func (l *lengthFlag) Type() string   { return "length" }

func (l *lengthFlag) Set(s string) error {
	if err := l.sign.check(s); err != nil {
		return err
	}
	l.text, l.set = s, true
	return nil
}

// mm is the length in mm, bare numbers being in units.
func (l *lengthFlag) mm(units string) float64 {
	v, err := source.Length(l.text, units)
	if err != nil {
		return 0 // Set has refused it
	}
	return v
}

// check reads a length for its form and sign, which no unit changes.
func (g signs) check(s string) error {
	v, err := source.Length(s, "mm")
	switch {
	case err != nil:
		return fmt.Errorf("%w; want 19, 19mm, 0.75in or 3/4in", err)
	case g == positive && v <= 0:
		return fmt.Errorf("length %q; want more than 0", s)
	case g == notNegative && v < 0:
		return fmt.Errorf("length %q; want 0 or more", s)
	}
	return nil
}

// A lengthsFlag is a flag that takes lengths, repeated or as a comma list.
type lengthsFlag struct {
	words wordsFlag
	sign  signs
}

func (l *lengthsFlag) String() string { return l.words.String() }
func (l *lengthsFlag) Type() string   { return "lengths" }

func (l *lengthsFlag) Set(s string) error {
	items, err := splitWords(s)
	if err != nil {
		return err
	}
	for _, item := range items {
		if err := l.sign.check(item); err != nil {
			if v, bad := source.Length(item, "mm"); bad == nil && v == 0 && len(items) > 1 {
				return fmt.Errorf("%w, and a decimal point, not a comma", err) // 0,75
			}
			return err
		}
	}
	return l.words.Set(s)
}

// mm are the lengths in mm, bare numbers being in units.
func (l *lengthsFlag) mm(units string) []float64 {
	out := make([]float64, len(l.words.items))
	for i, item := range l.words.items {
		out[i] = (&lengthFlag{text: item}).mm(units)
	}
	return out
}
