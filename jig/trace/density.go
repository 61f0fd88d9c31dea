package trace

import (
	"encoding/binary"
	"io"
)

// This file answers what a picture's file says of the size of its pixels and of the
// way up it is to be seen.

// A header is what the file says beside the pixels.
type header struct {
	dpi         [2]float64 // across and down, 0 where not stated
	turn        int        // orientation 1 to 8 of a photo, 1 as it is
	progressive bool       // a JPEG that keeps all its coefficients in memory
}

// readHeader reads the header of a PNG or JPEG. What it does not understand is as if
// it were not there: the decoder tells of faults.
func readHeader(r io.Reader) header {
	h := header{turn: 1}
	var magic [2]byte
	if _, err := io.ReadFull(r, magic[:]); err != nil {
		return h
	}
	switch magic {
	case [2]byte{0x89, 'P'}:
		h.png(r)
	case [2]byte{0xFF, 0xD8}:
		h.jpeg(r)
	}
	return h
}

// png looks for the chunk pHYs, which stands before the pixels (PNG Specification,
// Third Edition, 11.3.4.3): pixels per unit across and down, unit 1 is the metre.
func (h *header) png(r io.Reader) {
	if _, err := io.CopyN(io.Discard, r, 6); err != nil {
		return
	}
	for range 1000 {
		var c [8]byte
		if _, err := io.ReadFull(r, c[:]); err != nil {
			return
		}
		n, name := int64(binary.BigEndian.Uint32(c[:4])), string(c[4:])
		if name == "IDAT" || name == "IEND" {
			return
		}
		if name == "pHYs" && n == 9 {
			var p [9]byte
			if _, err := io.ReadFull(r, p[:]); err != nil {
				return
			}
			if p[8] == 1 {
				h.dpi = [2]float64{float64(binary.BigEndian.Uint32(p[:4])) * 0.0254, float64(binary.BigEndian.Uint32(p[4:8])) * 0.0254}
				for i, d := range h.dpi {
					// Whole pixels an inch are rounded to whole pixels a metre.
					if w := float64(int(d + 0.5)); d-w < 0.02 && w-d < 0.02 {
						h.dpi[i] = w
					}
				}
			}
			return
		}
		if _, err := io.CopyN(io.Discard, r, n+4); err != nil {
			return
		}
	}
}

// jpeg reads the segments before the first scan: the density of APP0 JFIF (ITU-T
// T.871, 10.1: unit 1 the inch, 2 the centimetre), the orientation of APP1 Exif (tag
// 0x0112 of the first directory, as TIFF 6.0 defines it), and whether the frame is
// progressive (ITU-T T.81, table B.1: marker SOF2).
func (h *header) jpeg(r io.Reader) {
	for range 1000 {
		var m [4]byte
		if _, err := io.ReadFull(r, m[:2]); err != nil || m[0] != 0xFF {
			return
		}
		for m[1] == 0xFF { // fill bytes
			if _, err := io.ReadFull(r, m[1:2]); err != nil {
				return
			}
		}
		if m[1] == 0xDA || m[1] == 0xD9 {
			return
		}
		if m[1] == 0x01 || m[1] >= 0xD0 && m[1] <= 0xD7 {
			continue
		}
		if _, err := io.ReadFull(r, m[2:]); err != nil {
			return
		}
		n := int(binary.BigEndian.Uint16(m[2:])) - 2
		if n < 0 {
			return
		}
		seg := make([]byte, n)
		if _, err := io.ReadFull(r, seg); err != nil {
			return
		}
		switch {
		case m[1] == 0xC2:
			h.progressive = true
		case m[1] == 0xE0 && n >= 12 && string(seg[:5]) == "JFIF\x00":
			x, y := float64(binary.BigEndian.Uint16(seg[8:])), float64(binary.BigEndian.Uint16(seg[10:]))
			switch seg[7] {
			case 1:
				h.dpi = [2]float64{x, y}
			case 2:
				h.dpi = [2]float64{x * 2.54, y * 2.54}
			}
		case m[1] == 0xE1 && n >= 14 && string(seg[:6]) == "Exif\x00\x00":
			if t := orientation(seg[6:]); t > 0 {
				h.turn = t
			}
		}
	}
}

// orientation of a TIFF header and its first directory, 0 if there is none.
func orientation(b []byte) int {
	var o binary.ByteOrder = binary.LittleEndian
	if string(b[:2]) == "MM" {
		o = binary.BigEndian
	}
	at := int64(o.Uint32(b[4:8]))
	if at < 8 || at+2 > int64(len(b)) {
		return 0
	}
	n := int64(o.Uint16(b[at:]))
	for i := range n {
		p := at + 2 + 12*i
		if p+12 > int64(len(b)) {
			return 0
		}
		if o.Uint16(b[p:]) == 0x0112 {
			if v := int(o.Uint16(b[p+8:])); v >= 1 && v <= 8 {
				return v
			}
			return 0
		}
	}
	return 0
}
