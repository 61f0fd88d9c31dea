package main

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"

	"blockwright/jig/source"
)

// A choiceFlag is a flag that takes one of some words.
type choiceFlag struct {
	words []string
	text  string
}

func (c *choiceFlag) String() string { return c.text }
func (c *choiceFlag) Type() string   { return "word" }

func (c *choiceFlag) Set(s string) error {
	if !slices.Contains(c.words, s) {
		return fmt.Errorf("%q; want %s", s, source.Choice(c.words))
	}
	c.text = s
	return nil
}

// A nameFlag is a flag that takes a name and is not empty.
type nameFlag struct{ text string }

func (n *nameFlag) String() string { return n.text }
func (n *nameFlag) Type() string   { return "name" }

func (n *nameFlag) Set(s string) error {
	if s == "" {
		return errors.New("empty; want a name")
	}
	n.text = s
	return nil
}

// A positiveFlag is a flag that takes a number above 0.
type positiveFlag float64

func (p *positiveFlag) String() string { return strconv.FormatFloat(float64(*p), 'g', -1, 64) }
func (p *positiveFlag) Type() string   { return "number" }

func (p *positiveFlag) Set(s string) error {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || !(v > 0) || math.IsInf(v, 0) {
		return fmt.Errorf("%q; want a number above 0", s)
	}
	*p = positiveFlag(v)
	return nil
}
