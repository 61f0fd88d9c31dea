package shop

import _ "embed"

//go:embed start/mm.toml
var startMM []byte

//go:embed start/in.toml
var startInch []byte

//go:embed start/ridge-lock.toml
var startCutter []byte

// Start is the shop.toml of a new shop in the units "mm" or "in", a comment on
// every line. It reads back without a fault.
func Start(units string) []byte {
	if units == "in" {
		return append([]byte(nil), startInch...)
	}
	return append([]byte(nil), startMM...)
}

// StartCutter is the new shop's one cutter, invented, and its handle.
func StartCutter() (handle string, text []byte) {
	return "ridge-lock", append([]byte(nil), startCutter...)
}
