package main

import (
	"sync"

	"blockwright/jig/cutter"
	"blockwright/jig/shelf"
	"blockwright/jig/shop"
	"blockwright/posts"
)

// A library is the shop's shelf with what its fixtures are made from: the shop and
// the cutters, each read once. It may be asked from several goroutines.
type library struct {
	*shelf.Shelf
	shop *shop.Shop
	env  func(string) string

	today   posts.Today
	mu      sync.Mutex
	cutters map[string]*foundCutter
}

type foundCutter struct {
	once   sync.Once
	cutter *cutter.Cutter
	err    error
}

// library is the one of the shop that the flags name.
func (s *streams) library() (*library, error) {
	sh, err := s.shop()
	if err != nil {
		return nil, err
	}
	return &library{Shelf: shelf.Open(sh.Dir), shop: sh, env: s.env, cutters: map[string]*foundCutter{}}, nil
}

// cutter is the cutter with the handle.
func (l *library) cutter(handle string) (*cutter.Cutter, error) {
	l.mu.Lock()
	f := l.cutters[handle]
	if f == nil {
		f = &foundCutter{}
		l.cutters[handle] = f
	}
	l.mu.Unlock()
	f.once.Do(func() { f.cutter, f.err = cutter.Find(l.shop.Dir, handle) })
	return f.cutter, f.err
}

// request asks for a recorded fixture again.
func (l *library) request(r *shelf.Record) (posts.Request, error) {
	return posts.Recall(r.Inputs, l.shop, l.cutter, version)
}

// changes are the inputs of a recorded fixture that are not what they were, and what
// its record says of them that cannot be.
func (l *library) changes(r *shelf.Record) ([]string, []shelf.Fault) {
	if wrong := posts.Misstated(r); len(wrong) > 0 {
		return nil, wrong
	}
	now, err := l.request(r)
	if err != nil {
		return []string{err.Error()}, nil
	}
	return l.today.Changes(r, now), nil
}

// prove reads a recorded fixture's files and holds them against the part.
func (l *library) prove(r *shelf.Record, files map[string][]byte, changed bool) ([]shelf.Fault, []string) {
	if changed {
		return posts.Reread(r, files), nil
	}
	now, err := l.request(r)
	if err != nil {
		return nil, []string{err.Error()}
	}
	faults, stale := posts.Reprove(r, files, now)
	if stale != "" {
		return nil, []string{stale}
	}
	return faults, nil
}
