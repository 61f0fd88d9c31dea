// Blockwright sets up joint cutters in a router table: it works out where cutter
// and fence have to stand, and writes the milling programs and drawings of the
// fixtures that put them there.
//
// This package holds the commands. Each is flags, one call into a package below,
// and one print; only here are files written and is anything printed. Results go
// to standard output, everything else to standard error. The exit status is 0
// when the work is done, 1 for a fault in the user's file or program or a wish
// that cannot be met, 3 for a wrong command line, and 4 if a file cannot be read
// or written. It is never 2.
package main
