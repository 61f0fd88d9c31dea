package gcode

import (
	"fmt"
)

// cycleState is what stays from one canned cycle to the next: N 3.5.16, "sticky"
// numbers.
type cycleState struct {
	sticky     bool // the numbers below were given for the cycle in force
	z, r, q, p float64
	back       float64 // height at which the first of the cycles began
}

// peckBack is how far above the hole's bottom a peck stops its rapid, in mm: 0.010
// inch (N 3.5.16.4).
const peckBack = 0.254

// mostPecks is how many holes or pecks one block may ask for: far more than a hole
// or a row needs, few enough that a slip does not fill the memory.
const mostPecks = 20000

// runCycle does a canned cycle: N 3.5.16. Its words are X Y Z in G17; in the other
// planes the axis across the plane takes the part of Z.
func (m *machine) runCycle(explicit bool) {
	ax := planeAxes[m.plane]
	a, b, h := ax[0], ax[1], ax[2]
	code := m.motion
	name := nameOf('G', code)
	used := uint32(bitsXYZ | bitR | bitL)
	switch code {
	case 820, 890:
		used |= bitP
	case 830:
		used |= bitQ
	case 860:
		used |= bitP
	case 840, 870, 880:
		used |= bitP | bitI | bitJ | bitK
		m.used |= used
		m.add(m.motionAt(), NotFollowed, fmt.Sprintf("%s: the cycle is not followed", name))
		if m.mask&bitX<<a != 0 || m.mask&bitX<<b != 0 {
			to, _ := m.target()
			to[h] = m.at[h]
			m.move.Op, m.move.Feed = Rapid, 0
			m.send(to)
		}
		return
	}
	m.used |= used
	c := &m.cycle
	if m.mask&bitsXYZ == 0 {
		m.add(m.motionAt(), MissingWord, fmt.Sprintf("%s without an axis word; want at least one of X, Y, Z", name))
		return
	}
	if m.inverse {
		m.add(m.motionAt(), BadValue, fmt.Sprintf("%s in inverse time mode (G93)", name))
		return
	}
	for _, k := range ax {
		if m.lost[k] && (m.relative || m.mask&(bitX<<k) == 0) {
			m.lostNow(k)
		}
		m.lost[k] = false
	}
	// The numbers, those of the cycle before where the line has none.
	take := func(bit uint32, keep *float64, scale float64) bool {
		if m.mask&bit != 0 {
			*keep = m.v[letterOf(bit)-'A'] * scale
			return true
		}
		if c.sticky {
			return true
		}
		m.add(m.motionAt(), MissingWord, fmt.Sprintf("%s without %c", name, letterOf(bit)))
		return false
	}
	ok := take(bitX<<h, &c.z, m.unit)
	ok = take(bitR, &c.r, m.unit) && ok
	switch code {
	case 820, 860, 890:
		ok = take(bitP, &c.p, 1) && ok
		if ok && !(c.p >= 0 && c.p <= mostValue) {
			m.add(m.wordAt(bitP), BadValue, fmt.Sprintf("%s P%s; want 0 s or more", name, short(c.p)))
			ok = false
		}
	case 830:
		ok = take(bitQ, &c.q, m.unit) && ok
		if ok && !(c.q > 0) {
			m.add(m.wordAt(bitQ), BadValue, fmt.Sprintf("%s Q%s; want a peck above 0", name, short(c.q)))
			ok = false
		}
	}
	times := 1
	if m.mask&bitL != 0 {
		n, whole := m.whole(bitL, 1, 100000)
		ok, times = ok && whole, max(n, 1)
	}
	if !ok || !m.feedReady() {
		return
	}
	var r, z float64
	dx, dy := 0.0, 0.0
	to := m.at
	if m.relative {
		r = m.at[h] + c.r
		z = r + c.z
		if m.mask&(bitX<<a) != 0 {
			dx = m.v['X'-'A'+a] * m.unit
		}
		if m.mask&(bitX<<b) != 0 {
			dy = m.v['X'-'A'+b] * m.unit
		}
	} else {
		off := m.work[h] + m.shift[h]
		r, z = c.r+off, c.z+off
		if m.mask&(bitX<<a) != 0 {
			to[a] = m.v['X'-'A'+a]*m.unit + m.work[a] + m.shift[a]
		}
		if m.mask&(bitX<<b) != 0 {
			to[b] = m.v['X'-'A'+b]*m.unit + m.work[b] + m.shift[b]
		}
	}
	if r < z-1e-9 {
		m.add(m.motionAt(), BadValue, fmt.Sprintf("%s: R lies below the bottom of the hole", name))
		return
	}
	pecks := 1.0
	if code == 830 {
		pecks += (r - z) / c.q
	}
	if pecks*float64(times) > mostPecks {
		m.add(m.motionAt(), BadValue, fmt.Sprintf("%s: more than %d pecks and repeats in one block", name, mostPecks))
		return
	}
	if !c.sticky {
		c.back = m.at[h]
	}
	c.sticky = true
	clear := r
	if m.initial && c.back > r {
		clear = c.back
	}
	if m.at[h] < r {
		m.upTo(h, r, Rapid)
	}
	for range times {
		to[a], to[b] = to[a]+dx, to[b]+dy
		over := m.at
		over[a], over[b] = to[a], to[b]
		m.move.Op, m.move.Feed = Rapid, 0
		m.send(over)
		m.upTo(h, r, Rapid)
		m.hole(code, h, r, z, clear)
	}
}

// hole makes the moves of one hole along the axis h, from the height r to z and
// back to clear.
func (m *machine) hole(code uint16, h int, r, z, clear float64) {
	switch code {
	case 830:
		for depth := r - m.cycle.q; depth > z+1e-9; depth -= m.cycle.q {
			m.upTo(h, depth, Line)
			m.upTo(h, r, Rapid)
			m.upTo(h, depth+peckBack, Rapid)
		}
		m.upTo(h, z, Line)
	default:
		m.upTo(h, z, Line)
	}
	switch code {
	case 820, 890, 860:
		m.wait(m.cycle.p)
	}
	switch code {
	case 850:
		// N has the whole way back at the feed; controllers in use hurry above R,
		// along the same line.
		m.upTo(h, r, Line)
		m.upTo(h, clear, Rapid)
	case 890:
		m.upTo(h, clear, Line)
	case 860:
		turning := m.turning
		m.turning = 0
		m.upTo(h, clear, Rapid)
		m.turning = turning
	default:
		m.upTo(h, clear, Rapid)
	}
}

// upTo goes along one axis to v.
func (m *machine) upTo(axis int, v float64, op Op) {
	to := m.at
	to[axis] = v
	m.move.Op, m.move.Feed = op, 0
	if op == Line {
		m.move.Feed = m.feed
	}
	m.send(to)
}
