package main

import (
	"fmt"
	"strconv"
)

// A countFlag is a flag that takes a whole number between two limits.
type countFlag struct{ n, low, high int }

func (c *countFlag) String() string {
	if c.n < c.low || c.n == 0 && c.low == 0 {
		return "" // nothing to show as a default
	}
	return strconv.Itoa(c.n)
}

func (c *countFlag) Type() string { return "number" }

func (c *countFlag) Set(s string) error {
	n, err := strconv.Atoi(s)
	if err != nil || n < c.low || n > c.high {
		return fmt.Errorf("%q; want a whole number from %d to %d", s, c.low, c.high)
	}
	c.n = n
	return nil
}
