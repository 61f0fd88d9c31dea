package outside

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// Node runs a script of testdata/outside/npm with stdin and arguments and returns
// what it wrote to stdout. Its packages are installed by npm ci in that folder.
func Node(t testing.TB, script string, stdin []byte, args ...string) []byte {
	t.Helper()
	dir := filepath.Join(Testdata(t), "outside", "npm")
	if _, err := os.Stat(filepath.Join(dir, "node_modules")); err != nil {
		t.Fatalf("the npm readers are missing: run npm ci in testdata/outside/npm (%v)", err)
	}
	cmd := exec.Command("node", append([]string{filepath.Join(dir, script)}, args...)...)
	cmd.Stdin = bytes.NewReader(stdin)
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	if err := cmd.Run(); err != nil {
		t.Fatalf("%s: %v\n%s", script, err, errs.String())
	}
	return out.Bytes()
}
