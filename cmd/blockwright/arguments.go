package main

import (
	"fmt"

	"github.com/spf13/cobra"
)

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
