package posts

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"blockwright/gcode/proof"
	"blockwright/gcode/route"
	"blockwright/geom"
	"blockwright/jig/joint"
	"blockwright/jig/plate"
	"blockwright/jig/shop"
)

// Make designs a fixture and gives the bytes of its files by extension, each
// proved: every program has been read back from those bytes and its moves held
// against the walls, every exchange drawing read back and compared layer by layer;
// of the SVG it is only proved that it is proper XML. The reports are those of the
// programs, by extension.
//
// It fails where the joint, the table, the plate, the mill or the sheet does not
// allow the fixture, and where a proof fails; then no bytes are returned.
func Make(ctx context.Context, r Request) (*Fixture, map[string][]byte, map[string]proof.Report, error) {
	writers, err := writersFor(r.Posts)
	if err != nil {
		return nil, nil, nil, err
	}
	f, err := design(r)
	if err != nil {
		return nil, nil, nil, err
	}
	files := map[string][]byte{}
	reports := map[string]proof.Report{}
	for _, w := range writers {
		if second := w.Dialect != nil && w.Program(f) == f.Finishing; f.Finishing != nil && !second {
			continue // written with the first program
		}
		if err := ctx.Err(); err != nil {
			return nil, nil, nil, err
		}
		text, report, err := write(w, f)
		if err != nil {
			return nil, nil, nil, fmt.Errorf("%s.%s: %w", f.ID, w.Ext, err)
		}
		if text == nil {
			continue
		}
		files[w.Ext] = text
		if report != nil {
			reports[w.Ext] = *report
		}
	}
	return f, files, reports, nil
}

// plateDesigns takes a request as far as plates, alternatives with the best first, and the
// end mills that may cut them, the largest first.
func plateDesigns(r Request) (f *Fixture, designs [][]plate.Plate, mills []shop.Mill, err error) {
	f = &Fixture{ID: r.ID(), Kind: r.Kind, Request: r}
	if f.Sheet, err = pickSheet(r.Shop, r.Sheet); err != nil {
		return nil, nil, nil, err
	}
	r.Joint.Web = r.Shop.Defaults.Web
	if f.Setting, err = joint.Solve(r.Joint); err != nil {
		return nil, nil, nil, err
	}
	if err := f.Setting.Fits(r.Shop.Table); err != nil {
		return nil, nil, nil, err
	}
	if r.Pass < 0 || r.Pass >= len(f.Setting.Passes) {
		return nil, nil, nil, fmt.Errorf("the joint has %d passes; there is no pass %d", len(f.Setting.Passes), r.Pass+1)
	}
	if err := f.correct(); err != nil {
		return nil, nil, nil, err
	}
	f.Pass = f.Made.Passes[r.Pass]
	if designs, err = f.plates(r); err != nil {
		return nil, nil, nil, err
	}
	if mills, err = pickMills(r.Shop, f.Sheet, r.Mill); err != nil {
		return nil, nil, nil, err
	}
	if r.roughed != "" {
		mills = slices.DeleteFunc(mills, func(m shop.Mill) bool { return m.Name != r.roughed })
		if len(mills) == 0 {
			return nil, nil, nil, fmt.Errorf("end mill %s, which the first program was for, is not one that can be used today", r.roughed)
		}
	}
	if r.Measured {
		designs = withWitness(designs)
	}
	return f, designs, mills, nil
}

// design takes a request as far as moves, with the largest of the mills that does: a
// smaller one may find places for tabs and leads where a larger one finds none. The
// error is that of the largest which fits the plates.
func design(r Request) (*Fixture, error) {
	r = r.resolved()
	f, designs, mills, err := plateDesigns(r)
	if err != nil {
		return nil, err
	}
	var first error
	for {
		g := *f
		g.Hints = slices.Clone(f.Hints)
		err := g.fit(r, designs, mills)
		if err == nil {
			err = g.plan(r)
		}
		if err == nil {
			return &g, nil
		}
		if first == nil {
			first = err
		}
		var refused *route.Refusal
		n := slices.IndexFunc(mills, func(m shop.Mill) bool { return m.Name == g.Mill.Name }) + 1
		if !errors.As(err, &refused) || n == 0 || n == len(mills) {
			return nil, sayPlan(first)
		}
		mills = mills[n:]
	}
}

// fit fits the plates to the largest of the mills that can cut them.
func (f *Fixture) fit(r Request, designs [][]plate.Plate, mills []shop.Mill) error {
	cuts := make([]float64, len(mills))
	for i, m := range mills {
		cuts[i] = m.Cuts(f.Sheet.Material) + r.fitWider()
	}
	plates, err := plate.FitAll(designs, cuts)
	if err != nil {
		return r.fitError(err)
	}
	f.Diameter = plates[0].Mill
	f.Mill = mills[slices.Index(cuts, f.Diameter)]
	f.Diameter -= r.fitWider()
	if r.Kind == "block" {
		figures, err := plate.Measure(plates[0], f.Pass, f.Setting.Range[1])
		if err != nil {
			return err
		}
		if f.Setting.Joint != "lock-miter" {
			figures.Shims = nil // height and fence move together in a lock miter only
		}
		if r.Shop.Units == "in" {
			figures.Standoff = plate.Standoffs(plates[0], f.Pass, 0.002*InchMM)
		}
		if r.Shop.Units == "in" && figures.Shims != nil {
			figures.Shims = plate.Shims(f.Pass, f.Setting.Range[1], InchMM/64)
		}
		f.Figures = &figures
	}
	f.Fitted = plates
	return nil
}

// plan lays the plates out on the sheet and plans the programs.
func (f *Fixture) plan(r Request) (err error) {
	if f.At, err = lay(f.Fitted, f.Sheet, r.widest(f.Diameter)); err != nil {
		return err
	}
	var walls []geom.Path
	for i, c := range f.Fitted {
		f.Plates = append(f.Plates, c.Move(geom.Shift(f.At[i][0], f.At[i][1])))
		walls = append(walls, f.Plates[i].Wall...)
	}
	f.Bound = geom.Bound(walls)
	return f.program(r)
}
