package posts

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"blockwright/gcode"
	"blockwright/jig/shelf"
	"blockwright/jig/shop"
)

// Reprove makes a fixture's parts anew from its inputs and holds the files from the
// shelf against them: every program is read back from its bytes and its moves are
// held against the recomputed walls, every drawing is read back and compared, and
// what the record says of setting, mill and sheet must be what they are. Nothing
// wrong gives no fault.
//
// Where this build of the program writes or makes the fixture otherwise than the one
// that made it, the fixture is not at fault as long as its programs hold by what they
// state themselves and against their own drawing: it is stale, for the reason given.
//
// r is the recorded request with the shop and the cutters as they are now, which
// must be those of the record; else see [Reread]. files are the fixture's, by
// ending, each what the record says by its hash. Files of stages that are not known
// here are not looked at.
func Reprove(rec *shelf.Record, files map[string][]byte, r Request) (faults []shelf.Fault, stale string) {
	p := reproving{rec: rec, files: files, same: rec.Version == r.Version}
	p.all(r)
	switch {
	case len(p.faults) == 0 && len(p.otherwise) == 0:
		return nil, ""
	case len(p.faults) == 0:
		return nil, p.why(r)
	case p.same && (len(p.otherwise) == 0 || drawingAmong(files) == nil), len(Reread(rec, files)) > 0:
		return p.faults, ""
	}
	return nil, p.why(r)
}

// A reproving is one [Reprove] at work.
type reproving struct {
	rec       *shelf.Record
	files     map[string][]byte
	same      bool // the version that made the fixture
	faults    []shelf.Fault
	otherwise []string // files that this build writes otherwise than they are
}

// why says why a fixture that holds by itself is stale.
func (p *reproving) why(r Request) string {
	if !p.same {
		return fmt.Sprintf("blockwright %s makes it otherwise than %s did: %s", r.Version, p.rec.Version, p.faults[0])
	}
	text := fmt.Sprintf("another build of blockwright %s made it, this one writes %s", r.Version, p.otherwise[0])
	if n := len(p.otherwise) - 1; n > 0 {
		text += fmt.Sprintf(" and %d more", n)
	}
	return text + " otherwise: make it anew with --force"
}

func (p *reproving) fault(file, why string) {
	p.faults = append(p.faults, shelf.Fault{File: file, Why: why})
}

// all holds record, files and stages.
func (p *reproving) all(r Request) {
	writers, err := writersFor(r.Posts)
	if err != nil {
		p.fault("", err.Error())
		return
	}
	f, err := design(r)
	if err != nil {
		p.fault("", "cannot be designed again: "+err.Error())
		return
	}
	p.faults = f.holdRecord(p.rec)
	wanted := map[string]bool{}
	for _, w := range writers {
		if w.Program != nil && w.Program(f) == nil {
			continue
		}
		wanted[w.Ext] = true
		text, there := p.files[w.Ext]
		if !there {
			if _, listed := p.rec.File(w.Ext); !listed {
				p.fault(f.ID+"."+w.Ext, "is missing in the list of files")
			}
			continue // else the shelf has said what is wrong with it
		}
		p.file(f, w, text, p.same)
	}
	for _, file := range p.rec.Files {
		if !wanted[file.Ext] {
			p.fault(f.ID+"."+file.Ext, "is no file of such a fixture")
		}
	}
	for _, st := range p.rec.Stages {
		if st.Name == FinishStage && r.Measured {
			p.stage(st, r, writers)
		}
	}
}

