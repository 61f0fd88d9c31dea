package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the README's output and picture anew")

// TestReadme runs the commands that README.md shows, in its order and in a new
// folder, and holds the output that it shows, and its picture, against what they
// print and draw today.
func TestReadme(t *testing.T) {
	root, err := filepath.Abs("../..")
	require.NoError(t, err)
	name := filepath.Join(root, "README.md")
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	dir := t.TempDir()
	t.Chdir(dir)

	const open, end = "```console\n", "```\n"
	var out strings.Builder
	rest := string(text)
	blocks := 0
	for {
		before, block, found := strings.Cut(rest, open)
		out.WriteString(before)
		if !found {
			break
		}
		block, after, closed := strings.Cut(block, end)
		require.True(t, closed, "a console block is not closed")
		command, _, _ := strings.Cut(block, "\n")
		args, ours := strings.CutPrefix(command, "$ blockwright ")
		require.True(t, ours, command)
		var stdout, stderr bytes.Buffer
		status := run(strings.Fields(args), strings.NewReader(""), &stdout, &stderr, func(name string) string {
			return map[string]string{"SOURCE_DATE_EPOCH": "1795608000"}[name] // 2026-11-25, for what bears a date
		})
		require.Zero(t, status, "%s: %s", command, stderr.String())
		out.WriteString(open + command + "\n" + stdout.String() + end)
		if strings.HasPrefix(args, "init ") {
			t.Chdir(filepath.Join(dir, "shop"))
		}
		rest = after
		blocks++
	}
	require.Positive(t, blocks)
	drawn, err := os.ReadFile("fixtures/ridge-lock-19mm-block/ridge-lock-19mm-block.svg")
	require.NoError(t, err)
	picture := filepath.Join(root, "testdata", "readme", "block.svg")
	if *update {
		require.NoError(t, os.WriteFile(name, []byte(out.String()), 0o644))
		require.NoError(t, os.WriteFile(picture, drawn, 0o644))
		return
	}
	const meant = "meant? go test ./cmd/blockwright -run TestReadme -update, then read the diff"
	require.Equal(t, string(text), out.String(), meant)
	want, err := os.ReadFile(picture)
	require.NoError(t, err)
	require.Equal(t, string(want), string(drawn), meant)
}
