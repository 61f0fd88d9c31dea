package main

import (
	"context"
	"errors"
	"maps"
	"os"
	"path/filepath"
	"slices"

	"blockwright/gcode/proof"
	"blockwright/jig/joint"
	"blockwright/jig/shelf"
	"blockwright/jig/source"
	"blockwright/posts"
)

// makeOne makes a fixture and writes its files: to the shelf, or to the folder that
// the flags name.
func (f *makeFlags) makeOne(ctx context.Context, lib *library, r posts.Request) (madeFixture, error) {
	if f.out.path != "" {
		fixture, files, reports, err := f.makeFor(ctx, lib, r)
		if err != nil {
			return madeFixture{}, err
		}
		m := viewMade(fixture, reports)
		m.Files, err = writeFiles(f.out.path, m.ID, files)
		return m, err
	}
	old, intact, unread := lib.standing(r.ID())
	offer, err := f.correction(&r, old)
	if err != nil {
		return madeFixture{}, err
	}
	if intact && !f.force && lib.current(old, r) {
		m := viewKept(old)
		m.Files, m.Offer = lib.paths(old), offer
		return m, nil
	}
	fixture, files, reports, err := posts.Make(ctx, r)
	if err != nil {
		return madeFixture{}, err
	}
	m := viewMade(fixture, reports)
	record := fixture.Record(reports)
	record.Made = today(lib.env)
	if err := lib.Put(ctx, record, files); err != nil {
		return m, err
	}
	m.Files, m.Offer, m.Unread = lib.paths(record), offer, unread
	return m, nil
}

// makeFor makes a fixture for a folder: its second program where a witness was
// measured.
func (f *makeFlags) makeFor(ctx context.Context, lib *library, r posts.Request) (*posts.Fixture, map[string][]byte, map[string]proof.Report, error) {
	if !f.witness.set() {
		return posts.Make(ctx, r)
	}
	x, y := f.witness.mm(lib.shop.Units)
	return posts.Finish(ctx, r, writtenIn(f.out.path, r.ID()), x, y)
}

// writtenIn tells of the files that make wrote to a folder before.
func writtenIn(dir, id string) func(ext string) (shelf.File, bool) {
	return func(ext string) (shelf.File, bool) {
		text, err := os.ReadFile(filepath.Join(dir, id+"."+ext))
		return shelf.File{Ext: ext, Size: int64(len(text)), Hash: shelf.Hash(text)}, err == nil
	}
}

// standing is the record of the fixture that stands on the shelf, nil where there is
// none that can be read, and whether every file of it is what was written. unread
// tells of a record that is there and full of faults.
func (l *library) standing(id string) (r *shelf.Record, intact, unread bool) {
	r, _, faults, err := l.LoadAll(id)
	if err != nil {
		return nil, false, errors.As(err, new(source.Faults))
	}
	return r, len(faults) == 0, false
}

// current tells whether making the request would give what stands there.
func (l *library) current(r *shelf.Record, now posts.Request) bool {
	return r.Version == version && r.Retired == "" && now.Same(r.Inputs) && len(l.today.Changes(r, now)) == 0
}

// correction gives the request the correction of the fixture that stands, or the one
// that its history asks for, as the flags say. It returns what else is on offer.
func (f *makeFlags) correction(r *posts.Request, old *shelf.Record) (*correctionView, error) {
	if old == nil {
		return nil, nil
	}
	if !f.uncorrected {
		r.Applied = old.Inputs.Applied
	}
	if len(old.History) == 0 {
		return nil, nil
	}
	j := r.Joint
	j.Web = max(r.Shop.Defaults.Web, leastWeb)
	set, err := joint.Solve(j)
	if err != nil {
		return nil, err
	}
	if old.Cutters[0].Hash != r.Joint.Cutter.Hash {
		return nil, nil // measured with another profile
	}
	offer, err := old.Offer(set)
	if err != nil {
		return nil, err
	}
	if f.apply {
		r.Applied = offer
	}
	if offer == r.Applied {
		return nil, nil
	}
	return &correctionView{offer.Height, offer.Fence}, nil
}

// paths are the files of a fixture on the shelf, in order.
func (l *library) paths(r *shelf.Record) []string {
	names := map[string]bool{}
	for _, f := range r.Files {
		names[filepath.Join(l.Path(r.ID), r.ID+"."+f.Ext)] = true
	}
	return slices.Sorted(maps.Keys(names))
}
