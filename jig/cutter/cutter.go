package cutter

import "blockwright/geom"

// A Cutter is a router-table profile cutter. All lengths are mm whatever the
// file's units.
type Cutter struct {
	Handle  string    // file name without .toml, [a-z0-9-]{1,40}
	Name    string    // shown and engraved only
	Joint   string    // lock-miter, drawer-lock, edge-glue, matched, edge
	Units   string    // units of the file: "mm" or "in"
	Shank   float64   // diameter, 0 = not stated
	MaxRPM  float64   // as marked on the cutter, 0 = not stated
	Profile geom.Path // open; X is the radius r, Y the height h, h never falling
	Body    geom.Path // open, same frame; no vertices where not stated
	Hash    string    // SHA-256 of its file in hexadecimal
	Known   [2]bool   // whether the shifts of the profile in r and in h are known
	Traced  *Traced   // what a profile rests on that was measured on a scan; nil for others
}

// Traced says how sure a profile is that was measured on a scan: with 95 % certainty
// neither is off by more. Lengths are mm.
type Traced struct {
	Centre  float64 // the centre of symmetry, 0 where the joint has none
	Profile float64 // the profile, square to it
}

// Joints are the words a cutter's joint may be.
var Joints = []string{"lock-miter", "drawer-lock", "edge-glue", "matched", "edge"}
