package outside

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// python is Debian's own interpreter, which sees Debian's ezdxf and shapely.
const python = "/usr/bin/python3"

// Python runs a script with stdin and arguments and returns what it wrote to
// stdout. A script is the name of a file in testdata/outside ("audit.py") or a
// path with a slash in it. A status other than 0 fails the test with the script's
// stderr.
func Python(t testing.TB, script string, stdin []byte, args ...string) []byte {
	t.Helper()
	if _, err := os.Stat(python); err != nil {
		t.Fatalf("the checker %s is missing: install Debian's python3 (%v)", python, err)
	}
	if !strings.ContainsRune(script, '/') {
		script = filepath.Join(Testdata(t), "outside", script)
	}
	if _, err := os.Stat(script); err != nil {
		t.Fatalf("the checker's script is missing: %v", err)
	}
	cmd := exec.Command(python, append([]string{script}, args...)...)
	cmd.Stdin = bytes.NewReader(stdin)
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	if err := cmd.Run(); err != nil {
		t.Fatalf("%s: %v\n%s", filepath.Base(script), err, errs.String())
	}
	return out.Bytes()
}
