package posts

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"blockwright/gcode"
	"blockwright/jig/shelf"
)

// Reprove makes a fixture's parts anew from its inputs and holds the files from the
// shelf against them: every program is read back from its bytes and its moves are
// held against the recomputed walls, every drawing is read back and compared, and
// what the record says of setting, mill and sheet must be what they are. Nothing
// wrong gives no fault.
//
// r is the recorded request with the shop and the cutters as they are now, which
// must be those of the record; else see [Reread]. files are the fixture's, by
// ending. Files of stages that are not known here are not looked at.
func Reprove(rec *shelf.Record, files map[string][]byte, r Request) []shelf.Fault {
	writers, err := writersFor(r.Posts)
	if err != nil {
		return []shelf.Fault{{Why: err.Error()}}
	}
	f, err := design(r)
	if err != nil {
		return []shelf.Fault{{Why: "cannot be designed again: " + err.Error()}}
	}
	faults := f.holdRecord(rec)
	wanted := map[string]bool{}
	for _, w := range writers {
		if w.Program != nil && w.Program(f) == nil {
			continue
		}
		wanted[w.Ext] = true
		name := f.ID + "." + w.Ext
		text, there := files[w.Ext]
		if !there {
			if _, listed := rec.File(w.Ext); !listed {
				faults = append(faults, shelf.Fault{File: name, Why: "is missing in the list of files"})
			}
			continue // else the shelf has said what is wrong with it
		}
		if err := f.reproveFile(w, text, rec.Version == r.Version); err != nil {
			faults = append(faults, shelf.Fault{File: name, Why: unproved(err)})
		}
	}
	for _, file := range rec.Files {
		if !wanted[file.Ext] {
			faults = append(faults, shelf.Fault{File: f.ID + "." + file.Ext, Why: "is no file of such a fixture"})
		}
	}
	for _, st := range rec.Stages {
		if st.Name == FinishStage && r.Measured {
			faults = append(faults, reproveStage(rec, st, files, r, writers)...)
		}
	}
	return faults
}

// reproveFile holds one file against the recomputed fixture. same says that this
// version of the program wrote it.
func (f *Fixture) reproveFile(w Writer, text []byte, same bool) error {
	if w.Draw == nil {
		p := w.Program(f)
		if _, err := f.proveProgram(w, p, text); err != nil || !same {
			return err
		}
		// What the moves do not show, such as the speed that a message asks for or
		// the way of a frame: the same program writes the same.
		var b bytes.Buffer
		if err := gcode.Print(&b, w.Dialect, f.listing(w, p)); err != nil {
			return err
		}
		if !bytes.Equal(b.Bytes(), text) {
			return fmt.Errorf("is not the program of this fixture")
		}
		return nil
	}
	if err := f.proveDrawing(w, text); err != nil || !same || strings.HasSuffix(w.Ext, "dxf") {
		return err
	}
	// A drawing for people cannot be read back for its shapes; the same program
	// draws the same.
	var b bytes.Buffer
	if err := w.Draw(&b, f); err != nil {
		return err
	}
	if !bytes.Equal(b.Bytes(), text) {
		return fmt.Errorf("is not the drawing of this fixture")
	}
	return nil
}

// holdRecord compares what a record says of the fixture with what it is.
func (f *Fixture) holdRecord(rec *shelf.Record) []shelf.Fault {
	var faults []shelf.Fault
	want := f.Record(nil)
	word := func(key, have, is string) {
		if have != is {
			faults = append(faults, shelf.Fault{File: shelf.FileName, Why: fmt.Sprintf("%s is %q; want %q", key, have, is)})
		}
	}
	number := func(key string, have, is float64) {
		if !(math.Abs(have-is) <= 1e-6) {
			faults = append(faults, shelf.Fault{File: shelf.FileName, Why: fmt.Sprintf("%s is %g; want %g", key, have, is)})
		}
	}
	word("id", rec.ID, want.ID)
	word("setting.joint", rec.Setting.Joint, want.Setting.Joint)
	word("setting.pass", rec.Setting.Pass, want.Setting.Pass)
	number("setting.height", rec.Setting.Height, want.Setting.Height)
	number("setting.fence", rec.Setting.Fence, want.Setting.Fence)
	word("milled.mill", rec.Milled.Mill, want.Milled.Mill)
	number("milled.diameter", rec.Milled.Diameter, want.Milled.Diameter)
	word("milled.sheet", rec.Milled.Sheet, want.Milled.Sheet)
	number("milled.thickness", rec.Milled.Thickness, want.Milled.Thickness)
	word("milled.zero", rec.Milled.Zero, want.Milled.Zero)
	return faults
}

// Reread reads the programs of a fixture whose inputs are no longer what they were
// back from their bytes, and holds them to the limits that they state and against
// the fixture's own drawing, if it has one. Nothing wrong gives no fault.
func Reread(rec *shelf.Record, files map[string][]byte) []shelf.Fault {
	var faults []shelf.Fault
	drawing := files["dxf"]
	if drawing == nil {
		drawing = files["r12.dxf"]
	}
	dialects := map[string]*gcode.Dialect{}
	for _, w := range Writers() {
		if w.Dialect != nil {
			dialects[w.Ext] = w.Dialect
		}
	}
	for _, ext := range slices.Sorted(maps.Keys(files)) {
		d := dialects[ext]
		if d == nil {
			continue
		}
		name := rec.ID + "." + ext
		if err := rereadProgram(name, files[ext], d, drawing); err != nil {
			faults = append(faults, shelf.Fault{File: name, Why: unproved(err)})
		}
	}
	return faults
}

// rereadProgram reads one program back, by what its head states.
func rereadProgram(name string, text []byte, d *gcode.Dialect, drawing []byte) error {
	p, findings := gcode.Parse(name, text)
	if len(findings) > 0 {
		return notProved(findings)
	}
	head, ok := gcode.ParseHead(p)
	if !ok {
		return fmt.Errorf("states nothing of itself in its head")
	}
	b := Readback{Program: p, Head: head, Dialect: d, Mill: head.Mill, Thick: head.Thickness, Drawing: drawing, File: name}
	if head.Zero == "table" {
		b.Top = head.Thickness
	}
	_, findings = p.Check(d, gcode.Setup{Mill: mills(head.For), Top: b.Top}, func(m *gcode.Move) { b.Moves = append(b.Moves, *m) })
	if len(findings) > 0 {
		return notProved(findings)
	}
	if head.For == penName {
		return nil
	}
	report, err := HoldReadback(b)
	if err != nil {
		return err
	}
	if len(report.Findings) > 0 {
		return notProved(report.Findings)
	}
	return nil
}

// unproved says why a file that was written before does not hold.
func unproved(err error) string {
	var u *Unproved
	if errors.As(err, &u) {
		return "does not pass its proof: " + u.first()
	}
	return err.Error()
}
