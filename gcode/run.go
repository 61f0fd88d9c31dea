package gcode

import (
	"fmt"
	"math"
)

// Run follows the program block by block as a controller of the dialect would and
// calls each for every move, dwell and pause in order. The Move is valid during
// the call only. Blocks with the block-delete slash are run.
//
// A block's words act in the order of N table 8. The tool starts at (0, 0, 0),
// with millimetres, G17 G90 G94 G40 G49 G54 G99 in force, no feed, spindle off, as
// after M2 (N 3.6.1; it says nothing of G98 and G99: G99 is what controllers start
// with). What a block asks for and the interpreter cannot do is a
// finding; the rest of the block is done. Moves of no length are left out.
//
// Run judges what the text and the dialect decide. What the sheet and the machine
// decide, [Program.Check] judges.
func (p *Program) Run(d *Dialect, each func(*Move)) []Finding {
	m := newMachine(p, d, each)
	m.dialectText()
	for i := range p.Blocks {
		if m.block(uint32(i)) {
			break
		}
	}
	return m.found
}

// block runs one block; true ends the program.
func (m *machine) block(i uint32) bool {
	b := &m.p.Blocks[i]
	m.b = b
	m.move.Block = i
	words := m.p.Words[b.First:b.End]
	mask := uint32(0)
	gset, mset := uint32(0), uint32(0)
	var motion uint16
	m.strange, m.strangeM = false, false
	for k := range words {
		w := &words[k]
		switch w.Letter {
		case 'G':
			if w.code < 1000 && m.knowsG[w.code] {
				g := groupOf[w.code]
				gset |= 1 << g
				if g == gMotion {
					motion = w.code
				}
			} else {
				m.unknown(w)
			}
		case 'M':
			if w.code < 1000 && m.knowsM[w.code] {
				mset |= 1 << groupOfM[w.code]
			} else {
				m.unknown(w)
			}
		default:
			m.v[w.Letter-'A'] = w.Value
			mask |= 1 << (w.Letter - 'A')
		}
	}
	m.mask = mask
	m.used = bitN
	if m.d.Digits > 0 {
		m.digits(words)
	}
	if b.Bad {
		defer m.hazy(b)
	}
	// The common block: at most a motion word, coordinates, a feed.
	if !m.strange && gset&^(1<<gMotion) == 0 && mset == 0 && mask&^(bitN|bitsXYZ|bitF|bitI|bitJ|bitK|bitR) == 0 {
		if mask&bitF != 0 {
			m.setFeed(m.unit)
		}
		explicit := gset != 0
		if explicit {
			m.setMotion(motion)
		}
		if explicit || mask&^(bitN|bitF) != 0 {
			m.moveNow(explicit)
			if left := mask &^ m.used; left != 0 {
				m.unused(left)
			}
		}
		return false
	}
	return m.fullBlock(words, gset, mset, motion)
}

// hazy marks the axes that a faulty block has no word for as not known: the faulty
// word may have been theirs. The fault itself has been told, so what follows from
// it is not.
func (m *machine) hazy(b *Block) {
	for k := range 3 {
		if m.mask&(bitX<<k) == 0 {
			m.lost[k] = true
			m.told = true
		}
	}
}

// setMotion makes a code of the motion group the one in force.
func (m *machine) setMotion(code uint16) {
	if code != m.motion {
		m.cycle.sticky = false
	}
	m.motion = code
}

// moveNow does the motion in force with the block's words.
func (m *machine) moveNow(explicit bool) {
	switch m.motion {
	case 0, 10:
		m.straight(explicit, m.motion == 10)
	case 20, 30:
		m.arc(explicit)
	case 800:
		if m.mask&bitsXYZ != 0 {
			m.add(m.wordAt(bitsXYZ), NoMotion, "axis words, and no motion code is in force")
			m.used |= bitsXYZ
		}
	case 382, 383, 384, 385:
		m.probe()
	default:
		m.runCycle(explicit)
	}
}

