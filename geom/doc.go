// Package geom is a kernel for plane paths of straight lines and circular arcs.
// Arcs stay arcs: no function but [Path.Flatten] replaces one by chords.
//
// Lengths are millimetres, angles radians. X runs right, Y up; counter-clockwise
// is positive; a path is travelled from its first vertex to its last. There are
// no splines, no ellipses and no third axis. Points closer than [Tol] are one
// point, which holds for coordinates up to 10 m from the origin.
//
// The package knows nothing of cutters, plates or files. It uses orb for points
// and boxes and for flattened results, and nothing else from outside.
package geom

// Tol is the distance in mm under which two points are one: what every function
// here promises.
//
// Lower bound: float64 values near 1e4 mm lie 2^-39 = 1.8e-12 mm apart, so a
// hundred roundings err by less than 2e-10. Upper bound: a machine steps 1e-3.
// Not covered: a line that misses tangency to a circle of radius R by e meets it
// sqrt(2Re) from the touching point, 4.5e-6 mm for R = 10, e = 1e-12. So a line
// within Tol of tangent counts as tangent and gives one point.
const Tol = 1e-6

// join is the distance in mm under which this package sews two ends together.
// It lies between rounding (2e-10 at 10 m) and Tol.
const join = 1e-9
