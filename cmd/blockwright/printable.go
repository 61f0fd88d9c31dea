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

// onScreen is a message of one or more lines in which a question mark stands for
// every character that does not print, so that no name from outside can steer a
// terminal.
func onScreen(s string) string {
	return strings.Map(func(r rune) rune {
		if r == '\n' || unicode.IsPrint(r) {
			return r
		}
		return '?'
	}, s)
}
