package outside

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// Interpreter finds the RS-274 interpreter: the path in $RS274, else the program
// rs274 on the PATH. lib is the folder of its shared libraries: $RS274_LIB, else
// ../lib beside the binary where there is one, else "".
func Interpreter(t testing.TB) (bin, lib string) {
	t.Helper()
	bin = os.Getenv("RS274")
	if bin == "" {
		found, err := exec.LookPath("rs274")
		if err != nil {
			t.Fatalf("the RS-274 interpreter is missing: set RS274 to the path of the program rs274 of Debian's linuxcnc-uspace, or put it on the PATH (%v)", err)
		}
		bin = found
	}
	if info, err := os.Stat(bin); err != nil || info.IsDir() {
		t.Fatalf("RS274 is %q: no such program; want the path of the program rs274 of Debian's linuxcnc-uspace", bin)
	}
	lib = os.Getenv("RS274_LIB")
	if lib == "" {
		beside := filepath.Join(filepath.Dir(bin), "..", "lib")
		if info, err := os.Stat(beside); err == nil && info.IsDir() {
			lib = beside
		}
	}
	return bin, lib
}

// Testdata is the project's folder testdata, found by walking up from the folder
// of the running test to the one with go.mod.
func Testdata(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return filepath.Join(dir, "testdata")
		}
		up := filepath.Dir(dir)
		if up == dir {
			t.Fatal("no go.mod above the test's folder")
		}
		dir = up
	}
}
