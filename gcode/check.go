package gcode

import (
	"fmt"
	"math"
	"sort"
)

// Setup is what a program meets: the sheet and the machine.
type Setup struct {
	Top  float64 // Z of the sheet's top in the program's coordinates, mm
	Mill bool    // the tool is a router's end mill, which cuts clockwise
	// Travel is the lowest and the highest place the machine reaches, in the
	// program's coordinates; nil = not known.
	Travel  *[2][3]float64
	FeedMax float64 // greatest feed in mm/min; 0 = not known
	Drive   Drive
	SkipOff bool // leave out the blocks with the block-delete slash
}

// slackZ is by how much in mm a height may miss the sheet's top: two steps of the
// last decimal, for the rounding of words.
const slackZ = 2e-4

// Check runs the program as [Program.Run] does, adds up what it does and judges it
// against the sheet and the machine: a feed move below the sheet's top with the
// spindle off or at S0, a rapid across or down below the top, moves out of the
// machine's travel, feeds above its own. each may be nil.
//
// A rapid straight down is let pass where a feed move has been as deep before and
// nothing but Z has moved since: a peck.
func (p *Program) Check(d *Dialect, s Setup, each func(*Move)) (Summary, []Finding) {
	t := newTally(s.Drive)
	t.clock.expect(len(p.Blocks))
	m := newMachine(p, d, nil)
	c := &checker{m: m, s: s, fed: math.Inf(1)}
	m.each = func(mv *Move) {
		c.move(mv)
		t.add(mv)
		if each != nil {
			each(mv)
		}
	}
	m.onTool = func() {
		if s.Mill && t.s.Cuts > 0 {
			m.add(m.firstWord(), ToolChange, "another tool after this one has cut; want one program for each tool")
		}
	}
	m.dialectText()
	for i := range p.Blocks {
		if s.SkipOff && p.Blocks[i].Skip {
			continue
		}
		if m.block(uint32(i)) {
			break
		}
	}
	SortFindings(m.found)
	sum := t.done()
	sum.Units = [...]string{"", "mm", "in", "mm and in"}[m.units]
	return sum, m.found
}

// SortFindings puts findings in the order of their places; those of one place
// keep their order.
func SortFindings(fs []Finding) {
	sort.SliceStable(fs, func(i, j int) bool {
		a, b := &fs[i], &fs[j]
		if a.Line != b.Line {
			return a.Line < b.Line
		}
		return a.Column < b.Column
	})
}

// checker judges moves against a setup. What goes on from move to move is told
// once, until it changes.
type checker struct {
	m *machine
	s Setup

	still   bool       // the spindle's standing has been told
	zero    bool       // S0 has been told
	back    bool       // M4 has been told
	outside bool       // Travel has been told
	fast    float64    // the feed that has been told
	over    [2]float64 // where Z moved last without XY
	fed     float64    // how deep a feed move has been there
}

func (c *checker) move(mv *Move) {
	if !mv.Moves() {
		return
	}
	m := c.m
	low := min(mv.From[2], mv.To[2])
	if mv.Arc() && mv.Plane != PlaneXY {
		lo, _ := mv.Bound()
		low = lo[2]
	}
	below := low < c.s.Top-slackZ
	if mv.RPM != 0 {
		c.still, c.zero = false, false
	}
	across := mv.From[0] != mv.To[0] || mv.From[1] != mv.To[1] || mv.Arc()
	if across || mv.From[0] != c.over[0] || mv.From[1] != c.over[1] {
		c.over, c.fed = [2]float64{mv.To[0], mv.To[1]}, math.Inf(1)
	}
	if mv.Op == Rapid {
		c.rapid(mv, across, below)
	} else {
		c.fed = min(c.fed, mv.To[2])
		if below {
			c.cut(mv)
		}
		if c.s.FeedMax > 0 && mv.Feed > c.s.FeedMax*(1+1e-6) && mv.Feed != c.fast {
			c.fast = mv.Feed
			m.add(m.motionAt(), FeedTooGreat, fmt.Sprintf("feed %s mm/min; the machine's greatest is %s", Number(mv.Feed, 1), Number(c.s.FeedMax, 1)))
		}
	}
	if c.s.Travel != nil && !c.outside {
		c.travel(mv)
	}
}

// cut judges the spindle of a feed move below the sheet's top.
func (c *checker) cut(mv *Move) {
	m := c.m
	switch {
	case mv.RPM == 0 && m.turning == 0 && !c.still:
		c.still = true
		m.add(m.motionAt(), SpindleOff, fmt.Sprintf("a feed move down to Z %s mm, below the sheet's top, with the spindle off; want M3 before it", Number(min(mv.From[2], mv.To[2]), 4)))
	case mv.RPM == 0 && m.turning != 0 && !c.zero:
		c.zero = true
		m.add(m.motionAt(), SpindleZero, "a feed move below the sheet's top with the spindle on at speed 0; want S above 0")
	case mv.RPM < 0 && c.s.Mill && !c.back:
		c.back = true
		m.add(m.motionAt(), SpindleBack, "a mill that cuts clockwise turns counter-clockwise (M4); want M3")
	}
}

// rapid judges a rapid move.
func (c *checker) rapid(mv *Move, across, below bool) {
	m := c.m
	switch {
	case !below:
	case across:
		m.add(m.motionAt(), RapidBelow, fmt.Sprintf("a rapid across at Z %s mm, below the sheet's top at %s", Number(min(mv.From[2], mv.To[2]), 4), Number(c.s.Top, 4)))
	case mv.To[2] < mv.From[2] && mv.To[2] < c.fed-slackZ:
		m.add(m.motionAt(), RapidDown, fmt.Sprintf("a rapid down to Z %s mm, below the sheet's top at %s; want a feed move", Number(mv.To[2], 4), Number(c.s.Top, 4)))
	}
}

// travel judges a move's extent.
func (c *checker) travel(mv *Move) {
	lo, hi := mv.Bound()
	for k := range 3 {
		if c.m.lost[k] {
			continue
		}
		least, most := c.s.Travel[0][k], c.s.Travel[1][k]
		if lo[k] < least-slackZ || hi[k] > most+slackZ {
			c.outside = true
			v := hi[k]
			if lo[k] < least-slackZ {
				v = lo[k]
			}
			c.m.add(c.m.motionAt(), Travel, fmt.Sprintf("%c %s mm; the machine's travel is %s to %s", 'X'+k, Number(v, 4), Number(least, 4), Number(most, 4)))
			return
		}
	}
}
