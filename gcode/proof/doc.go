// Package proof holds the moves of a milling program against the part that they
// should leave: the last gate before a program is written.
//
// It takes moves from anywhere, planned or read back, and assumes nothing of how
// they were made; it shares no code with the planner. Lengths are mm, angles
// radians, feeds mm/min. The mill is a flat end mill of the stated diameter; what
// stands above a place that it passes is gone.
//
// [Hold] gives the gouge, the leftover, the tabs, and what is dangerous in the
// motions themselves. No move is sampled. A move that meets no wall has its least
// distance to it in closed form; a greatest distance is searched by branch and
// bound until it is certain to [Certain]. Where a search is given up, its bound
// stands: a figure is never too small.
//
// Below the safe height a program of our own stays over the sheet, wherever it is
// known: what holds the sheet stands beside it.
//
// Waste that nothing holds when the program has ended is looked for in squares of
// half a millimetre: in holes, in bays whose mouth the kerf closes, between parts.
//
// Not covered: what bends, the mill's wear, and controllers
// that round corners unasked; an arc outside the XY plane with a third axis moving is
// followed to within its chords' rise, which is added to the gouge.
package proof
