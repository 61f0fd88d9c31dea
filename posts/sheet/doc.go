// Package sheet writes the setup sheet of a fixture: one HTML file that stands for
// itself, to be read on a screen or a phone and to be printed and pinned to the wall.
//
// The package knows no trade: what is said is text in a [Sheet], what is shown is a
// drawing in it. Every text is escaped for its place, whatever it holds. The file has
// no script, loads nothing, and forbids both to the browser; it is well-formed XML as
// well, so that [Read] can hold it against what it was made from.
//
// On paper a drawing keeps its size in mm, and fits A4 and Letter alike where it is
// no larger than [MaxWidth] by [MaxHeight]; on a narrow screen it shrinks to the
// screen. The same sheet gives the same bytes.
package sheet
