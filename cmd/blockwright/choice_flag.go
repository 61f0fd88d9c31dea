package main

import (
	"errors"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

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

// atMost allows up to n arguments, atLeast n or more, exactly just n; what names
// one of them. An empty argument is none.
func atMost(n int, what string) cobra.PositionalArgs  { return arguments(0, n, what) }
func atLeast(n int, what string) cobra.PositionalArgs { return arguments(n, 1<<30, what) }
func exactly(n int, what string) cobra.PositionalArgs { return arguments(n, n, what) }

func arguments(low, high int, what string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		for _, a := range args {
			if a == "" {
				return fmt.Errorf("empty argument; want a %s", what)
			}
		}
		switch {
		case len(args) < low && low == high:
			return fmt.Errorf("%s missing: %d given; want %d", what, len(args), low)
		case len(args) < low:
			return fmt.Errorf("%s missing: %d given; want at least %d", what, len(args), low)
		case len(args) > high:
			return fmt.Errorf("unexpected argument %q; want at most %d %s", args[high], high, what)
		}
		return nil
	}
}
