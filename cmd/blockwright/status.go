package main

import (
	"errors"
	"io/fs"
	"os"
	"syscall"

	"blockwright/jig/cutter"
	"blockwright/jig/shelf"
)

// Exit statuses. 2 is never used: the Go runtime exits with it after a panic.
const (
	statusDone  = 0
	statusFault = 1 // in the user's file or program, or a wish that cannot be met
	statusUsage = 3 // wrong command line
	statusFile  = 4 // a file, cutter or shop that cannot be read or written
)

// A usageError is a wrong command line. Whatever cobra refuses before a command
// runs becomes one, and so does a flag's value that a command finds wrong.
type usageError struct {
	err  error
	path string // of the command called, whose help is worth a look; may be empty
}

func (e *usageError) Error() string { return e.err.Error() }
func (e *usageError) Unwrap() error { return e.err }

// A fileError is an error of reading or writing that does not say so itself.
type fileError struct{ err error }

func (e *fileError) Error() string { return e.err.Error() }
func (e *fileError) Unwrap() error { return e.err }

// A silent error sets the exit status of a command whose output has said all.
type silent struct{ status int }

func (e *silent) Error() string { return "faults were found" }

// statusOf is the exit status for an error; of several joined errors the highest.
func statusOf(err error) int {
	if err == nil {
		return statusDone
	}
	if several, ok := err.(interface{ Unwrap() []error }); ok {
		worst := statusDone
		for _, e := range several.Unwrap() {
			worst = max(worst, statusOf(e))
		}
		return worst
	}
	var (
		quiet  *silent
		usage  *usageError
		handle *cutter.HandleError
		id     *shelf.IDError
		inWay  *shelf.InTheWayError
		file   *fileError
		path   *fs.PathError
		link   *os.LinkError
		call   *os.SyscallError
		errno  syscall.Errno
	)
	switch {
	case errors.As(err, &quiet):
		return quiet.status
	case errors.As(err, &usage), errors.As(err, &handle), errors.As(err, &id):
		return statusUsage
	case errors.As(err, &file), errors.As(err, &inWay), errors.As(err, &path), errors.As(err, &link), errors.As(err, &call),
		errors.As(err, &errno), errors.Is(err, fs.ErrNotExist), errors.Is(err, fs.ErrPermission):
		return statusFile
	}
	return statusFault
}
