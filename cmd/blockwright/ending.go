package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"blockwright/jig/source"
)

// wantEnding refuses a file to write whose name does not end as what is written: a
// slip would put a drawing in a cutter's or a program's place.
func wantEnding(cmd *cobra.Command, flag, path string, endings ...string) error {
	if path == "" || slices.Contains(endings, strings.ToLower(filepath.Ext(path))) {
		return nil
	}
	return &usageError{fmt.Errorf("flag --%s: %q; want a file that ends in %s", flag, path, source.Choice(endings)), cmd.CommandPath()}
}
