package main

import (
	"errors"
	"slices"
	"strings"
)

// A wordsFlag is a flag that takes words, repeated or as a comma list. A word
// given twice counts once.
type wordsFlag struct{ items []string }

func (f *wordsFlag) String() string { return strings.Join(f.items, ",") }
func (f *wordsFlag) Type() string   { return "words" }

func (f *wordsFlag) Set(s string) error {
	items, err := splitWords(s)
	if err != nil {
		return err
	}
	for _, item := range items {
		if !slices.Contains(f.items, item) {
			f.items = append(f.items, item)
		}
	}
	return nil
}

// splitWords takes words and comma lists apart: blanks round an item do not count,
// an empty item is refused.
func splitWords(args ...string) ([]string, error) {
	var out []string
	for _, a := range args {
		for _, item := range strings.Split(a, ",") {
			item = strings.TrimSpace(item)
			if item == "" {
				return nil, errors.New("empty item in the list; want words with one comma between two")
			}
			out = append(out, item)
		}
	}
	return out, nil
}
