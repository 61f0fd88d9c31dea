// Package joint works out where cutter and fence have to stand, what thickness
// of board a cutter can join, and what an error of the setting does.
//
// A joint is two straight passes over a router table and an isometry of the
// section plane that lays the second board against the first. It closes exactly
// when the cut line of the second board, so moved, lies on that of the first.
// The kinds of joint are rows of one table ([Kinds]); they differ in how the
// boards lie in each pass, in the isometry, and in how height and fence follow
// from the cutter and the boards.
//
// Lengths are mm. The cutter's frame is (r, h): radius from the spindle axis,
// height along it, the shank below. The table's frame is (x, z): x out of the
// fence face towards the operator, z up from the table. A setting (H, D) puts
// the cutter's h = 0 at z = H and its axis D behind the fence face, so the cut
// line is
//
//	X(z) = r(z - H) - D
//
// and a straight pass removes every point of the board with x < X(z). At a
// shoulder, where the profile runs level, X is the larger value.
//
// A flat board has the section x ≥ 0, 0 ≤ z ≤ T; an upright one 0 ≤ x ≤ T,
// z ≥ 0. The face that will be inside a corner goes down (flat) or against the
// fence (upright): common practice, no source.
//
// Settings are exact: arcs stay arcs and closed forms are used, so figures agree
// within geom.Tol with those of any other exact calculation. Cutting forces,
// runout and the movement of wood are not considered here.
package joint
