package shelf

import (
	"context"
	"fmt"
	"maps"
	"slices"
)

// Put places a fixture on the shelf: the record with the files it lists by ending.
// r.Files is filled in from them. A fixture of the same ID is replaced; its history
// stays, its stages and its retirement end. The error is of the disk, of the form of
// what is put, or of ctx.
func (s *Shelf) Put(ctx context.Context, r *Record, files map[string][]byte) error {
	r.Files = list(files)
	return s.locked(ctx, func(b *bench) error {
		if old, err := s.Load(r.ID); err == nil {
			r.History = old.History
		}
		if err := s.sound(r); err != nil {
			return err
		}
		return b.put(r, files, nil)
	})
}

// Update changes the record of a fixture that stands; its files stay as they are.
// The error is that of [Shelf.Load], of change, of the disk or of ctx.
func (s *Shelf) Update(ctx context.Context, id string, change func(*Record) error) error {
	return s.change(ctx, id, nil, change)
}

// AddStage puts a later stage with its files on a fixture that stands, in place of
// an older stage of the same name. st.Files is filled in.
func (s *Shelf) AddStage(ctx context.Context, id string, st Stage, files map[string][]byte) error {
	st.Files = list(files)
	return s.change(ctx, id, files, func(r *Record) error {
		r.Stages = slices.DeleteFunc(r.Stages, func(old Stage) bool { return old.Name == st.Name })
		for _, f := range st.Files {
			if _, taken := r.File(f.Ext); taken {
				return fmt.Errorf("fixture %s has a file %s already", id, name(id, f.Ext))
			}
		}
		r.Stages = append(r.Stages, st)
		return nil
	})
}

func (s *Shelf) change(ctx context.Context, id string, files map[string][]byte, change func(*Record) error) error {
	if !ValidID(id) {
		return &IDError{id}
	}
	if _, err := s.Load(id); err != nil {
		return err // before a folder is made for nothing
	}
	return s.locked(ctx, func(b *bench) error {
		r, err := s.Load(id)
		if err != nil {
			return err
		}
		old := *r
		old.Stages = slices.Clone(r.Stages)
		if err := change(r); err != nil {
			return err
		}
		if err := s.sound(r); err != nil {
			return err
		}
		return b.put(r, files, &old)
	})
}

// sound reads the record's own text back: what could not be read again is not
// written.
func (s *Shelf) sound(r *Record) error {
	if !ValidID(r.ID) {
		return &IDError{r.ID}
	}
	_, err := Parse(s.Path(r.ID, FileName), r.ID, r.Text())
	return err
}

// list is the entry of each file, in the order of the endings.
func list(files map[string][]byte) []File {
	var out []File
	for _, ext := range slices.Sorted(maps.Keys(files)) {
		out = append(out, File{ext, int64(len(files[ext])), Hash(files[ext])})
	}
	return out
}
