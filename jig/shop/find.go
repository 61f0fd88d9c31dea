package shop

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Variable is the environment's variable that names the shop's folder.
const Variable = "BLOCKWRIGHT_SHOP"

// A MissingError tells where a shop was looked for and not found.
type MissingError struct{ Where string }

func (e *MissingError) Error() string {
	return fmt.Sprintf("no %s in %s; want a shop's folder by --shop or %s, or start one with init", FileName, e.Where, Variable)
}

// Is makes the error one of a file that does not exist.
func (e *MissingError) Is(target error) bool { return target == fs.ErrNotExist }

// Find is the folder of the shop: flag if it is not empty, else env, the value of
// [Variable], if that is not empty, else start or the nearest of its parents that
// has a shop.toml. An empty start is the working directory; below it the answer is
// a relative path. The error is a [*MissingError] or an [*fs.PathError].
func Find(start, flag, env string) (string, error) {
	for _, dir := range []string{flag, env} {
		if dir == "" {
			continue
		}
		ok, err := isShop(dir)
		if err == nil && !ok {
			err = &MissingError{dir}
		}
		return dir, err
	}
	if start == "" {
		start = "."
	}
	whole, err := filepath.Abs(start)
	if err != nil {
		return "", err
	}
	dir := filepath.Clean(start)
	for range strings.Count(filepath.ToSlash(whole), "/") + 1 {
		ok, err := isShop(dir)
		if ok || err != nil {
			return dir, err
		}
		dir = parent(dir)
	}
	return "", &MissingError{start + " and its parents"}
}

// parent is the folder above, also for ".", ".." and "../..".
func parent(dir string) string {
	if base := filepath.Base(dir); base == "." || base == ".." {
		return filepath.Join(dir, "..")
	}
	return filepath.Dir(dir)
}

func isShop(dir string) (bool, error) {
	_, err := os.Stat(filepath.Join(dir, FileName))
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	return err == nil, err
}
