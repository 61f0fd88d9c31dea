// Package outside runs the programs that check our output from outside: an
// RS-274 interpreter and Python with its geometry and DXF libraries. Nothing of
// this project is imported here, so every package's tests may use it.
//
// The tests that do are built with the tag outside. A checker that is missing
// fails the test: a check that was not made must not look like one that passed.
package outside
