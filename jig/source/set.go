package source

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
)

// Set replaces the value at a key and keeps every other byte: comments, order,
// blanks and line ends. The key is written as in a fault, "table.pin" or
// "mill[2].diameter"; the value is TOML text, 12.5 or "3/4in" with its quotes.
// It fails if text is no TOML, if there is no such key, if the key is a [table],
// or if value is not exactly one value.
func Set(text []byte, key, value string) ([]byte, error) {
	r := read("", text)
	if faults := append(r.faults, r.late...); len(faults) > 0 {
		return nil, faults.sorted()
	}
	if strings.ContainsAny(value, "\r\n") {
		return nil, fmt.Errorf("source: value %s; want it on one line", quoted(value))
	}
	probe := read("value", []byte("v = "+value+"\n"))
	if len(probe.faults)+len(probe.late) > 0 || len(probe.root) != 1 || probe.root["v"].end != len("v = "+value) {
		return nil, fmt.Errorf("source: value %s; want one TOML value", quoted(value))
	}
	v, ok := find(Value{Kind: Table, Fields: r.root}, key)
	if !ok || key == "" {
		return nil, fmt.Errorf("source: no key %s", quoted(key))
	}
	if v.end == 0 {
		return nil, fmt.Errorf("source: %s is a whole table; want one of its keys", printable(key))
	}
	shift := len(text) - len(r.text) // the byte order mark
	return slices.Concat(text[:shift+v.start], []byte(value), bytes.Clone(text[shift+v.end:])), nil
}

// find is the value whose dotted key is key.
func find(v Value, key string) (Value, bool) {
	if v.Key == key {
		return v, true
	}
	if v.Key != "" && !strings.HasPrefix(key, v.Key) {
		return Value{}, false
	}
	for _, f := range v.Fields {
		if f, ok := find(f, key); ok {
			return f, true
		}
	}
	for _, f := range v.Items {
		if f, ok := find(f, key); ok {
			return f, true
		}
	}
	return Value{}, false
}
