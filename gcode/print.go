package gcode

import (
	"bufio"
	"io"
	"math"
)

// MostLength is the greatest coordinate in mm that Print writes: the size for
// which the plane kernel promises its tolerance.
const MostLength = 10000

// within tells whether a coordinate in mm can be written. What was read from a word
// that stood for MostLength may lie half a step of that word beyond it.
func within(mm float64) bool { return math.Abs(mm) <= MostLength+1e-3 }

// Print writes a program of the dialect. Its first error is kept and returned: a
// value that is no number or beyond any machine, a feed move without a feed, or
// the writer's own.
//
// The program states units, plane and modes at its top, lifts Z before anything
// else (to the height of the first move's end, or to the highest of all moves if
// the first one is no lift), writes S and M3 before the first move that has a
// speed and waits there, and ends with M5 and M30. Each line names its motion
// code; coordinates that stay, and the feed that stays, are left out.
//
// Arcs are written with offsets and sweep at most a half circle. Start, end and
// centre are points of the grid of the last decimal, chosen so that the radii
// differ by less than a quarter of what the dialect allows. An arc that would not
// survive rounding is written as lines within half a step of it.
//
// Parse and Run give the same moves back, every coordinate within half a unit of
// its last decimal; arcs come back in parts, and moves of no length do not.
func Print(w io.Writer, d *Dialect, l Listing) error {
	p := newPrinter(w, d, l)
	for _, line := range l.Head {
		p.comment(line)
	}
	p.start(l)
	for i := range l.Moves {
		if note, ok := l.Notes[i]; ok {
			p.comment(note)
		}
		p.move(&l.Moves[i])
	}
	if note, ok := l.Notes[len(l.Moves)]; ok {
		p.comment(note)
	}
	p.words("M5")
	p.words("M30")
	if p.err == nil {
		p.err = p.w.Flush()
	}
	return p.err
}

// printer holds what the controller will hold when it has read the text so far.
type printer struct {
	w   *bufio.Writer // written through line and comment only, which keep err
	err error
	d   *Dialect

	unit     float64 // mm per unit of the words
	decimals int
	wait     float64
	dial     bool

	buf     []byte
	at      [3]int64 // in steps of the last decimal
	known   [3]bool
	feed    int64
	rpm     int64
	plane   uint8
	lifting bool // nothing but the lift at the start is written
	number  int  // of the move, for errors
}

func newPrinter(w io.Writer, d *Dialect, l Listing) *printer {
	p := &printer{w: bufio.NewWriter(w), d: d, unit: 1, decimals: d.Decimals, wait: l.Dwell, dial: l.Dial, feed: -1}
	if l.Inch {
		p.unit, p.decimals = 25.4, d.Decimals+1
	}
	return p
}

// start writes what has to be in force before the first move.
func (p *printer) start(l Listing) {
	units := "G21"
	if l.Inch {
		units = "G20"
	}
	p.words(units + " G17 G90")
	p.words("G40 G49 G94 G80")
	p.words("G54 G61") // exact path: blending would cut corners (NISTIR 6556, 3.5.14)
	var up *Move
	for i := range l.Moves {
		m := &l.Moves[i]
		if m.Moves() {
			if m.Op == Rapid && m.From[0] == m.To[0] && m.From[1] == m.To[1] {
				up = m
			}
			break
		}
	}
	z, any := math.Inf(-1), false
	if up != nil {
		z, any = up.To[2], true
	} else {
		for i := range l.Moves {
			if m := &l.Moves[i]; m.Moves() {
				z, any = math.Max(z, math.Max(m.From[2], m.To[2])), true
			}
		}
	}
	if any {
		p.line("G0")
		p.axis(2, z)
		p.end()
		p.lifting = true
	}
}

// move writes one move.
func (p *printer) move(m *Move) {
	p.number++
	switch m.Op {
	case Pause:
		p.spindle(m.RPM)
		p.words("M0")
		return
	case Dwell:
		p.spindle(m.RPM)
		p.dwell(m.Feed)
		return
	case Rapid, Line, CW, CCW:
	default:
		p.fail("op %d is no move", m.Op)
		return
	}
	p.spindle(m.RPM)
	for k := range 3 {
		if !within(m.From[k]) {
			p.fail("%c is %v; want at most %d mm", 'X'+k, m.From[k], MostLength)
			return
		}
		if d := p.grid(k, m.From[k]) - p.at[k]; p.known[k] && (d > 1 || d < -1) && !(k == 2 && p.lifting) {
			p.fail("starts at %c%s, the one before it ends at %s mm", 'X'+k, Number(m.From[k], 6), Number(p.mm(p.at[k]), 6))
			return
		}
	}
	p.lifting = false
	if m.Cuts() && !(m.Feed > 0 && m.Feed < 1e7) {
		p.fail("feed is %v; want more than 0 and less than 1e7 mm/min", m.Feed)
		return
	}
	if m.Cuts() && !(p.known[0] && p.known[1]) {
		p.straight(Rapid, [3]float64{m.From[0], m.From[1], p.mm(p.at[2])}, 0)
		p.straight(Rapid, m.From, 0)
	}
	if m.Arc() {
		p.arc(m)
		return
	}
	if m.Op == Rapid && m.From[0] == m.To[0] && m.From[1] == m.To[1] && !p.known[0] && !p.known[1] {
		// A lift from wherever the machine stands.
		if p.grid(2, m.To[2]) != p.at[2] {
			p.line("G0")
			p.axis(2, m.To[2])
			p.end()
		}
		return
	}
	p.straight(m.Op, m.To, m.Feed)
}

// straight writes a line to a place, unless the tool stands there.
func (p *printer) straight(op Op, to [3]float64, feed float64) {
	same := true
	for k := range 3 {
		same = same && p.known[k] && p.grid(k, to[k]) == p.at[k]
	}
	if same || p.err != nil {
		return
	}
	p.line([2]string{"G0", "G1"}[op])
	for k := range 3 {
		p.axis(k, to[k])
	}
	if op != Rapid {
		p.feedWord(feed)
	}
	p.end()
}
