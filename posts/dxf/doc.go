// Package dxf writes and reads plane drawings in the drawing exchange format,
// ASCII, of the years R12 (AC1009) and R2000 (AC1015).
//
// A [Drawing] is a list of layers, each with paths of lines and arcs, circles
// and texts. Lengths are mm, X right and Y up. Arcs stay arcs: the bulge of
// [geom.Vertex] is the format's own (group 42). There are no splines, ellipses,
// blocks, hatches or solids; the reader counts what it leaves out in
// [Drawing.Skipped], and [Drawing.Region] refuses a layer that lost shape by it.
//
// Coordinates are written with nine decimals and bulges with twelve, so what is
// read again lies within 1e-9 mm. The same drawing gives the same bytes.
//
// Source of group codes, tables and their order: DXF Reference.
package dxf
