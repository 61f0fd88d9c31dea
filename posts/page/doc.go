// Package page writes the page of a shelf: all fixtures of a shop in one HTML file
// that stands for itself, to be opened from the folder it lies in.
//
// The package knows no trade: a [Card] holds texts and a small drawing. Every text is
// escaped for its place. Without scripts the page shows all cards; one inline script,
// the only one that the browser is told to run, adds a search and filters, all of them
// reached by keyboard: "/" goes to the search, Escape empties it. States differ in
// words and signs, not in colour alone. The same cards give the same bytes.
package page
