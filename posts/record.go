package posts

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/gcode/proof"
	"blockwright/jig/cutter"
	"blockwright/jig/joint"
	"blockwright/jig/shelf"
	"blockwright/jig/shop"
)

// Record is what the shelf keeps of a fixture that was made with the reports given.
// Its date is for the caller to state, its files for the shelf.
func (f *Fixture) Record(reports map[string]proof.Report) *shelf.Record {
	r := f.Request
	rec := &shelf.Record{
		ID: f.ID, Title: f.Title, Version: r.Version,
		Inputs: r.inputs(),
		Setting: shelf.Setting{Joint: f.Setting.Joint, Pass: f.Pass.Name, Height: nano(f.Pass.Height), Fence: nano(f.Pass.Fence),
			HeightUnknown: !f.Pass.Cutter.Known[1], FenceUnknown: !f.Pass.Cutter.Known[0]},
		Milled: shelf.Milled{
			Mill: f.Mill.Name, Diameter: nano(f.Diameter), Sheet: f.Sheet.Name, Thickness: nano(f.Sheet.Thick()),
			Zero: r.Shop.Defaults.Zero, Seconds: nano(f.Seconds),
		},
		Cutters: cuttersOf(r),
		Shop:    stated(r),
	}
	for _, rep := range reports {
		rec.Milled.Gouge = max(rec.Milled.Gouge, nano(rep.Gouge.Size))
		rec.Milled.Leftover = max(rec.Milled.Leftover, nano(rep.Leftover.Size))
	}
	return rec
}

// nano rounds what was computed to 1e-9, so that every processor records the same.
func nano(v float64) float64 { return math.Round(v*1e9) / 1e9 }

// inputs are what the request asks for, apart from shop and cutters' files.
func (r Request) inputs() shelf.Inputs {
	in := shelf.Inputs{
		Kind: r.Kind, Cutter: r.Joint.Cutter.Handle, Stock: r.Stock.MM, Unit: r.Stock.Unit,
		Side: r.Joint.Other, Overlay: r.Joint.Overlay, Land: r.Joint.Land, Skim: r.Joint.Skim,
		Pass: r.Pass, Variant: r.Variant, From: r.from(), Mill: r.Mill, Sheet: r.Sheet, Zero: r.Zero, Hold: r.Hold,
		Posts: r.Posts, Applied: r.Applied, Finish: r.finish(),
	}
	if r.Joint.With != nil {
		in.With = r.Joint.With.Handle
	}
	if at := r.Joint.At; at != nil {
		in.At = []float64{at.Profile[0], at.Profile[1], at.Table[0], at.Table[1]}
	}
	if r.Kind == "strip" {
		in.Width = r.Width
	}
	if len(in.Posts) == 0 {
		in.Posts = PostNames()
	}
	return in
}

// cuttersOf are the cutters' files of the request.
func cuttersOf(r Request) []shelf.Source {
	var out []shelf.Source
	for _, c := range []*cutter.Cutter{r.Joint.Cutter, r.Joint.With} {
		if c != nil {
			out = append(out, shelf.Source{Handle: c.Handle, Hash: c.Hash})
		}
	}
	return out
}

// Recall asks again for a recorded fixture, of the shop and of the cutters as they
// are now; find gives the cutter of a handle.
func Recall(in shelf.Inputs, sh *shop.Shop, find func(handle string) (*cutter.Cutter, error), version string) (Request, error) {
	r := Request{
		Shop: sh, Stock: Measure{in.Stock, in.Unit}, Kind: in.Kind, Pass: in.Pass, Variant: in.Variant, From: in.From,
		Width: in.Width, Mill: in.Mill, Sheet: in.Sheet, Zero: in.Zero, Hold: in.Hold,
		Posts: in.Posts, Applied: in.Applied, Measured: in.Finish == FinishMeasured, Version: version,
	}
	c, err := find(in.Cutter)
	if err != nil {
		return r, err
	}
	r.Joint = joint.Request{Cutter: c, Stock: in.Stock, Other: in.Side, Land: in.Land, Skim: in.Skim, Overlay: in.Overlay, Web: sh.Defaults.Web}
	if in.With != "" {
		if r.Joint.With, err = find(in.With); err != nil {
			return r, err
		}
	}
	if in.At != nil {
		if len(in.At) != 4 {
			return r, fmt.Errorf("a landing of %d numbers; want 4", len(in.At))
		}
		r.Joint.At = &joint.Landing{Profile: orb.Point{in.At[0], in.At[1]}, Table: orb.Point{in.At[2], in.At[3]}}
	}
	return r, nil
}

