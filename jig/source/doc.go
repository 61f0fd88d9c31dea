// Package source reads the text files a user writes: TOML with a place for every
// value, lengths with units, and faults that name line and column.
//
// A file is read to its end whatever is wrong with it, so that every fault is
// told at once. A file is refused when it holds a byte that is not UTF-8, a
// control character, a key twice, values nested deeper than 16, or more than a
// million bytes. A byte order mark at the start and lines that end in CR LF are
// allowed. The language is TOML 1.0 with the few liberties of 1.1 that the library
// beneath takes.
//
// Lengths leave this package in millimetres. A number without a unit is in the
// units of the file ("mm" or "in"); the conversion is exact up to the last
// rounding to a float64, so 0.75 in and 19.05 mm are the same number.
//
// Lines, columns and the numbers in keys such as profile[3] count from 1. A
// column counts characters, not bytes.
package source