// file holds one file against the recomputed fixture. same says that this version of
// the program wrote it: then it should write the same, what moves and shapes do not
// show too, such as the speed that a message asks for.
func (p *reproving) file(f *Fixture, w Writer, text []byte, same bool) {
	name := f.ID + "." + w.Ext
	var err error
	var again bytes.Buffer
	if w.Draw == nil {
		program := w.Program(f)
		_, err = f.proveProgram(w, program, text)
		if same && gcode.Print(&again, w.Dialect, f.listing(w, program)) != nil {
			same = false
		}
	} else {
		err = f.proveDrawing(w, text)
		if same = same && !strings.HasSuffix(w.Ext, "dxf"); same && w.Draw(&again, f) != nil {
			same = false
		}
	}
	if err != nil {
		p.fault(name, unproved(err))
	}
	if same && !bytes.Equal(again.Bytes(), text) {
		p.otherwise = append(p.otherwise, name)
	}
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
	word("setting.height_known", fmt.Sprint(!rec.Setting.HeightUnknown), fmt.Sprint(!want.Setting.HeightUnknown))
	word("setting.fence_known", fmt.Sprint(!rec.Setting.FenceUnknown), fmt.Sprint(!want.Setting.FenceUnknown))
	word("milled.mill", rec.Milled.Mill, want.Milled.Mill)
	number("milled.diameter", rec.Milled.Diameter, want.Milled.Diameter)
	word("milled.sheet", rec.Milled.Sheet, want.Milled.Sheet)
	number("milled.thickness", rec.Milled.Thickness, want.Milled.Thickness)
	word("milled.zero", rec.Milled.Zero, want.Milled.Zero)
	return faults
}

// Reread reads the programs of a fixture whose inputs are no longer what they were
// back from their bytes, and holds them to the limits that they state, to those of
// the machine that the record states, and against the fixture's own drawing, if it
// has one. Nothing wrong gives no fault.
func Reread(rec *shelf.Record, files map[string][]byte) []shelf.Fault {
	var faults []shelf.Fault
	drawing, machine := drawingAmong(files), machineOf(rec)
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
		if err := rereadProgram(name, files[ext], d, drawing, machine); err != nil {
			faults = append(faults, shelf.Fault{File: name, Why: unproved(err)})
		}
	}
	return faults
}

// drawingAmong is the drawing that a fixture's programs can be held against, nil
// where there is none.
func drawingAmong(files map[string][]byte) []byte {
	if d := files["dxf"]; d != nil {
		return d
	}
	return files["r12.dxf"]
}

// machineOf is the machine that the shop's file stated when the fixture was made: its
// travel, fastest feeds and spindle's speeds.
func machineOf(rec *shelf.Record) shop.Machine {
	var m shop.Machine
	for _, s := range rec.Shop {
		if s.Part != "machine" {
			continue
		}
		for _, v := range strings.Split(s.Text, ", ") {
			key, text, _ := strings.Cut(v, " ")
			if key == "travel" {
				for i, t := range strings.SplitN(text, " × ", len(m.Travel)) {
					m.Travel[i], _ = strconv.ParseFloat(t, 64) // 0 is not known
				}
				continue
			}
			for k, to := range map[string]*float64{"feed_xy": &m.FeedXY, "feed_z": &m.FeedZ, "spindle_low": &m.SpindleLow, "spindle_high": &m.SpindleHigh} {
				if k == key {
					*to, _ = strconv.ParseFloat(text, 64)
				}
			}
		}
	}
	return m
}

// rereadProgram reads one program back, by what its head states.
func rereadProgram(name string, text []byte, d *gcode.Dialect, drawing []byte, m shop.Machine) error {
	p, findings := gcode.Parse(name, text)
	if len(findings) > 0 {
		return notProved(findings)
	}
	head, ok := gcode.ParseHead(p)
	if !ok {
		return fmt.Errorf("states nothing of itself in its head")
	}
	b := Readback{Program: p, Head: head, Dialect: d, Mill: head.Mill, Thick: head.Thickness, Drawing: drawing, File: name, Machine: m}
	if head.Zero == "table" {
		b.Top = head.Thickness
	}
	_, findings = p.Check(d, gcode.Setup{Mill: mills(head.For), Top: b.Top, FeedMax: m.FeedXY}, func(m *gcode.Move) { b.Moves = append(b.Moves, *m) })
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
