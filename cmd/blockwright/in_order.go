package main

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
)

// waiting is how many more workers there are than cores: for those that wait for the
// disk.
const waiting = 2

// inOrder does the work for every item on all cores and hands out the results in the
// order of the items, each as soon as it and all before it are there. take returns
// false to stop: nothing else is begun, what has begun is finished and handed out. It
// also stops when ctx ends.
func inOrder[T, R any](ctx context.Context, items []T, work func(T) R, take func(int, R) bool) {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	workers := min(runtime.GOMAXPROCS(0)+waiting, len(items))
	type outcome struct {
		r     R
		panic any
	}
	results := make([]chan outcome, len(items)) // each waits here until its turn comes
	for i := range results {
		results[i] = make(chan outcome, 1)
	}
	do := func(i int) (o outcome) {
		defer func() {
			if p := recover(); p != nil {
				o.panic = fmt.Sprintf("%v\n%s", p, debug.Stack())
			}
		}()
		return outcome{r: work(items[i])}
	}
	var next int
	var mu sync.Mutex
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			for {
				mu.Lock()
				i := next
				if i < len(items) && ctx.Err() == nil {
					next++
				} else {
					next, i = len(items), len(items)
				}
				mu.Unlock()
				if i == len(items) {
					return
				}
				results[i] <- do(i)
			}
		})
	}
	done := make(chan struct{})
	go func() {
		wait.Wait()
		close(done)
	}()
	for i := range results {
		var o outcome
		select {
		case o = <-results[i]:
		case <-done:
			select {
			case o = <-results[i]:
			default:
				return // never begun
			}
		}
		if o.panic != nil {
			panic(o.panic)
		}
		if !take(i, o.r) {
			stop()
		}
	}
	<-done
}
