package posts

import (
	"context"
	"fmt"
	"math"

	"blockwright/gcode/proof"
	"blockwright/jig/adjust"
	"blockwright/jig/shelf"
)

// A NotMilled is the error of a second program asked for a fixture whose first one
// would be another today than the one that was written.
type NotMilled struct{ File string }

func (e *NotMilled) Error() string {
	return e.File + " would be another program today: shop, cutter, blockwright or what was asked for is not what it was. Put back what changed, or make and mill the fixture anew"
}

// Finish makes the second program of a measured fixture from the sizes of its
// witness, across X and across Y, in mm. was gives the first program as it was
// written, by its ending, nil where there is none; it must be what would be written
// now, or the walls are not those that were roughed.
//
// The error is an [*adjust.Refusal] for sizes that cannot be, a [*NotMilled], or
// that of [Make].
func Finish(ctx context.Context, r Request, was func(ext string) (shelf.File, bool), x, y float64) (*Fixture, map[string][]byte, map[string]proof.Report, error) {
	r.Measured, r.Found = true, nil
	first, files, _, err := Make(ctx, r)
	if err != nil {
		return nil, nil, nil, err
	}
	same := 0
	for _, w := range Writers() {
		text := files[w.Ext]
		if w.Dialect == nil || text == nil || w.Program(first) != &first.Milling {
			continue
		}
		f, there := was(w.Ext)
		if there && f.Hash != shelf.Hash(text) {
			return nil, nil, nil, &NotMilled{first.ID + "." + w.Ext}
		}
		if there {
			same++
		}
	}
	if same == 0 {
		return nil, nil, nil, fmt.Errorf("the first milling program of %s is not there; want it as 'make … --finish measured' wrote it, in a format that mills", first.ID)
	}
	found, err := adjust.FromWitness(*first.Witness, x, y)
	if err != nil {
		return nil, nil, nil, err
	}
	// Calipers tell no more than this.
	found.Diameter, found.Backlash = math.Round(found.Diameter*1e3)/1e3, math.Round(found.Backlash*1e3)/1e3
	r.Found, r.roughed = &found, first.Mill.Name
	return Make(ctx, r)
}

// FinishStage is the name of the stage that the shelf keeps of a second program.
const FinishStage = "finish"

// Stage is what the shelf keeps of the second program that was made of the sizes.
func (f *Fixture) Stage(x, y float64) shelf.Stage {
	return shelf.Stage{Name: FinishStage, Version: f.Request.Version, Values: []shelf.Amount{
		{Key: "x", Value: x}, {Key: "y", Value: y},
		{Key: "diameter", Value: f.Request.Found.Diameter}, {Key: "backlash", Value: f.Request.Found.Backlash},
	}}
}

// stage holds the files of a second program against the fixture made anew with what
// its stage says was found.
func (p *reproving) stage(st shelf.Stage, r Request, writers []Writer) {
	var found adjust.Found
	for _, v := range st.Values {
		switch v.Key {
		case "diameter":
			found.Diameter = v.Value
		case "backlash":
			found.Backlash = v.Value
		}
	}
	r.Found, r.roughed = &found, p.rec.Milled.Mill
	f, err := design(r)
	if err != nil {
		p.fault("", "its finishing program cannot be designed again: "+err.Error())
		return
	}
	for _, w := range writers {
		if text, there := p.files[w.Ext]; there && w.Dialect != nil && w.Program(f) == f.Finishing {
			p.file(f, w, text, st.Version == r.Version)
		}
	}
}
