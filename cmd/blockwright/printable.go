package main

import (
	"strconv"
	"strings"
	"unicode"
)

// plain is a name from outside, a file's or a word's, fit to stand in one line:
// quoted if it holds anything that does not print.
func plain(s string) string {
	if strings.ContainsFunc(s, func(r rune) bool { return !unicode.IsPrint(r) || r == unicode.ReplacementChar }) {
		return strconv.Quote(s)
	}
	return s
}
