package main

import (
	"os"

	"github.com/vbauerster/mpb/v8"
	"github.com/vbauerster/mpb/v8/decor"
	"golang.org/x/term"
)

// A bar shows on a terminal how far long work is; elsewhere it does nothing.
type bar struct {
	all *mpb.Progress
	one *mpb.Bar
}

// newBar shows a bar for n steps where standard error is a terminal and there is more
// than one.
func newBar(s *streams, n int) *bar {
	f, ok := s.err.(*os.File)
	if !ok || n < 2 || !term.IsTerminal(int(f.Fd())) {
		return &bar{}
	}
	all := mpb.New(mpb.WithOutput(f), mpb.WithWidth(40))
	one := all.AddBar(int64(n), mpb.BarRemoveOnComplete(),
		mpb.PrependDecorators(decor.CountersNoUnit("%d of %d fixtures ")),
		mpb.AppendDecorators(decor.Elapsed(decor.ET_STYLE_GO)))
	return &bar{all, one}
}

func (b *bar) shown() bool { return b.all != nil }

// step says that one more is done. Several goroutines may.
func (b *bar) step() {
	if b.one != nil {
		b.one.Increment()
	}
}

// end takes the bar away.
func (b *bar) end() {
	if b.one != nil {
		b.one.Abort(true) // nothing after a complete one
		b.all.Wait()
	}
}
