package gcode

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// planeAxes gives the first and second axis of each plane and the axis across
// it, ordered so that counter-clockwise turns the first to the second (N 3.5.3).
var planeAxes = [3][3]int{{0, 1, 2}, {2, 0, 1}, {1, 2, 0}}

// sameAngle is the angle in radians under which the end of an arc is its start
// and the arc a full circle: rounding of relative coordinates may part them
// (the value is grbl's, published in its source; N asks for equality).
const sameAngle = 5e-7

// arc does G2 and G3 in both forms.
func (m *machine) arc(explicit bool) {
	ax := planeAxes[m.plane]
	a, b := ax[0], ax[1]
	offsets := m.mask & (bitI | bitJ | bitK)
	m.used |= bitI | bitJ | bitK | bitR
	if m.mask&(bitX<<a|bitX<<b) == 0 {
		if m.mask&bitsXYZ == 0 && !explicit && offsets == 0 && m.mask&bitR == 0 {
			return
		}
		m.used |= bitsXYZ
		m.add(m.motionAt(), ArcNoAxis, fmt.Sprintf("%s without %c or %c; want the end of the arc", nameOf('G', m.motion), 'X'+a, 'X'+b))
		if m.mask&bitsXYZ != 0 {
			m.arcAsLine()
		}
		return
	}
	from := m.at
	lost := m.lost[a] || m.lost[b]
	to, _ := m.target()
	feed := m.feedReady()
	if lost {
		m.lost[a], m.lost[b] = false, false
		m.lostNow(a)
		m.lineTo(to)
		return
	}
	var c orb.Point
	ok := false
	switch {
	case m.mask&bitR != 0 && offsets != 0:
		m.add(m.wordAt(bitR), ArcBothForms, fmt.Sprintf("%s with a radius and offsets; want one form", nameOf('G', m.motion)))
	case m.mask&bitR != 0:
		c, ok = m.radiusCentre(orb.Point{from[a], from[b]}, orb.Point{to[a], to[b]}, m.v['R'-'A']*m.unit)
	case offsets&(bitI<<a|bitI<<b) == 0:
		m.add(m.motionAt(), ArcNoOffset, fmt.Sprintf("%s with neither %c nor %c nor R; want the arc's centre or radius", nameOf('G', m.motion), 'I'+a, 'I'+b))
	default:
		if offsets&(bitI<<ax[2]) != 0 {
			m.add(m.wordAt(bitI<<ax[2]), ArcWrongPlane, fmt.Sprintf("%c is no offset in the plane of %s", 'I'+ax[2], [3]string{"G17", "G18", "G19"}[m.plane]))
		}
		c = orb.Point{from[a], from[b]}
		if offsets&(bitI<<a) != 0 {
			c[0] += m.v['I'-'A'+a] * m.unit
		}
		if offsets&(bitI<<b) != 0 {
			c[1] += m.v['I'-'A'+b] * m.unit
		}
		ok = m.offsetCentre(c, orb.Point{from[a], from[b]}, orb.Point{to[a], to[b]})
	}
	if !ok {
		m.lineTo(to)
		return
	}
	mv := &m.move
	mv.Op, mv.Plane, mv.Centre = CW, m.plane, c
	if m.motion == 30 {
		mv.Op = CCW
	}
	// An end that is the start but for rounding makes a full circle.
	r := math.Hypot(from[a]-c[0], from[b]-c[1])
	if math.Abs(to[a]-from[a])+math.Abs(to[b]-from[b]) <= sameAngle*r {
		to[a], to[b] = from[a], from[b]
	}
	mv.From, mv.To = from, to
	switch {
	case !feed:
		mv.Feed = 0
	case m.inverse:
		mv.Feed = m.feed * mv.Length()
	default:
		mv.Feed = m.feed
	}
	m.send(to)
	mv.Plane, mv.Centre = PlaneXY, orb.Point{}
}

// arcAsLine goes straight to the end of an arc that cannot be made out, so that
// the moves after it start where they should.
func (m *machine) arcAsLine() {
	to, _ := m.target()
	m.lineTo(to)
}

func (m *machine) lineTo(to [3]float64) {
	m.move.Op, m.move.Feed = Line, m.feed
	if m.inverse {
		m.move.Feed = m.feed * dist3(m.at, to)
	}
	m.send(to)
}

// offsetCentre judges a centre given by offsets: N 3.5.3.2.
func (m *machine) offsetCentre(c, from, to orb.Point) bool {
	r0 := math.Sqrt((from[0]-c[0])*(from[0]-c[0]) + (from[1]-c[1])*(from[1]-c[1]))
	r1 := math.Sqrt((to[0]-c[0])*(to[0]-c[0]) + (to[1]-c[1])*(to[1]-c[1]))
	if !(r0 <= 1e9 && r1 <= 1e9) {
		m.add(m.wordAt(bitI|bitJ|bitK), FarAway, "the arc's centre is more than a thousand kilometres away")
		return false
	}
	if r0 < 1e-9 || r1 < 1e-9 {
		m.add(m.wordAt(bitI|bitJ|bitK), ArcZero, "an arc of radius 0")
		return false
	}
	// The last bits of a difference that is just allowed come from rounding.
	slack := m.d.arcSlack(r0, m.unit != 1)
	if !(math.Abs(r0-r1) <= slack+1e-9) {
		m.add(m.motionAt(), ArcRadii, fmt.Sprintf("the arc starts at radius %s and ends at %s mm; want them within %s", Number(r0, 4), Number(r1, 4), Number(slack, 5)))
		return false
	}
	return true
}

// radiusCentre finds the centre of an arc given by its radius: the arc of less
// than a half circle, or the longer one for a negative radius (N 3.5.3.1).
func (m *machine) radiusCentre(from, to orb.Point, r float64) (orb.Point, bool) {
	dx, dy := to[0]-from[0], to[1]-from[1]
	chord := math.Hypot(dx, dy)
	switch {
	case !(math.Abs(r) <= 1e9) || chord > 2*farAway:
		m.add(m.wordAt(bitR), FarAway, fmt.Sprintf("an arc of radius %.4g mm", r))
		return orb.Point{}, false
	case math.Abs(r) < 1e-9:
		m.add(m.wordAt(bitR), ArcZero, "an arc of radius 0")
		return orb.Point{}, false
	case chord < 1e-9:
		m.add(m.motionAt(), ArcNoEnd, "an arc by its radius ends where it starts; want offsets for a full circle")
		return orb.Point{}, false
	case chord/2 > math.Abs(r)+m.d.arcSlack(math.Abs(r), m.unit != 1):
		m.add(m.wordAt(bitR), ArcRadius, fmt.Sprintf("radius %s mm cannot reach an end %s mm away; want at least half of it", Number(math.Abs(r), 4), Number(chord, 4)))
		return orb.Point{}, false
	}
	h := 0.0 // from the chord's middle to the centre
	if d := r*r - chord*chord/4; d > 0 {
		h = math.Sqrt(d)
	}
	// Clockwise, the centre of the shorter arc lies to the right of the chord.
	if (m.motion == 20) == (r > 0) {
		h = -h
	}
	return orb.Point{(from[0]+to[0])/2 - h*dy/chord, (from[1]+to[1])/2 + h*dx/chord}, true
}
