package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"blockwright/jig/shelf"
	"blockwright/posts"
)

// fullMost is how many fixtures of one run are told of in full; more are a line each.
const fullMost = 4

// An outcome is a fixture made, or why it was not.
type outcome struct {
	made madeFixture
	err  error
}

// makeFixtures makes all that was asked for on all cores. A fixture that cannot be
// made does not keep the others from it; a disk that cannot be written does.
func makeFixtures(ctx context.Context, s *streams, f *makeFlags) error {
	lib, err := s.library()
	if err != nil {
		return err
	}
	requests, broken, err := f.requests(lib)
	if err != nil {
		return err
	}
	result := makeResult{Fixtures: []madeFixture{}, Failed: []notMade{}}
	if f.witness.set() {
		result.sizes[0], result.sizes[1] = f.witness.mm(lib.shop.Units)
	}
	status := statusDone
	for _, b := range broken {
		result.Failed = append(result.Failed, notMade{b.handle, b.err.Error()})
		status = max(status, statusOf(b.err))
	}
	full := len(requests) <= fullMost
	bar := newBar(s, len(requests))
	lines := newLineTable(s.out, requests)
	var stop error // what ends the run; what was done before is told all the same
	inOrder(ctx, requests, func(r posts.Request) outcome {
		made, err := f.makeOne(ctx, lib, r)
		if !full {
			made.fixture = nil // a thousand of them would take much memory
		}
		bar.step()
		return outcome{made, err}
	}, func(i int, o outcome) bool {
		var inTheWay *shelf.InTheWayError
		switch {
		case o.err == nil:
			result.Fixtures = append(result.Fixtures, o.made)
			if !full && !s.json && !bar.shown() {
				lines.print(o.made, lib)
			}
		case ctx.Err() != nil, statusOf(o.err) == statusFile && !errors.As(o.err, &inTheWay):
			if stop == nil {
				stop = o.err
			}
			return false
		default:
			status = max(status, statusOf(o.err))
			result.Failed = append(result.Failed, notMade{requests[i].ID(), inShopUnits(o.err, lib.shop.Units).Error()})
		}
		return true
	})
	bar.end()
	if stop == nil && ctx.Err() != nil {
		stop = ctx.Err()
	}
	if stop != nil && len(result.Fixtures)+len(result.Failed) == 0 {
		return stop
	}
	if err := s.result(result, func(w io.Writer) error {
		if full {
			return printMade(w, result, lib)
		}
		if bar.shown() {
			for _, m := range result.Fixtures {
				lines.print(m, lib)
			}
		}
		return printSum(w, result, len(requests)+len(broken))
	}); err != nil {
		return err
	}
	if !s.json {
		for _, n := range result.Failed {
			fmt.Fprintln(s.err, onScreen(fmt.Sprintf("blockwright: %s was not made: %s", n.ID, n.Why)))
		}
	}
	switch {
	case stop != nil:
		return stop
	case status == statusDone && len(result.Failed) > 0:
		status = statusFault
	}
	if status != statusDone {
		return &silent{status}
	}
	return nil
}
