package dxf

import (
	"fmt"
	"strings"
)

// A Fault is one thing wrong with a file.
type Fault struct {
	File string
	Line int    // counted from 1; 0 for the whole file
	Text string // what is there; what is wanted
}

func (f Fault) Error() string {
	if f.Line == 0 {
		return fmt.Sprintf("%s: %s", f.File, f.Text)
	}
	return fmt.Sprintf("%s:%d: %s", f.File, f.Line, f.Text)
}

// Faults are all faults found in a file, in its order; at most 20 are kept.
type Faults []Fault

func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

const maxFaults = 20
