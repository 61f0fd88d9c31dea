package source

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"text/scanner"
)

// Kind is the kind of a value.
type Kind uint8

// The kinds. A Broken value is one that could not be read: its fault has been
// told, and nothing more is to be said about it.
const (
	Broken Kind = iota
	Text
	Integer
	Float
	Boolean
	Date
	Array
	Table
)

var kindNames = [...]string{"", "text", "whole number", "number", "truth value", "date", "list", "table"}

// String is the kind's name in a message.
func (k Kind) String() string { return kindNames[k] }

// A Value is what stands at one key of a file.
type Value struct {
	Pos    scanner.Position // of the value's first character; of the header for a [table]
	KeyPos scanner.Position // of its key; of the value itself inside a list
	Key    string           // dotted; the third item of profile is profile[3]
	Kind   Kind
	Text   string           // a text's content; a number, date or truth value as written
	Items  []Value          // of an Array
	Fields map[string]Value // of a Table

	start, end int   // byte offsets of a value that is written out in one piece
	how        uint8 // how a Table came about
}

// Have describes the value for a message.
func (v Value) Have() string {
	switch v.Kind {
	case Text:
		return quoted(v.Text)
	case Array:
		if len(v.Items) == 0 {
			return "empty list"
		}
		return fmt.Sprintf("list of %d", len(v.Items))
	case Table:
		return "table"
	}
	return printable(v.Text)
}

// Number is the value of a whole or decimal number. It is an error for anything
// else, for inf and nan, and for a number beyond 1e300.
func (v Value) Number() (float64, error) {
	if v.Kind != Integer && v.Kind != Float {
		return 0, fmt.Errorf("%s", v.Have())
	}
	s := strings.ReplaceAll(v.Text, "_", "")
	var f float64
	if v.Kind == Integer {
		n, err := strconv.ParseInt(s, 0, 64)
		if err != nil {
			return 0, fmt.Errorf("%s is too large", printable(v.Text))
		}
		f = float64(n)
	} else {
		var err error
		f, err = strconv.ParseFloat(s, 64)
		if err != nil || math.Abs(f) > 1e300 {
			return 0, fmt.Errorf("%s is no size", printable(v.Text))
		}
		if math.IsNaN(f) {
			return 0, fmt.Errorf("%s is no number", printable(v.Text))
		}
	}
	return f, nil
}

// Length is the value in mm: a number in the given units ("mm" or "in") or a
// text such as "3/4in". See [Length].
func (v Value) Length(units string) (float64, error) {
	switch v.Kind {
	case Text:
		return Length(v.Text, units)
	case Integer, Float:
		f, err := v.Number()
		if err != nil {
			return 0, err
		}
		s := strings.ReplaceAll(v.Text, "_", "")
		if v.Kind == Integer {
			s = strconv.FormatFloat(f, 'f', -1, 64) // also for 0x1F
		}
		return Length(s, units)
	}
	return 0, fmt.Errorf("%s", v.Have())
}
