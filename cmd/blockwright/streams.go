package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"io"

	"blockwright/jig/shop"
)

// streams are what a command meets of the world, and the flags all commands have.
type streams struct {
	in  io.Reader
	out *keeper // results only
	err io.Writer
	env func(string) string

	json bool       // --json: one document on out, errors as JSON on err
	dir  folderFlag // --shop
}

// A keeper is a writer that keeps its first error, so that prints need no check.
type keeper struct {
	w   io.Writer
	err error
}

func (k *keeper) Write(b []byte) (int, error) {
	if k.err == nil {
		_, k.err = k.w.Write(b)
	}
	return len(b), nil
}

// shop finds and reads the shop.
func (s *streams) shop() (*shop.Shop, error) {
	dir, err := shop.Find("", s.dir.path, s.env(shop.Variable))
	if err != nil {
		return nil, err
	}
	return shop.Load(dir)
}

// result prints a command's result: v as one JSON document with --json, else what
// text writes.
func (s *streams) result(v any, text func(io.Writer) error) error {
	if s.json {
		return writeJSON(s.out, v)
	}
	b := bufio.NewWriter(s.out) // a table comes in pieces, a system call each
	err := text(b)
	return errors.Join(err, b.Flush())
}

func writeJSON(w io.Writer, v any) error {
	var text bytes.Buffer
	e := json.NewEncoder(&text)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return err
	}
	_, err := w.Write(roundNumbers(text.Bytes()))
	return err
}

// A folderFlag is a flag that names a folder or file and is not empty.
type folderFlag struct{ path string }

func (f *folderFlag) String() string { return f.path }
func (f *folderFlag) Type() string   { return "path" }
func (f *folderFlag) Set(s string) error {
	if s == "" {
		return errors.New("empty; want a path")
	}
	f.path = s
	return nil
}
