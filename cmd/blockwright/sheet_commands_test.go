package main

import (
	"bytes"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every command that a setup sheet asks its reader to type is one that blockwright
// takes as it stands, whatever the kind of fixture, the joint and the shop's units.
func TestSheetsCommandsRun(t *testing.T) {
	cutters, err := filepath.Abs("../../testdata/cutters")
	require.NoError(t, err)
	called := func(args ...string) (int, string) {
		var stdout, stderr bytes.Buffer
		status := run(args, strings.NewReader(""), &stdout, &stderr, func(string) string { return "" })
		return status, stderr.String()
	}
	command, tag := regexp.MustCompile(`(?s)<code[^>]*>(.*?)</code>`), regexp.MustCompile(`<[^>]*>`)
	for _, units := range []string{"mm", "in"} {
		dir := t.TempDir()
		t.Chdir(dir)
		status, said := called("init", ".", "--units", units)
		require.Zero(t, status, said)
		require.NoError(t, os.CopyFS("more", os.DirFS(cutters)))
		for _, name := range []string{"drawer", "glue", "tongue", "groove", "round-over"} {
			require.NoError(t, os.Rename("more/"+name+".toml", "cutters/"+name+".toml"))
		}
		for _, args := range []string{
			"block --finish measured --cutter ridge-lock --stock 19mm",
			"trial --cutter ridge-lock --stock 3/4in",
			"coupon --cutter drawer --stock 18mm --side 1/2in --overlay 3mm",
			"coupon --cutter glue --stock 19mm --skim 0.5mm",
			"coupon --cutter tongue --with groove --stock 3/4in",
			"coupon --cutter round-over --stock 19mm --at 6.35mm,6mm=0mm,6mm",
		} {
			status, said := called(append([]string{"make", "--post", "rs274ngc,sheet"}, strings.Fields(args)...)...)
			require.Zero(t, status, "%s: %s", args, said)
		}
		sheets, err := filepath.Glob("fixtures/*/*.html")
		require.NoError(t, err)
		require.Len(t, sheets, 6)
		seen := map[string]bool{}
		for _, name := range sheets {
			text, err := os.ReadFile(name)
			require.NoError(t, err)
			found := command.FindAllStringSubmatch(string(text), -1)
			require.NotEmpty(t, found, name)
			for _, c := range found {
				line := html.UnescapeString(tag.ReplaceAllString(c[1], ""))
				args, ours := strings.CutPrefix(line, "blockwright ")
				require.True(t, ours, "%s: %s", name, line)
				status, said := called(strings.Fields(args)...)
				assert.Zero(t, status, "%s: %s: %s", name, line, said)
				seen[strings.Join(strings.Fields(args)[:2], " ")] = true
			}
		}
		for _, want := range []string{"adjust flip", "adjust tip", "adjust corner", "adjust edge", "adjust trial"} {
			assert.True(t, seen[want], want)
		}
	}
}
