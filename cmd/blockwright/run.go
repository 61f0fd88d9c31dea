package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"github.com/spf13/cobra"
)

// run is the whole program: arguments without the program's name, its streams and
// environment in, the exit status out.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer, env func(string) string) (status int) {
	defer func() {
		if p := recover(); p != nil {
			fmt.Fprintf(stderr, "blockwright: a defect of this program, please report it: %v\n%s", p, debug.Stack())
			status = statusFault
		}
	}()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()

	s := &streams{in: stdin, out: &keeper{w: stdout}, err: stderr, env: env}
	root := newRootCmd(s)
	mark(root)
	root.SetArgs(append([]string{}, args...)) // never nil: cobra would take os.Args
	root.SetIn(stdin)
	root.SetOut(s.out)
	root.SetErr(stderr)
	called, err := root.ExecuteContextC(ctx)

	asJSON := s.json
	var failed *failure
	if err != nil && !errors.As(err, &failed) {
		// cobra refused before any command ran.
		asJSON = asJSON || hasJSON(args)
		err = &usageError{reword(err, called), called.CommandPath()}
	} else if err != nil {
		err = failed.err
	}
	if err == nil && s.out.err != nil {
		err = &fileError{fmt.Errorf("standard output: %w", s.out.err)}
	}
	var quiet *silent
	if err != nil && !errors.As(err, &quiet) {
		report(stderr, err, asJSON)
	}
	return statusOf(err)
}

// A failure is an error of a command that ran.
type failure struct{ err error }

func (f *failure) Error() string { return f.err.Error() }

// mark makes every command's own errors failures, so that all other errors are
// known to be of the command line.
func mark(cmd *cobra.Command) {
	if inner := cmd.RunE; inner != nil {
		cmd.RunE = func(c *cobra.Command, args []string) error {
			if err := inner(c, args); err != nil {
				return &failure{err}
			}
			return nil
		}
	}
	for _, c := range cmd.Commands() {
		mark(c)
	}
}

// hasJSON tells whether the arguments ask for JSON, for a command line that could
// not be read to its end.
func hasJSON(args []string) bool {
	for _, a := range args {
		switch a {
		case "--":
			return false
		case "--json", "--json=true":
			return true
		}
	}
	return false
}
