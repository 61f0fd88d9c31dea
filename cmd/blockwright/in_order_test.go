package main

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestInOrder(t *testing.T) {
	items := make([]int, 50)
	for i := range items {
		items[i] = i
	}
	square := func(i int) int {
		time.Sleep(time.Duration(i*7%5) * 100 * time.Microsecond)
		return i * i
	}
	var got []int
	inOrder(t.Context(), items, square, func(i, r int) bool {
		require.Equal(t, i*i, r)
		got = append(got, i)
		return true
	})
	require.Equal(t, items, got)

	got = nil
	inOrder(t.Context(), items, square, func(i, _ int) bool {
		got = append(got, i)
		return i < 9
	})
	require.GreaterOrEqual(t, len(got), 10)
	require.Less(t, len(got), len(items))
	require.Equal(t, items[:len(got)], got, "what has begun is handed out")

	ctx, stop := context.WithCancel(t.Context())
	got = nil
	inOrder(ctx, items, func(i int) int {
		if i == 5 {
			stop()
		}
		return square(i)
	}, func(i, _ int) bool {
		got = append(got, i)
		return true
	})
	require.Less(t, len(got), len(items))
	require.Equal(t, items[:len(got)], got)
	inOrder(t.Context(), nil, square, func(int, int) bool { panic("no item") })
	require.PanicsWithValue(t, "stop", func() {
		defer func() {
			p := recover()
			require.Contains(t, p, "boom")
			panic("stop")
		}()
		inOrder(t.Context(), items, func(int) int { panic("boom") }, func(int, int) bool { return true })
	})
}
