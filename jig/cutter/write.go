package cutter

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path"
	"strconv"
	"strings"

	"blockwright/geom"
)

// Text is the cutter's file, all lengths in mm, with the remarks as comments before
// it. Numbers are rounded to 1e-9. [Parse] reads the same cutter back; of what
// cannot be a cutter it tells why. The same cutter gives the same bytes.
func (c *Cutter) Text(remarks ...string) []byte {
	var b strings.Builder
	for _, r := range remarks {
		for _, line := range strings.Split(r, "\n") {
			b.WriteString(strings.TrimRight("# "+plain(line), " ") + "\n")
		}
	}
	key := func(name, value string) { fmt.Fprintf(&b, "%-8s = %s\n", name, value) }
	key("name", strconv.Quote(c.Name))
	key("joint", strconv.Quote(c.Joint))
	key("units", `"mm"`)
	if c.Shank > 0 {
		key("shank", number(c.Shank))
	}
	if c.MaxRPM > 0 {
		key("max_rpm", number(c.MaxRPM))
	}
	if c.Known != [2]bool{true, true} {
		key("known", fmt.Sprintf("[%t, %t]", c.Known[0], c.Known[1]))
	}
	key("profile", points(c.Profile))
	if len(c.Body.V) > 0 {
		key("body", points(c.Body))
	}
	if t := c.Traced; t != nil {
		centre := ""
		if t.Centre > 0 {
			centre = "centre = " + number(t.Centre) + ", "
		}
		key("traced", fmt.Sprintf("{ %sprofile = %s }", centre, number(t.Profile)))
	}
	return []byte(b.String())
}

// plain is a line of a comment: nothing in it that a strict file refuses.
func plain(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "?"))
}

func number(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e9)/1e9+0, 'f', -1, 64)
}

// points is a path as a list, as many points on a line as are easily read.
func points(p geom.Path) string {
	var b strings.Builder
	b.WriteString("[")
	for i, v := range p.V {
		if i%4 == 0 && len(p.V) > 4 {
			b.WriteString("\n ")
		}
		fmt.Fprintf(&b, " [%s, %s", number(v.X()), number(v.Y()))
		if v.Bulge != 0 {
			b.WriteString(", " + strconv.FormatFloat(v.Bulge, 'g', -1, 64))
		}
		b.WriteString("]")
		if i < len(p.V)-1 {
			b.WriteString(",")
		}
	}
	if len(p.V) > 4 {
		b.WriteString("\n]")
	} else {
		b.WriteString(" ]")
	}
	return b.String()
}

// An ExistsError tells of a cutter that is there already.
type ExistsError struct{ Path string }

func (e *ExistsError) Error() string {
	return e.Path + ": is there already; want another handle, or --replace"
}

// Write puts the cutter's file into the shop folder dir, cutters/HANDLE.toml, and
// gives its path. The text is read back first: a profile that cannot be a cutter's is
// refused as [Parse] refuses it. A file that is there is replaced only if so wanted,
// else the error is an [*ExistsError]; a kill leaves the old file or the new one.
func (c *Cutter) Write(dir string, replace bool, remarks ...string) (string, error) {
	if !ValidHandle(c.Handle) {
		return "", &HandleError{c.Handle}
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return "", err
	}
	defer root.Close()
	name, whole := pathOf(dir, c.Handle)
	text := c.Text(remarks...)
	if _, err := Parse(whole, text); err != nil {
		return "", err
	}
	if _, err := root.Lstat(name); err == nil && !replace {
		return "", &ExistsError{whole}
	}
	if err := root.Mkdir(Folder, 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
		return "", err
	}
	// A name that is no handle, so that nobody takes it for a cutter.
	beside := path.Join(Folder, "."+c.Handle+".new")
	if err := writeSynced(root, beside, text); err != nil {
		_ = root.Remove(beside)
		return "", &fs.PathError{Op: "write", Path: whole, Err: err}
	}
	if err := root.Rename(beside, name); err != nil {
		_ = root.Remove(beside)
		return "", &fs.PathError{Op: "write", Path: whole, Err: err}
	}
	return whole, nil
}

func writeSynced(root *os.Root, name string, text []byte) error {
	f, err := root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o644)
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	return errors.Join(err, f.Sync(), f.Close())
}
