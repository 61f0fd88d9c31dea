package gcode

import (
	"fmt"
)

// placeCode does G10, G28, G30 and the G92 codes. It tells whether the code uses
// the axis words.
func (m *machine) placeCode(code uint16) bool {
	switch code {
	case 100:
		m.setWork()
		return true
	case 280, 300:
		m.reference(code)
		return true
	case 281, 301:
		k := int(code-281) / 20
		m.home[k], m.homeKnown[k] = m.at, !m.lost[0] && !m.lost[1] && !m.lost[2]
	case 920:
		m.used |= bitsXYZ
		if m.mask&bitsXYZ == 0 {
			m.add(m.codeAt(code), MissingWord, "G92 without an axis word; want at least one of X, Y, Z")
		}
		for k := range 3 {
			if m.mask&(bitX<<k) != 0 {
				if m.lost[k] {
					m.lostNow(k)
				}
				m.shift[k] = m.at[k] - m.work[k] - m.v['X'-'A'+k]*m.unit
			}
		}
		m.saved = m.shift
		return true
	case 921:
		m.shift, m.saved = [3]float64{}, [3]float64{}
	case 922:
		m.shift = [3]float64{}
	case 923:
		m.shift = m.saved
	}
	return false
}

// workSystem does G54 to G59.3. The first one in force, if nothing moved before,
// is the frame of the moves; where another lies the program has to say with G10.
func (m *machine) workSystem(code uint16) {
	n := int(code-530) / 10
	if code >= 590 {
		n = 6 + int(code-590)
	}
	if n == m.sys {
		return
	}
	if !m.moved && m.shift == [3]float64{} && !m.anyKnown() {
		m.known[m.sys] = false
		m.known[n] = true
	}
	m.sys = n
	if !m.known[n] {
		m.known[n] = true // told once; taken as lying where the first one lies
		m.add(m.codeAt(code), WorkOffset, fmt.Sprintf("%s after moves in other work coordinates: the program does not say where its zero is", nameOf('G', code)))
	}
	m.work = m.g5x[n]
}

// anyKnown tells whether G10 has placed a system.
func (m *machine) anyKnown() bool {
	for n, k := range m.known {
		if k && n != m.sys {
			return true
		}
	}
	return false
}

// setWork does G10 L2 and L20.
func (m *machine) setWork() {
	m.used |= bitsXYZ | bitL | bitP | bitR
	at := m.codeAt(100)
	if m.mask&bitL == 0 || m.mask&bitP == 0 {
		m.add(at, MissingWord, "G10 without L and P; want L2 and the number of the work coordinates")
		return
	}
	l, ok := m.whole(bitL, 0, 100)
	if !ok {
		return
	}
	if l != 2 && (l != 20 || m.d.Name != "grbl") {
		m.add(m.wordAt(bitL), BadValue, fmt.Sprintf("G10 L%d is not in dialect %s", l, m.d.Name))
		return
	}
	n, ok := m.whole(bitP, 0, 9)
	if !ok {
		return
	}
	if n == 0 {
		if m.d.Name != "grbl" {
			m.add(m.wordAt(bitP), BadValue, "G10 P0; want the number of the work coordinates, 1 to 9")
			return
		}
		n = m.sys
	}
	if m.mask&bitR != 0 {
		m.add(m.wordAt(bitR), NotFollowed, "G10 R: a rotation of the coordinates is not followed")
	}
	for k := range 3 {
		if m.mask&(bitX<<k) == 0 {
			continue
		}
		v := m.v['X'-'A'+k] * m.unit
		if l == 20 {
			m.g5x[n][k] = m.at[k] - m.shift[k] - v
		} else {
			m.g5x[n][k] = v
		}
	}
	if l == 2 {
		// Where a system lies in the machine is told, but where the frame of the
		// moves lies in it is not.
		m.add(at, WorkOffset, fmt.Sprintf("G10 L2 P%d sets work coordinates in the machine's own, and the program does not say where those lie", n))
	}
	m.known[n] = true
	if n == m.sys {
		m.work = m.g5x[n]
	}
}

// reference does G28 and G30: by way of the place the axis words give to one that
// only the machine knows, or G28.1 has stored.
func (m *machine) reference(code uint16) {
	k := int(code-280) / 20
	axes := m.mask & bitsXYZ
	if to, ok := m.target(); ok {
		m.move.Op, m.move.Feed = Rapid, 0
		m.send(to)
	} else {
		axes = bitsXYZ
	}
	if m.homeKnown[k] {
		to := m.at
		for i := range 3 {
			if axes&(bitX<<i) != 0 {
				to[i] = m.home[k][i]
			}
		}
		m.move.Op, m.move.Feed = Rapid, 0
		m.send(to)
		return
	}
	m.add(m.codeAt(code), ReferencePos, fmt.Sprintf("%s goes to a place that the program does not state", nameOf('G', code)))
	m.lose(axes)
}

// machineFrame does G53 with G0 or G1.
func (m *machine) machineFrame(explicit bool) {
	if m.motion != 0 && m.motion != 10 {
		m.add(m.codeAt(530), MissingWord, "G53 and neither G0 nor G1 is in force")
		m.used |= bitsXYZ
		return
	}
	if m.mask&bitsXYZ == 0 {
		m.add(m.codeAt(530), MissingWord, "G53 without an axis word; want at least one of X, Y, Z")
		return
	}
	if m.motion == 10 {
		m.feedReady()
	}
	m.used |= bitsXYZ
	m.add(m.codeAt(530), MachinePos, "G53 goes to a place in the machine's own coordinates, and the program does not say where those lie")
	m.lose(m.mask & bitsXYZ)
}

// probe does G38.x: where it stops only the machine finds out.
func (m *machine) probe() {
	m.used |= bitsXYZ
	m.add(m.motionAt(), NotFollowed, fmt.Sprintf("%s: where a probe stops the program does not say", nameOf('G', m.motion)))
	m.lose(m.mask & bitsXYZ)
}

// lose marks the position of axes as unknown.
func (m *machine) lose(axes uint32) {
	for k := range 3 {
		if axes&(bitX<<k) != 0 {
			m.lost[k] = true
		}
	}
	m.told = false
	m.moved = true
}

// lostNow tells, once, that a move depends on a position that is not known.
func (m *machine) lostNow(axis int) {
	if m.told {
		return
	}
	m.told = true
	m.add(int(m.b.Off), LostPos, fmt.Sprintf("%c is not known here, see the findings before; want it stated first", 'X'+axis))
}
