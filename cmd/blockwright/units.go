package main

import "blockwright/posts"

// inUnits is a length in mm as the shop's people read it: to 0.001 mm, or in
// decimal inches to 0.0001 with the nearest 64th of an inch and what is left over.
//
//	19.000 mm
//	0.7480 in (3/4 - 0.0020)
func inUnits(mm float64, units string) string {
	if units != "in" {
		return fixed(mm, 3) + " mm"
	}
	out := fixed(mm/posts.InchMM, 4) + " in"
	if text := posts.Ruler(mm); text != "" {
		out += " (" + text + ")"
	}
	return out
}

// fixed is the number with the given decimals, never a negative zero.
func fixed(v float64, decimals int) string { return posts.Fixed(v, decimals) }
