package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"

	"blockwright/jig/cutter"
	"blockwright/jig/shop"
	"blockwright/jig/source"
	"blockwright/posts"
)

// fixturesMost is the greatest number of fixtures that one run makes.
const fixturesMost = 10_000

// A failedCutter is a cutter whose fixtures cannot be made because its file cannot be
// read.
type failedCutter struct {
	handle string
	err    error
}

// requests are the fixtures asked for, each once. A cutter that cannot be read is
// an error if it is the only one, else it is among the failed.
func (f *makeFlags) requests(lib *library) (out []posts.Request, failed []failedCutter, err error) {
	sh := lib.shop
	names := f.posts.items
	if len(names) == 0 {
		names = sh.Defaults.Posts
		if err := postFaults(sh.Defaults); err != nil {
			return nil, nil, err
		}
	}
	if n := len(f.cutters.items) * len(f.stock.words.items) * len(f.kinds); n > fixturesMost {
		return nil, nil, &usageError{err: fmt.Errorf("%d fixtures at once; want at most %d", n, fixturesMost), path: "blockwright make"}
	}
	seen := map[string]bool{}
	for _, handle := range f.cutters.items {
		c, err := lib.cutter(handle)
		var no *cutter.HandleError
		if err != nil && (len(f.cutters.items) == 1 || errors.As(err, &no)) {
			return nil, nil, err
		}
		if err != nil {
			failed = append(failed, failedCutter{handle, err})
			continue
		}
		request, err := f.joint.request(sh, c)
		if err != nil {
			return nil, nil, err
		}
		for i, mm := range f.stock.mm(sh.Units) {
			for _, kind := range f.kinds {
				r := posts.Request{
					Shop: sh, Joint: request(mm),
					Stock: posts.Measure{MM: mm, Unit: source.Unit(f.stock.words.items[i], sh.Units)},
					Kind:  kind, From: f.from.text, Width: f.width.mm(sh.Units), Mill: f.mill.mm(sh.Units), Sheet: f.sheet.text,
					Zero: f.zero.text, Hold: f.hold.text, Posts: names,
					Measured: f.finish.text != "", Version: version,
				}
				for _, r := range posts.EachPass(r) {
					if id := r.ID(); !seen[id] {
						seen[id] = true
						out = append(out, r)
					}
				}
			}
		}
	}
	return out, failed, nil
}

// postFaults are the names among the shop's posts that no writer has.
func postFaults(d shop.Defaults) error {
	var faults source.Faults
	for i, name := range d.Posts {
		if !slices.Contains(posts.PostNames(), name) {
			faults = append(faults, source.Fault{
				Pos: d.PostsAt[i], Key: fmt.Sprintf("defaults.posts[%d]", i+1),
				Have: strconv.Quote(name), Want: source.Choice(posts.PostNames()),
			})
		}
	}
	return faults.Err()
}
