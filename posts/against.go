package posts

import (
	"errors"
	"fmt"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/gcode/route"
	"blockwright/geom"
	"blockwright/jig/shop"
	"blockwright/posts/dxf"
)

// A Readback is a program that has been read and run, and what it is to be held
// against.
type Readback struct {
	Program *gcode.Program
	Moves   []gcode.Move
	Head    gcode.Head     // the zero Head for a program that has none of ours
	Dialect *gcode.Dialect // it was read in
	Mill    float64        // mm; 0 = not known
	Thick   float64        // mm, of the sheet; 0 = not known
	Top     float64        // mm, Z of the sheet's top

	Drawing []byte // of the part, in the drawing exchange format; nil = none
	File    string // its name

	Machine shop.Machine // its travel and fastest feeds and speeds bind too; 0 = not known
}

// ErrNoMill says that moves cannot be held against a part without the mill.
var ErrNoMill = errors.New("the mill is not stated")

// ErrPen says that the program is for a pen: it leaves no wall.
var ErrPen = errors.New("the program draws with a pen; it leaves no wall to hold it against")

// HoldReadback holds the moves of a program that has been read back against the
// drawing of its part: the WALL layer, bores on DRILL, engraved lines on ENGRAVE
// for a program that engraves, seats on SEAT and the sheet on SHEET. Without a
// drawing only the motions are judged. A program of our own is held to the limits
// its head states, another one to what is a hazard or spoils the part.
//
// Of a measured fixture the first program is held against the ROUGH layer. The second
// one comes down in kerf that the first has cut, of which its own bytes tell nothing:
// ramps and steps are not judged.
//
// An error is [ErrNoMill], [ErrPen] or a fault of the drawing.
func HoldReadback(b Readback) (proof.Report, error) {
	if b.Head.For == penName {
		return proof.Report{}, ErrPen
	}
	part := proof.Part{Thick: b.Thick, Top: b.Top, Program: b.Program, Dialect: b.Dialect, Rules: rulesOf(b.Head)}
	bind(&part.Rules, b.Machine)
	for k, name := range kindNames {
		if name == b.Head.For {
			part.Kind = proof.Kind(k)
		}
	}
	if b.Head.For == stageNames[route.Finishing] {
		part.Rules.Ramp, part.Rules.Step, part.Rules.Loose = 0, 0, true // roughing is not known
	}
	switch {
	case b.Head.Inch:
		part.Rules.Limit = inchLimit
	case inches(b.Program):
		part.Rules.Limit = foreignInchLimit
	}
	if b.Mill <= 0 && part.Kind != proof.Frame {
		return proof.Report{}, ErrNoMill
	}
	if b.Drawing != nil {
		if err := partFrom(&part, b.Drawing, b.File, b.Head.For); err != nil {
			return proof.Report{}, err
		}
	}
	return proof.Hold(b.Moves, b.Mill, part), nil
}

// foreignInchLimit is what gouge and leftover of other inch programs are held to,
// in mm: their words have four decimals as a rule, and half a step in X and in Y is
// 0.0018 mm. Common practice, no source.
const foreignInchLimit = 0.002

// inches tells whether the program has a G20.
func inches(p *gcode.Program) bool {
	for _, w := range p.Words {
		if w.Letter == 'G' && w.Value == 20 {
			return true
		}
	}
	return false
}

// partFrom takes the part of a program for the stated purpose from its drawing.
func partFrom(part *proof.Part, text []byte, file, purpose string) error {
	d, err := dxf.Read(file, text)
	if err != nil {
		return err
	}
	layer := "WALL"
	if purpose == stageNames[route.Roughing] {
		layer = roughLayer
		if d.Layer(layer) == nil {
			return fmt.Errorf("%s: no layer %s; want the drawing of the measured fixture whose first program this is", file, layer)
		}
	}
	wall, err := d.Region(layer, file)
	if err != nil {
		return err
	}
	if l := d.Layer("SHEET"); l != nil && len(l.All()) > 0 {
		part.Sheet = geom.Bound(l.All())
	}
	switch part.Kind {
	case proof.Engraving:
		if l := d.Layer("ENGRAVE"); l != nil {
			part.Engrave = l.All()
		}
	case proof.Milling:
		part.Wall = wall
		if l := d.Layer("DRILL"); l != nil && purpose != stageNames[route.Finishing] {
			part.Drill = l.All()
		}
		if l := d.Layer("SEAT"); l != nil {
			part.Keep = l.All()
		}
		return floorsFrom(part, d, file)
	}
	return nil
}
