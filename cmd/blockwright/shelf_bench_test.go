package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"blockwright/jig/shelf"
	"blockwright/posts"
)

// crowded is a shop whose shelf has n fixtures, all alike but for names and stock.
func crowded(b *testing.B, n int) string {
	b.Helper()
	b.Chdir(b.TempDir())
	command(b, "init")
	command(b, "make", "block", "--cutter", "ridge-lock", "--stock", "19")
	s := shelf.Open(".")
	r, files, _, err := s.LoadAll("ridge-lock-19mm-block")
	require.NoError(b, err)
	for i := range n - 1 {
		c := *r
		c.Inputs.Stock = 20 + float64(i)/200
		c.ID = "ridge-lock-" + posts.Measure{MM: c.Inputs.Stock, Unit: "mm"}.String() + "-block"
		dir := filepath.Join("fixtures", c.ID)
		require.NoError(b, os.MkdirAll(dir, 0o755))
		require.NoError(b, os.WriteFile(filepath.Join(dir, shelf.FileName), c.Text(), 0o644))
		for ext, text := range files {
			require.NoError(b, os.WriteFile(filepath.Join(dir, c.ID+"."+ext), text, 0o644))
		}
	}
	return "."
}

// command runs the program in this process and wants it to succeed.
func command(b *testing.B, args ...string) string {
	var out, errs bytes.Buffer
	status := run(args, strings.NewReader(""), &out, &errs, func(string) string { return "" })
	require.Zero(b, status, errs.String())
	return out.String()
}

func BenchmarkShelfList1000(b *testing.B) {
	crowded(b, 1000)
	for b.Loop() {
		out := command(b, "shelf", "list")
		require.Equal(b, 1000, strings.Count(out, " whole "))
	}
}

// A batch of all kinds, and the same beside a thousand fixtures: the time for each
// fixture is the same.
func BenchmarkBatch(b *testing.B) {
	for _, n := range []int{1, 1000} {
		b.Run(fmt.Sprintf("beside %d", n), func(b *testing.B) {
			crowded(b, n)
			for b.Loop() {
				command(b, "make", "block,gauge,strip,coupon,trial,facing", "--cutter", "ridge-lock", "--stock", "15,17,20,24", "--force")
			}
			b.ReportMetric(b.Elapsed().Seconds()*1000/float64(b.N)/24, "ms/fixture")
		})
	}
}
