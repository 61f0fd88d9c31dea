// Imports holds the packages against the direction in which imports may run:
//
//	geom            nothing of ours
//	jig/...         geom and other packages of jig
//	gcode/...       geom and other packages of gcode
//	posts/...       geom alone; posts itself everything but cmd
//	cmd             everything
//
// It prints each import that runs the wrong way and exits with 1 if there is one,
// or if a package lies where none belongs.
package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
)

const module = "blockwright"

// allowed lists, for the first match of a package's path, what it may import.
var allowed = []struct {
	of   string
	from []string
}{
	{"geom", nil},
	{"jig/", []string{"geom", "jig/"}},
	{"gcode", []string{"geom", "gcode"}},
	{"posts/", []string{"geom"}},
	{"posts", []string{"geom", "jig/", "gcode", "posts/"}},
	{"cmd/", []string{"geom", "jig/", "gcode", "posts"}},
}

func main() {
	cmd := exec.Command("go", "list", "-json=ImportPath,Imports", "./...")
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		fmt.Fprintln(os.Stderr, "imports: go list:", err)
		os.Exit(1)
	}
	bad, seen := 0, 0
	dec := json.NewDecoder(bytes.NewReader(out))
	for {
		var p struct {
			ImportPath string
			Imports    []string
		}
		if err := dec.Decode(&p); err == io.EOF {
			break
		} else if err != nil {
			fmt.Fprintln(os.Stderr, "imports: go list:", err)
			os.Exit(1)
		}
		seen++
		of := strings.TrimPrefix(p.ImportPath, module+"/")
		rule := -1
		for i, r := range allowed {
			if within(of, r.of) {
				rule = i
				break
			}
		}
		if rule < 0 {
			fmt.Printf("%s: no package belongs there\n", of)
			bad++
			continue
		}
		for _, im := range p.Imports {
			from, ours := strings.CutPrefix(im, module+"/")
			if ours && !matches(allowed[rule].from, from) {
				fmt.Printf("%s imports %s; it may import %s\n", of, from, list(allowed[rule].from))
				bad++
			}
		}
	}
	if bad > 0 || seen == 0 {
		os.Exit(1)
	}
	fmt.Printf("%d packages, every import runs the right way\n", seen)
}

// within tells whether a package is the pattern or, if the pattern ends in a
// slash, lies below it. "gcode" and "posts" take in what lies below them.
func within(pkg, pattern string) bool {
	if strings.HasSuffix(pattern, "/") {
		return strings.HasPrefix(pkg, pattern)
	}
	return pkg == pattern || strings.HasPrefix(pkg, pattern+"/")
}

func matches(patterns []string, pkg string) bool {
	for _, p := range patterns {
		if within(pkg, p) {
			return true
		}
	}
	return false
}

func list(s []string) string {
	if len(s) == 0 {
		return "nothing of ours"
	}
	return strings.Join(s, ", ")
}
