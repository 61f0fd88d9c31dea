// Package gcode reads, interprets and prints RS-274 programs: words, blocks, the
// modal interpreter, moves, dialects, and the one number formatter.
//
// The way of a program:
//
//	text → Parse → Program (words in one slab) → Run → Moves
//	Moves → Print → text
//
// Lengths of moves are mm whatever the program's units are, feeds mm/min,
// spindle speeds turns a minute, times seconds. Coordinates are those in which
// the program starts: what it shifts later (G92, G10, another work offset) is
// added back, so a move says where the tool truly goes.
//
// Nothing here returns an error for what a program contains: each fault is a
// [Finding] with line, column and a code that never changes its meaning. What the
// interpreter does not understand is a finding too. It follows
//
//	N = T. R. Kramer, F. M. Proctor, E. Messina, The NIST RS274NGC
//	Interpreter - Version 3, NISTIR 6556, 2000
//
// also where controllers in use are laxer. The tool is a point with three axes:
// rotary axes, cutter radius compensation, probing and parameters are not
// followed, and said so.
package gcode
