// Package svg builds scalable vector drawings for paper: true size, arcs as
// arcs, dimension lines, leaders, hatches and lettering.
//
// Everything is given in page coordinates: mm, X right and Y up from the page's
// lower left corner; [View] carries a part there. The result is one
// self-contained document: no script, no style sheet, no font and no picture
// from elsewhere, and looks are attributes, so that every program that knows
// paths can read it. Coordinates are written in mm with four decimals (0.1 µm).
// The same calls give the same bytes.
//
// Text comes from files of other people. It is escaped, control and direction
// characters are taken out, and it is only ever character data.
//
// Source: Scalable Vector Graphics (SVG) 1.1, W3C Recommendation.
package svg
