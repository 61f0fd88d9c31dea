package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
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
		Setup: func(e *testscript.Env) error { // $SCANS is the folder of the scans to be traced
			dir, err := filepath.Abs("../../testdata/scans")
			e.Setenv("SCANS", dir)
			return err
		},
		UpdateScripts: os.Getenv("UPDATE_SCRIPTS") != "",
		Cmds:          map[string]func(*testscript.TestScript, bool, []string){"exits": exits, "replace": replace},
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

// replace rewrites what a pattern matches in a file, which must be something:
//
//	replace 'pin +=.*' 'pin = 8' shop.toml
func replace(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: replace PATTERN TEXT FILE")
	}
	re, err := regexp.Compile(args[0])
	ts.Check(err)
	text := ts.ReadFile(args[2])
	if !re.MatchString(text) {
		ts.Fatalf("%s: nothing matches %q", args[2], args[0])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[2]), []byte(re.ReplaceAllLiteralString(text, args[1])), 0o644))
}
