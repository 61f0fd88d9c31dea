// Package plate designs the fixtures as flat plates that are cut from sheet.
//
// A plate has an outline, its nominal shape, and seats: the stretches of the
// outline that touch the cutter, the table or the fence and must therefore be
// right. [Fit] turns a plate into what a given end mill will leave of it, the
// wall. Along a seat wall and outline are one; clearances, eased corners and
// corner reliefs are in the wall and never in the outline. Every inside radius
// of a wall is at least the mill's, so the mill can cut the wall exactly.
//
// Plate coordinates are mm. X is x, the distance out of the fence face. For an
// upright plate Y is z, the height above the table; for a plate that lies flat Y
// runs along the fence, 0 at the spindle. On the sheet a plate is moved and
// never turned or mirrored.
//
// Roles are geometry, not edge numbers: a seat is an open path that lies on the
// outline, an edge is free where it is farther than a mill's diameter from every
// seat.
package plate
