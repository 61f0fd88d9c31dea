package outside

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// Options of one run of the RS-274 interpreter; the zero value is the strict one.
type Options struct {
	// RadiusTolerance is by how much the radii of an arc may differ, in mm; 0
	// means 0.001.
	RadiusTolerance string
	// Tool is the tool table; empty means one mill, T1, of 3.175 mm.
	Tool string
}

// RS274 runs a program through the interpreter and returns the moves it made. The
// text is empty if the interpreter accepted the program, else its reason; the
// moves made before it refused are returned too.
//
// Each run has a home folder of its own: runs that share one disturb each other.
// The interpreter is laxer than NISTIR 6556: it does not notice a spindle that is
// off, S0, bytes above 0x7F in comments, a missing program end, small mismatches
// of radii, or rapids through material. It refuses lines over 252 characters.
func RS274(t testing.TB, program []byte, o Options) (Canon, string) {
	t.Helper()
	bin, lib := Interpreter(t)
	dir, err := os.MkdirTemp("", "rs274-")
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(dir)
	if o.RadiusTolerance == "" {
		o.RadiusTolerance = "0.001"
	}
	if o.Tool == "" {
		o.Tool = "T1 P1 D3.175 Z0 ;mill\n"
	}
	out := filepath.Join(dir, "out.canon")
	for name, text := range map[string]string{
		"strict.ini":  "[RS274NGC]\nCENTER_ARC_RADIUS_TOLERANCE_MM = " + o.RadiusTolerance + "\n",
		"tool.tbl":    o.Tool,
		"program.ngc": string(program),
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command(bin, "-i", "strict.ini", "-t", "tool.tbl", "-g", "program.ngc", out)
	cmd.Dir = dir
	cmd.Env = []string{"HOME=" + dir, "PATH=/usr/bin:/bin", "LC_ALL=C"}
	if lib != "" {
		cmd.Env = append(cmd.Env, "LD_LIBRARY_PATH="+lib)
	}
	var errs bytes.Buffer
	cmd.Stderr = &errs
	runErr := cmd.Run()
	if runErr != nil {
		if _, ran := runErr.(*exec.ExitError); !ran {
			t.Fatalf("the RS-274 interpreter does not start: %v", runErr)
		}
	}
	text, err := os.ReadFile(out)
	if err != nil {
		t.Fatalf("the RS-274 interpreter wrote nothing: %v\n%s", err, errs.String())
	}
	canon, err := readCanon(text)
	if err != nil {
		t.Fatalf("the RS-274 interpreter's output: %v", err)
	}
	if runErr == nil {
		return canon, ""
	}
	reason := strings.TrimSpace(errs.String())
	if reason == "" {
		reason = runErr.Error()
	}
	return canon, reason
}
