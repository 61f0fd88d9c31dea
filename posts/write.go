package posts

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"

	"github.com/paulmach/orb/planar"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/gcode/route"
	"blockwright/geom"
	"blockwright/posts/dxf"
)

// write makes the bytes of one file and proves them. No bytes and no error means
// that the fixture has nothing for this writer.
func write(w Writer, f *Fixture) ([]byte, *proof.Report, error) {
	if w.Draw != nil {
		var b bytes.Buffer
		if err := w.Draw(&b, f); err != nil {
			return nil, nil, err
		}
		return b.Bytes(), nil, f.proveDrawing(w, b.Bytes())
	}
	p := w.Program(f)
	if p == nil {
		return nil, nil, nil
	}
	var b bytes.Buffer
	b.Grow(32 * len(p.Moves)) // bytes of a line
	if err := gcode.Print(&b, w.Dialect, f.listing(w, p)); err != nil {
		return nil, nil, err
	}
	report, err := f.proveProgram(w, p, b.Bytes())
	if err != nil {
		return nil, nil, err
	}
	return b.Bytes(), report, nil
}

// listing is the program with what its head states.
func (f *Fixture) listing(w Writer, p *Program) gcode.Listing {
	m := f.Request.Shop.Machine
	h := gcode.Head{
		Inch: f.Request.Shop.Units == "in", Zero: "table", Thickness: f.Sheet.Thick(), Mill: p.Mill,
		Lines: []string{f.ID + "." + w.Ext, f.Title, w.Long + ", blockwright " + f.Request.Version},
	}
	if p.Top {
		h.Zero = "top"
	}
	if p.Pen {
		h.For = penName
	} else {
		h.For, h.Limits = p.purpose(), limitsOf(f.rules(p))
	}
	if c := f.Request.corrected(); c != "" {
		h.Lines = append(h.Lines, "corrected by a test cut: "+c)
	}
	h.Lines = append(h.Lines, p.Lines...)
	return gcode.Listing{
		Head: h.Comment(), Notes: p.Notes, Moves: p.Moves,
		Inch: h.Inch, Dwell: spinUp, Dial: m.Dial,
	}
}

// spinUp is the time in s that a spindle gets to reach its speed. Common
// practice, no source.
const spinUp = 3

// proveProgram reads a program back from its bytes and holds its moves against
// the walls.
func (f *Fixture) proveProgram(w Writer, p *Program, text []byte) (*proof.Report, error) {
	name := f.ID + "." + w.Ext
	prog, findings := gcode.Parse(name, text)
	if len(findings) > 0 {
		return nil, notProved(findings)
	}
	ms := make([]gcode.Move, 0, len(p.Moves)+len(p.Moves)/8) // arcs may be parted
	_, findings = prog.Check(w.Dialect, f.setup(p), func(m *gcode.Move) { ms = append(ms, *m) })
	if len(findings) > 0 {
		return nil, notProved(findings)
	}
	if p.Pen {
		if findings = f.holdPen(prog, ms); len(findings) > 0 {
			return nil, notProved(findings)
		}
		return &proof.Report{}, nil
	}
	report, done := f.heldBefore(p, ms)
	if done {
		// Another dialect's program made the very same moves: what is left to judge
		// is what this one says before its first.
		findings = proof.Opening(prog, w.Dialect, p.Kind)
	} else {
		report = f.hold(p, prog, ms)
		findings = report.Findings
	}
	if len(findings) > 0 {
		return nil, notProved(findings)
	}
	f.held = append(f.held, held{p, ms, report})
	return &report, nil
}

// held is a program's moves as read back, and what the proof said of them.
type held struct {
	program *Program
	moves   []gcode.Move
	report  proof.Report
}

// heldBefore finds the report of the same moves of the same program, proved from
// another dialect's bytes.
func (f *Fixture) heldBefore(p *Program, ms []gcode.Move) (proof.Report, bool) {
	for _, h := range f.held {
		if h.program == p && slices.EqualFunc(h.moves, ms, func(a, b gcode.Move) bool {
			a.Block, b.Block = 0, 0
			return a == b
		}) {
			return h.report, true
		}
	}
	return proof.Report{}, false
}

// setup is what the program meets: the sheet and the machine.
func (f *Fixture) setup(p *Program) gcode.Setup {
	m := f.Request.Shop.Machine
	s := gcode.Setup{Mill: p.Kind == proof.Milling && !p.Pen, Drive: f.Drive, FeedMax: m.FeedXY}
	if !p.Top {
		s.Top = f.Sheet.Thick()
	}
	return s
}

// hold holds the moves of a program, as read back, against what it should leave.
func (f *Fixture) hold(p *Program, prog *gcode.Program, ms []gcode.Move) proof.Report {
	return proof.Hold(ms, p.Mill, f.part(p, prog))
}

// part is what a program should leave in the sheet.
func (f *Fixture) part(p *Program, prog *gcode.Program) proof.Part {
	part := proof.Part{
		Sheet: sheetBound(f.Sheet), Thick: f.Sheet.Thick(), Top: f.setup(p).Top, Kind: p.Kind, Program: prog,
		Rules: f.rules(p),
	}
	switch p.Kind {
	case proof.Milling:
		for _, c := range f.Plates {
			part.Wall = append(part.Wall, c.Wall...)
			part.Drill = append(part.Drill, c.Drill...)
			part.Keep = append(part.Keep, c.Kept...)
			for _, k := range c.Floors {
				part.Pockets = append(part.Pockets, proof.Pocket(k))
			}
		}
		switch p.Stage {
		case route.Roughing:
			part.Wall = f.rough
		case route.Finishing:
			part.Drill, part.Before = nil, f.Milling.Moves
		}
	case proof.Engraving:
		for _, c := range f.Plates {
			part.Engrave = append(part.Engrave, c.Engrave...)
		}
	}
	return part
}

