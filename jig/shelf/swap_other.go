//go:build !linux

package shelf

import "os"

// exchange swaps two names of the folder dir in one step; here it cannot.
func exchange(*os.File, string, string) error { return errNoExchange }