// Misstated tells where a record's inputs cannot be those of the fixture that it
// states: the fixture's ID names them, and so does the list of cutters.
func Misstated(rec *shelf.Record) []shelf.Fault {
	bare := func(handle string) (*cutter.Cutter, error) { return &cutter.Cutter{Handle: handle}, nil }
	r, err := Recall(rec.Inputs, &shop.Shop{}, bare, "")
	if err != nil {
		return []shelf.Fault{{File: shelf.FileName, Why: err.Error()}}
	}
	if id := r.ID(); id != rec.ID {
		return []shelf.Fault{{File: shelf.FileName, Why: fmt.Sprintf("its inputs are those of %s, which is not this fixture: they were changed", id)}}
	}
	var handles []string
	for _, c := range rec.Cutters {
		handles = append(handles, c.Handle)
	}
	var want []string
	for _, c := range cuttersOf(r) {
		want = append(want, c.Handle)
	}
	if !slices.Equal(handles, want) {
		return []shelf.Fault{{File: shelf.FileName, Why: fmt.Sprintf("lists the files of the cutters %s; want those of its inputs, %s", strings.Join(handles, ", "), strings.Join(want, ", "))}}
	}
	return nil
}

// Same tells whether a record asks for the very same as the request, so that making
// it would give the same again if the shop and the cutters did not change.
func (r Request) Same(in shelf.Inputs) bool {
	text := func(in shelf.Inputs) string {
		return string((&shelf.Record{Inputs: in}).Text())
	}
	return text(r.inputs()) == text(in)
}

// resolved is the request with what it asks of the shop in the shop's place.
func (r Request) resolved() Request {
	if r.Zero == "" && r.Hold == "" {
		return r
	}
	s := *r.Shop
	if r.Zero != "" {
		s.Defaults.Zero = r.Zero
	}
	if r.Hold != "" {
		s.Defaults.Hold = r.Hold
	}
	r.Shop = &s
	return r
}

// correctable are the kinds of fixtures that a measured error can be built into:
// those that set cutter or fence.
var correctable = map[string]bool{"block": true, "gauge": true}

// CorrectionMost is the greatest correction in mm of height or fence: more is no
// error of a setting but another cutter or stock. Derived here.
const CorrectionMost = 2.0

// correct moves the setting by the correction that is asked for.
func (f *Fixture) correct() error {
	f.Made = f.Setting
	c := f.Request.Applied
	if c.None() {
		return nil
	}
	if !correctable[f.Kind] {
		return fmt.Errorf("a %s does not set the cutter: there is nothing to correct in it", f.Kind)
	}
	for _, v := range []float64{c.Height, c.Fence} {
		if !(v <= CorrectionMost && v >= -CorrectionMost) {
			u := f.Request.Shop.Units
			return fmt.Errorf("a correction of %s; want at most %s: check cutter, joint and stock", inUnit(v, u), inUnit(CorrectionMost, u))
		}
	}
	f.Made = f.Setting.Wrong(joint.Error{DZ: c.Height, E: -c.Fence})
	if f.Made == nil {
		return errors.New("the correction leaves no joint")
	}
	if p, q := f.Setting.Passes[f.Request.Pass], f.Made.Passes[f.Request.Pass]; p.Height == q.Height && p.Fence == q.Fence {
		return fmt.Errorf("the %s pass is the one that the other is set to match; correct that of the second cutter", p.Name)
	}
	return f.Made.Fits(f.Request.Shop.Table)
}

// CorrectionWords says a correction in the units, "mm" or "in"; "" for none.
func CorrectionWords(c shelf.Correction, units string) string {
	var out []string
	say := func(what string, v float64, more, less string) {
		if v > 0 {
			out = append(out, what+" "+inUnit(v, units)+" "+more)
		} else if v < 0 {
			out = append(out, what+" "+inUnit(-v, units)+" "+less)
		}
	}
	say("the cutter", c.Height, "higher", "lower")
	say("the fence", c.Fence, "farther forward", "farther back")
	return strings.Join(out, ", ")
}

// corrected is the request's correction in words, "" without one.
func (r Request) corrected() string { return CorrectionWords(r.Applied, r.Shop.Units) }