// inchStep is the step in mm of the words of inch programs, which have five
// decimals. A sixth would gain nothing: this is a tenth of what a small machine
// steps, and grbl reads no more than eight digits into a 32-bit number.
const inchStep = 1e-5 * InchMM

// inchLimit is what gouge and leftover of inch programs are held to, in mm: what
// those in mm are, and the rounding of the words, half a step in X and in Y at
// either end of a distance.
var inchLimit = proof.House().Limit + inchStep

// rules are the limits that a program of the fixture is held to.
func (f *Fixture) rules(p *Program) proof.Rules {
	d, m := f.Request.Shop.Defaults, f.Request.Shop.Machine
	r := proof.House()
	r.Through, r.Safe, r.Ramp = d.Through, d.SafeZ, d.Ramp*math.Pi/180
	r.Tab, r.TabHigh, r.Skin = d.TabWidth, f.tabHigh(), d.Skin
	r.Travel, r.Feed = m.Travel, m.FeedXY
	r.RPMLow, r.RPMHigh, r.SpinUp = m.SpindleLow, m.SpindleHigh, spinUp
	if f.Request.Shop.Units == "in" {
		r.Limit = inchLimit
	}
	switch d.Hold {
	case route.Screws:
		r.Hold = proof.ByScrews
	case route.Skin:
		r.Hold = proof.BySkin
	}
	if p.Stage == route.Finishing {
		f.finishingRules(&r)
	}
	if p.Kind == proof.Milling {
		r.Step, r.Flute = f.Sheet.StepDown, f.Mill.FluteLength
	}
	if !p.Pen && p.Kind != proof.Frame {
		r.Dial = m.Dial
		holdToPlan(&r, p.Moves)
	}
	return r
}

// An Unproved program was not written: its own proof failed.
type Unproved struct{ Findings []gcode.Finding }

func notProved(fs []gcode.Finding) error { return &Unproved{fs} }

func (u *Unproved) Error() string {
	return "the program did not pass its proof and was not written: " + u.first()
}

// first is the first finding and how many more there are.
func (u *Unproved) first() string {
	f := u.Findings[0]
	s := fmt.Sprintf("line %d: %s %s", f.Line, f.Code, f.Text)
	if n := len(u.Findings) - 1; n > 0 {
		s += fmt.Sprintf(" (and %d more)", n)
	}
	return s
}

// proveDrawing reads a drawing back from its bytes and compares it.
func (f *Fixture) proveDrawing(w Writer, text []byte) error {
	switch w.Post {
	case sheetPost:
		return f.proveSheet(text)
	case "svg":
		d := xml.NewDecoder(bytes.NewReader(text))
		for {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				return nil
			} else if err != nil {
				return fmt.Errorf("the drawing is no proper XML: %w", err)
			}
		}
	}
	d, err := dxf.Read(f.ID+"."+w.Ext, text)
	if err != nil {
		return err
	}
	if _, err := d.Region("WALL", f.ID+"."+w.Ext); err != nil {
		return err
	}
	want, err := drawing(f)
	if err != nil {
		return err
	}
	for _, l := range want.Layers {
		if err := sameLayer(d.Layer(l.Name), l); err != nil {
			return fmt.Errorf("the drawing, read back: layer %s: %w", l.Name, err)
		}
	}
	return nil
}

// sameLayer compares a layer that was read with the one that was written, path by
// path: same places within 1e-8 mm, same lengths within 1e-6.
func sameLayer(have, want *dxf.Layer) error {
	var paths []geom.Path
	if have != nil {
		paths = have.All()
	}
	all := want.All()
	if len(paths) != len(all) {
		return fmt.Errorf("%d paths; want %d", len(paths), len(all))
	}
	if have != nil && len(have.Paths) != len(want.Paths) {
		return fmt.Errorf("%d polylines; want %d", len(have.Paths), len(want.Paths))
	}
	for i, p := range want.Paths {
		if d := have.Paths[i].Z - p.Z; !(math.Abs(d) <= 1e-8) {
			return fmt.Errorf("path %d lies %g mm too high or too low", i+1, d)
		}
	}
	for i, p := range all {
		for k, v := range p.V {
			if k < len(paths[i].V) && planar.Distance(paths[i].V[k].Point, v.Point) <= 1e-8 {
				continue // as good as always: the vertices come back in their order
			}
			if d := paths[i].Nearest(v.Point).Dist; !(d <= 1e-8) {
				return fmt.Errorf("path %d lies %g mm off at (%.4f, %.4f)", i+1, d, v.X(), v.Y())
			}
		}
		if d := math.Abs(paths[i].Length() - p.Length()); !(d <= 1e-6) || paths[i].Closed != p.Closed {
			return fmt.Errorf("path %d is %g mm longer or shorter, or open", i+1, d)
		}
	}
	return nil
}
