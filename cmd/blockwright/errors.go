package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"

	"blockwright/jig/source"
)

// An errorDocument is an error as JSON.
type errorDocument struct {
	Error  string      `json:"error"`
	Status int         `json:"status"`
	Faults []faultItem `json:"faults,omitempty"`
}

type faultItem struct {
	File   string `json:"file"`
	Line   int    `json:"line"`
	Column int    `json:"column"`
	Key    string `json:"key"`
	Have   string `json:"have"`
	Want   string `json:"want"`
}

// report prints an error: a line for each fault, or one JSON document.
func report(w io.Writer, err error, asJSON bool) {
	if asJSON {
		// Standard error has nobody left to tell of its own failure.
		_ = writeJSON(w, errorDocument{summary(err), statusOf(err), faultItems(err)})
		return
	}
	for _, e := range apart(err) {
		var faults source.Faults
		if errors.As(e, &faults) {
			fmt.Fprintln(w, faults.Error())
			continue
		}
		fmt.Fprintln(w, onScreen("blockwright: "+said(e)))
		var usage *usageError
		if errors.As(e, &usage) && usage.path != "" {
			fmt.Fprintf(w, "Run '%s --help' for how it is used.\n", usage.path)
		}
	}
}

// summary is an error in one line: the first of several, and how many more.
func summary(err error) string {
	first, _, several := strings.Cut(said(err), "\n")
	if n := len(faultItems(err)); several && n > 1 {
		return fmt.Sprintf("%s (and %d more)", first, n-1)
	}
	return said(err)
}

// said is an error as it is printed. A file that cannot be used is named by its path
// alone: which call of the system failed tells a user nothing.
func said(err error) string {
	text := err.Error()
	var p *fs.PathError
	if errors.As(err, &p) {
		text = strings.ReplaceAll(text, p.Error(), p.Path+": "+p.Err.Error())
	}
	return strings.TrimSpace(text)
}

// apart takes joined errors apart.
func apart(err error) []error {
	if several, ok := err.(interface{ Unwrap() []error }); ok {
		var all []error
		for _, e := range several.Unwrap() {
			all = append(all, apart(e)...)
		}
		return all
	}
	return []error{err}
}

func faultItems(err error) []faultItem {
	var items []faultItem
	for _, e := range apart(err) {
		var faults source.Faults
		errors.As(e, &faults)
		for _, f := range faults {
			items = append(items, faultItem{f.Pos.Filename, f.Pos.Line, f.Pos.Column, f.Key, f.Have, f.Want})
		}
	}
	return items
}
