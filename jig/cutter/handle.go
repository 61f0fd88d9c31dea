package cutter

import (
	"path/filepath"
	"regexp"
	"strings"
)

var handleForm = regexp.MustCompile(`^[a-z0-9][a-z0-9-]{0,39}$`)

// HandleWant says what a handle looks like, for messages.
const HandleWant = "1 to 40 of a-z, 0-9 and -, not - first"

// ValidHandle tells whether the word can be a cutter's handle.
func ValidHandle(s string) bool { return handleForm.MatchString(s) }

// handleOf is the handle that a file's name states, valid or not.
func handleOf(name string) string {
	return strings.TrimSuffix(filepath.Base(filepath.FromSlash(name)), ".toml")
}
