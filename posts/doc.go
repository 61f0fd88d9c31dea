// Package posts is the one place where cutter, joint, plate, route, writer, reader
// and proof meet. [Make] turns a request into a fixture and the bytes of its
// files, and proves every program from those bytes before it hands any out. It
// touches no disk.
//
// The way of the data, once through: cutter and shop → joint.Setting →
// plate.Plate → plate.Fit → layout on the sheet → route → moves → writer → bytes
// → reader → proof.
//
// All lengths are mm; the sheet's lower left corner is (0, 0) in every program
// and drawing.
package posts