// target is where the block's axis words send the tool.
func (m *machine) target() (to [3]float64, ok bool) {
	to = m.at
	if m.mask&bitsXYZ == 0 {
		return to, false
	}
	m.used |= bitsXYZ
	for k := range 3 {
		if m.mask&(bitX<<k) == 0 {
			continue
		}
		v := m.v['X'-'A'+k] * m.unit
		if m.relative {
			to[k] += v
			if m.lost[k] {
				m.lostNow(k)
			}
		} else {
			to[k] = v + m.work[k] + m.shift[k]
			m.lost[k] = false
		}
	}
	return to, true
}

// straight does G0 and G1.
func (m *machine) straight(explicit, cut bool) {
	to, ok := m.target()
	if !ok {
		if explicit {
			m.add(m.motionAt(), MissingWord, fmt.Sprintf("%s without an axis word; want at least one of X, Y, Z", nameOf('G', m.motion)))
		}
		return
	}
	mv := &m.move
	mv.Op = Rapid
	if cut {
		mv.Op = Line
		if !m.feedReady() {
			mv.Feed = 0
		} else if m.inverse {
			mv.Feed = m.feed * dist3(m.at, to)
		} else {
			mv.Feed = m.feed
		}
	} else {
		mv.Feed = 0
		if m.mask&bitF != 0 && m.inverse {
			m.feed = 0
		}
	}
	m.send(to)
}

// send emits the prepared move to a place and stands there.
func (m *machine) send(to [3]float64) {
	mv := &m.move
	if to == m.at && mv.Op <= Line {
		return
	}
	if !(math.Abs(to[0]) <= farAway && math.Abs(to[1]) <= farAway && math.Abs(to[2]) <= farAway) {
		m.tooFar(to)
		return
	}
	mv.From, mv.To = m.at, to
	mv.RPM = m.turning * m.speed
	m.moved, m.fed = true, m.fed || mv.Op != Rapid
	m.each(mv)
	m.at = to
}

// farAway is the greatest coordinate in mm that is followed: a kilometre. Up to
// there float64 keeps 1e-9 mm.
const farAway = 1e6

// mostValue is the greatest feed, speed and time that is taken for one.
const mostValue = 1e9

// tooFar tells of a move that no machine makes and leaves it out.
func (m *machine) tooFar(to [3]float64) {
	for k := range 3 {
		if !(math.Abs(to[k]) <= farAway) {
			m.add(m.motionAt(), FarAway, fmt.Sprintf("%c is %.4g mm; no machine goes there", 'X'+k, to[k]))
			m.lose(bitX << k)
			m.told = true
			return
		}
	}
}

// feedReady tells whether a feed move may go, and says so if not: once until the
// feed is set.
func (m *machine) feedReady() bool {
	if m.inverse {
		if m.mask&bitF == 0 || !(m.feed > 0) {
			m.add(m.motionAt(), InverseFeed, "a feed move without F in inverse time mode (G93); want F on its line")
			return false
		}
		return true
	}
	if m.feed > 0 {
		return true
	}
	if !m.noFeed {
		m.noFeed = true
		m.add(m.motionAt(), NoFeed, "a feed move and no feed rate is set; want F above 0")
	}
	return false
}

// setFeed takes F in the given units.
func (m *machine) setFeed(unit float64) {
	m.used |= bitF
	f := m.v['F'-'A']
	m.noFeed = false
	if !(f >= 0 && f <= mostValue) {
		m.add(m.wordAt(bitF), BadValue, fmt.Sprintf("F%s; want a feed above 0 that a machine has", short(f)))
		m.feed, m.noFeed = 0, true
		return
	}
	if m.inverse {
		m.feed = f
	} else {
		m.feed = f * unit
	}
}

func dist3(a, b [3]float64) float64 {
	x, y, z := b[0]-a[0], b[1]-a[1], b[2]-a[2]
	return math.Sqrt(x*x + y*y + z*z)
}
