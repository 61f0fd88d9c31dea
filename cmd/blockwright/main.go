package main

import (
	"os"
	"runtime/debug"
)

func main() {
	// A run is short and uses little memory: collect it seldom. A batch takes a tenth
	// less time so.
	debug.SetGCPercent(400)
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr, os.Getenv))
}
