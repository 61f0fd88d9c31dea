package main

import (
	"errors"
	"os"
	"os/exec"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// The scripts in testdata run the program as a process of its own, the test
// binary under the program's name.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"blockwright": main})
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       os.Getenv("UPDATE_SCRIPTS") != "",
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
	})
}

// exits runs a program and holds its exit status against the one given:
//
//	exits 3 blockwright cutter rubbish
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits STATUS PROGRAM [ARGUMENT...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	have := 0
	var exit *exec.ExitError
	switch {
	case errors.As(err, &exit):
		have = exit.ExitCode()
	case err != nil:
		ts.Fatalf("%v", err)
	}
	if have != want {
		ts.Fatalf("exit status %d; want %d", have, want)
	}
}
