// Package trace measures the profile of a cutter on a scan of the end of a board
// that was cut with it.
//
// The picture shows the end face of a board that lay flat on the router table: two
// straight parallel faces and, between them, the cut. The outline is found to a
// fraction of a pixel, straightened to the board's face, and lines and arcs are
// fitted to it, as few as the noise allows.
//
// The board's frame: z = 0 is the face that was down on the table, z grows upward,
// x grows into the board, and x = 0 is the outermost point of the cut. Whether the
// cut end lies left or right in the picture makes no difference; which face was down
// does, and has to be told. Lengths are mm, angles degrees where a name says so.
//
// A scan shows the cut line alone, neither the cutter's axis nor its end: the profile
// is known up to a shift in radius and in height, until a caliper size of each is
// given.
//
// A scan that cannot be used is refused with a *[Refusal] that says why. The package
// opens no files.
package trace
