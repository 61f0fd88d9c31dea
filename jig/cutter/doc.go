// Package cutter reads the description of a router-table profile cutter and
// answers how far it reaches.
//
// A cutter stands in the file cutters/HANDLE.toml of a shop folder. In its own
// frame X is the radius r from the spindle's axis and Y the height h along it,
// h = 0 at the end of the cutting edge nearest the shank. In a router table the
// shank points down, so h grows upward. Bulges are counter-clockwise positive in
// that view. All lengths are mm once read; a file in inches is converted once.
//
// A cutter that was read obeys: r ≥ 0 and |h|, r ≤ 500 everywhere; h never falls
// along profile and body by more than [geom.Tol], inside arcs too; neighbouring
// points differ; |bulge| ≤ 1; the profile has some height; the body stands
// nowhere out of the cutting edge. The package does not know settings, stock or
// tables.
//
// A profile measured on a scan says so: traced = { centre = 0.012, profile = 0.018 } gives
// the lengths by which both are off at most, with 95 % certainty.
package cutter
