package gcode

import "github.com/paulmach/orb"

// A Word is a letter and its number. The words of a whole program lie in one
// slab; a block is a range of it. A word takes 16 bytes.
type Word struct {
	Value  float64
	Off    uint32 // byte offset in Program.Text; column = Off - Block.Off + 1
	Letter byte   // upper case
	code   uint16 // of G and M words: ten times the number, noCode if there is no such code
}

// noCode marks a G or M word whose number can be no code.
const noCode = 0xFFFF

// A Block is one line of the program that has words: Words[First:End].
type Block struct {
	First, End uint32
	Off        uint32 // byte offset of the line's first byte
	Line       uint32 // counted from 1
	Skip       bool   // starts with the block-delete slash
	Bad        bool   // has a syntax fault: some of its words may be missing
}

// A Program is a parsed RS-274 text.
type Program struct {
	Name   string
	Text   []byte
	Words  []Word
	Blocks []Block

	semicolons []mark // where comments start with a semicolon
	percents   []mark // lines of a percent sign
}

// A mark is a place in the text that only some dialects object to.
type mark struct{ off, lineOff, line uint32 }

// A Finding is one thing wrong with a program.
type Finding struct {
	File         string
	Line, Column int    // counted from 1, in bytes; 0 = the whole program
	Code, Text   string // Code as in codes.go
}

// Op says what a move does.
type Op = uint8

// The kinds of moves.
const (
	Rapid Op = iota // G0
	Line            // G1
	CW              // G2
	CCW             // G3
	Dwell           // G4: no motion, Feed holds the seconds
	Pause           // M0: no motion, the operator goes on
)

// Planes of arcs: G17, G18, G19.
const (
	PlaneXY uint8 = iota
	PlaneZX
	PlaneYZ
)

// A Move is one motion of the tool tip in mm, absolute, in the program's own
// coordinates. Centre is an arc's centre in the two coordinates of its plane
// (XY; Z, X for PlaneZX; Y, Z for PlaneYZ). An arc whose end is its start in the
// plane is a full circle. The same type carries what route plans, what Print
// writes and what Run reads back.
type Move struct {
	From, To  [3]float64
	Centre    orb.Point
	Feed      float64 // mm/min along the path; seconds for Dwell
	RPM       float64 // spindle speed while moving; 0 = off, negative = counter-clockwise (M4)
	Block     uint32  // index of the block it comes from
	Op, Plane uint8
	Job       uint8 // index of the part it belongs to, when planned here
}

// A Listing is a program about to be printed.
type Listing struct {
	Head  []string       // comment lines at the top; the first states units and zero
	Notes map[int]string // comment printed before Moves[i]
	Moves []Move
	Inch  bool    // words in inches (G20); Moves stay mm
	Dwell float64 // s, waited after the spindle starts
	Dial  bool    // spindle without speed control: pause for the operator, naming the speed, before it starts
}
