// Package shop reads a shop folder's shop.toml: units, router table, machine, end
// mills, engraving tool, sheets, and the choices a flag may override.
//
// Once read, all lengths are mm, feeds mm/min, accelerations mm/s², speeds rpm and
// angles degrees, whatever the units of the file. A shop that was read holds every
// limit stated beside the fields of its types. The package knows no cutter and no
// joint; the text that starts a new shop, its demo cutter included, is here too.
package shop
