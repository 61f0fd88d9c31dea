package gcode

import (
	"fmt"
	"math"
)

// fullBlock runs a block in the order of N table 8. gset and mset are the groups
// its codes belong to, motion its code of the motion group. True ends the program.
func (m *machine) fullBlock(words []Word, gset, mset uint32, motion uint16) bool {
	code := func(letter byte, group uint8) uint16 {
		for k := range words {
			w := &words[k]
			if w.Letter != letter || w.code >= 1000 {
				continue
			}
			if letter == 'G' && m.knowsG[w.code] && groupOf[w.code] == group ||
				letter == 'M' && m.knowsM[w.code] && groupOfM[w.code] == group {
				return w.code
			}
		}
		return 0
	}
	has := func(group uint8) bool { return gset>>group&1 != 0 }

	if m.mask&bitsABC != 0 {
		m.add(m.wordAt(bitsABC), OtherAxis, "rotary axes are not followed")
		m.used |= bitsABC
	}
	unit := m.unit // of F
	if has(gUnits) {
		next := 1.0
		if code('G', gUnits) == 200 {
			next = 25.4
		}
		if !m.d.UnitsLast {
			unit = next
		}
	}
	if has(gFeedMode) {
		inverse := code('G', gFeedMode) == 930
		if inverse != m.inverse {
			m.feed, m.noFeed = 0, false // each mode wants its own F
		}
		m.inverse = inverse
	}
	if m.mask&bitF != 0 {
		m.setFeed(unit)
	}
	if m.mask&bitS != 0 {
		m.used |= bitS
		if s := m.v['S'-'A']; s >= 0 && s <= mostValue {
			m.speed = s
		} else {
			m.add(m.wordAt(bitS), BadValue, fmt.Sprintf("S%s; want 0 or more, that a spindle has", short(s)))
		}
	}
	if m.mask&bitT != 0 {
		m.used |= bitT
		m.whole(bitT, 0, math.MaxInt32)
	}
	if mset>>mTool&1 != 0 {
		m.turning = 0 // the change stops the spindle: N 3.6.3
		m.fed = false
		if m.onTool != nil {
			m.onTool()
		}
	}
	if mset>>mSpindle&1 != 0 {
		switch code('M', mSpindle) {
		case 30:
			m.turning = 1
		case 40:
			m.turning = -1
		default:
			m.turning = 0
		}
	}
	alone := uint16(noCode)
	if has(gAlone) {
		alone = code('G', gAlone)
	}
	if alone == 40 {
		m.dwell()
	}
	if has(gPlane) {
		m.plane = map[uint16]uint8{170: PlaneXY, 180: PlaneZX, 190: PlaneYZ}[code('G', gPlane)]
		m.cycle.sticky = false
	}
	if has(gUnits) {
		if m.unit = 1; code('G', gUnits) == 200 {
			m.unit = 25.4
			m.units |= 2
		} else {
			m.units |= 1
		}
	}
	if has(gCompensation) && code('G', gCompensation) != 400 {
		c := code('G', gCompensation)
		m.add(m.codeAt(c), NotFollowed, fmt.Sprintf("%s: cutter radius compensation is not followed; want the tool's centre programmed", nameOf('G', c)))
		m.used |= bitD
	}
	axesTaken := false // by a code that is not of the motion group
	if has(gLength) {
		// The moves are the tip's, so the length offset of a tool changes none of them;
		// an offset in figures for a tool that has cut does.
		if c := code('G', gLength); c == 431 && m.fed {
			m.add(m.codeAt(c), LengthOffset, fmt.Sprintf("%s after cuts with the same tool: Z then means another height; want it before the first cut", nameOf('G', c)))
		}
		switch c := code('G', gLength); c {
		case 430:
			m.used |= bitH
			if m.mask&bitH == 0 {
				m.add(m.codeAt(c), MissingWord, "G43 without H; want the number of the tool's length")
			} else {
				m.whole(bitH, 0, math.MaxInt32)
			}
		case 431:
			m.used |= bitZ
			axesTaken = true
			if m.mask&bitZ == 0 {
				m.add(m.codeAt(c), MissingWord, "G43.1 without Z; want the tool's length")
			}
		}
	}
	if has(gWork) {
		m.workSystem(code('G', gWork))
	}
	if has(gDistance) {
		m.relative = code('G', gDistance) == 910
	}
	if has(gReturn) {
		m.initial = code('G', gReturn) == 980
	}
	if has(gMotion) {
		m.setMotion(motion)
	}
	if alone != noCode && alone != 40 && alone != 530 {
		takes := m.placeCode(alone)
		if takes && has(gMotion) && motion != 800 {
			m.add(m.codeAt(motion), AxisConflict, fmt.Sprintf("%s beside %s: both use the axis words; want two lines", nameOf('G', motion), nameOf('G', alone)))
			axesTaken = true
		}
		axesTaken = axesTaken || takes
	}
	switch {
	case axesTaken:
		m.used |= bitsXYZ
	case m.strange && !has(gMotion):
		// The axis words are the strange code's: where it goes is not known.
		m.lose(m.mask & bitsXYZ)
		m.told = true
	case alone == 530:
		m.machineFrame(has(gMotion))
	case has(gMotion) || m.mask&(bitsXYZ|bitI|bitJ|bitK|bitR) != 0:
		m.moveNow(has(gMotion))
	}
	if left := m.mask &^ m.used; left != 0 {
		m.unused(left)
	}
	if mset>>mStop&1 != 0 {
		switch code('M', mStop) {
		case 20, 300:
			return true
		}
		m.move.Op, m.move.Feed = Pause, 0
		m.move.From, m.move.To = m.at, m.at
		m.move.RPM = m.turning * m.speed
		m.each(&m.move)
	}
	return false
}

// dwell does G4.
func (m *machine) dwell() {
	m.used |= bitP
	p := m.v['P'-'A']
	switch {
	case m.mask&bitP == 0:
		m.add(m.codeAt(40), MissingWord, "G4 without P; want the seconds to wait")
		return
	case !(p >= 0 && p <= mostValue):
		m.add(m.wordAt(bitP), BadValue, fmt.Sprintf("G4 P%s; want 0 s or more, within a life", short(p)))
		return
	}
	m.wait(p)
}

func (m *machine) wait(seconds float64) {
	m.move.Op, m.move.Feed = Dwell, seconds
	m.move.From, m.move.To = m.at, m.at
	m.move.RPM = m.turning * m.speed
	m.each(&m.move)
}

// whole judges a word that has to hold a whole number within limits.
func (m *machine) whole(bit uint32, lo, hi float64) (int, bool) {
	v := m.v[letterOf(bit)-'A']
	n := math.Round(v)
	if !(math.Abs(v-n) <= 0.0001) || n < lo || n > hi {
		m.add(m.wordAt(bit), BadValue, fmt.Sprintf("%c%s; want a whole number from %s on", letterOf(bit), short(v), short(lo)))
		return 0, false
	}
	return int(n), true
}
