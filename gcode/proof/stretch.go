package proof

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/gcode"
	"blockwright/geom"
)

// A stretch is a piece of a move: its way over the sheet and its height, which
// changes evenly along it.
type stretch struct {
	curve
	z0, z1 float64 // mm
	move   int32   // index of the move
	rapid  bool
	live   bool    // the spindle turns the cutting way
	fuzz   float64 // mm: how far the height may be off between the ends, for arcs that stand upright
	wide   float64 // mm: how far the way may be off
}

// flat is the sweep in radians that one stretch of an arc may have. A full
// circle makes four: their boxes are tight and their ends have tangents that meet.
const flat = 0.501 * math.Pi

// stretches appends the pieces of move i. A move that does not move gives none,
// one that goes straight up or down a stretch that is a point.
func stretches(dst []stretch, m *gcode.Move, i int) []stretch {
	s := stretch{z0: m.From[2], z1: m.To[2], move: int32(i), rapid: m.Op == gcode.Rapid, live: m.RPM > 0}
	switch m.Op {
	case gcode.Rapid, gcode.Line:
		if m.From == m.To {
			return dst
		}
		s.curve = line(xy(m.From), xy(m.To))
		return append(dst, s)
	case gcode.CW, gcode.CCW:
		if m.Plane == gcode.PlaneXY {
			return flatArc(dst, m, s)
		}
		return uprightArc(dst, m, s)
	}
	return dst
}

func xy(p [3]float64) orb.Point { return orb.Point{p[0], p[1]} }

// sweep is the angle in radians from a to b about c, positive counter-clockwise;
// a full turn where a and b are one (NISTIR 6556, 3.5.3.2).
func sweep(a, b, c orb.Point, cw bool) float64 {
	u, v := sub(a, c), sub(b, c)
	t := math.Atan2(cross(u, v), dot(u, v))
	if gap(a, b) < slack {
		t = 0
	}
	switch {
	case cw && t >= 0:
		t -= 2 * math.Pi
	case !cw && t <= 0:
		t += 2 * math.Pi
	}
	return t
}

// flatArc: an arc in XY, with Z a helix. An arc whose ends have two radii passes
// evenly from the one to the other.
func flatArc(dst []stretch, m *gcode.Move, s stretch) []stretch {
	a, b := xy(m.From), xy(m.To)
	turn := sweep(a, b, m.Centre, m.Op == gcode.CW)
	r0, r1 := gap(a, m.Centre), gap(b, m.Centre)
	n := int(math.Ceil(math.Abs(turn) / flat))
	bulge := math.Tan(turn / float64(4*n))
	from := math.Atan2(a[1]-m.Centre[1], a[0]-m.Centre[0])
	z0, dz := s.z0, s.z1-s.z0
	p := a
	var cs [8]curve
	for k := 1; k <= n; k++ {
		t := float64(k) / float64(n)
		q := b
		if k < n {
			sin, cos := math.Sincos(from + t*turn)
			r := r0 + t*(r1-r0)
			q = orb.Point{m.Centre[0] + r*cos, m.Centre[1] + r*sin}
		}
		whole := curves(cs[:0], geom.Edge{A: p, B: q, Bulge: bulge})
		for j, c := range whole {
			o := s
			o.curve = c
			o.z0 = z0 + dz*(float64(k-1)+float64(j)/float64(len(whole)))/float64(n)
			o.z1 = z0 + dz*(float64(k-1)+float64(j+1)/float64(len(whole)))/float64(n)
			dst = append(dst, o)
		}
		p = q
	}
	return dst
}

// uprightArc: an arc in ZX or YZ as chords, parted at its highest, lowest and
// outermost points. Seen from above it runs on a line, which the chords follow
// exactly, unless the third axis moves too; the chords' rise is kept as fuzz.
func uprightArc(dst []stretch, m *gcode.Move, s stretch) []stretch {
	u, v, w := m.Axes()
	a, b := orb.Point{m.From[u], m.From[v]}, orb.Point{m.To[u], m.To[v]}
	turn := sweep(a, b, m.Centre, m.Op == gcode.CW)
	r0, r1 := gap(a, m.Centre), gap(b, m.Centre)
	from := math.Atan2(a[1]-m.Centre[1], a[0]-m.Centre[0])
	// A chord over the angle φ rises rφ²/8.
	step := min(0.2, max(2*math.Pi/720, math.Sqrt(8e-5/max(r0, 1e-3))))
	at := func(t float64) [3]float64 {
		if t <= 0 {
			return m.From
		}
		if t >= 1 {
			return m.To
		}
		sin, cos := math.Sincos(from + t*turn)
		r := r0 + t*(r1-r0)
		var p [3]float64
		p[u], p[v] = m.Centre[0]+r*cos, m.Centre[1]+r*sin
		p[w] = m.From[w] + t*(m.To[w]-m.From[w])
		return p
	}
	p, t := m.From, 0.0
	for t < 1 {
		// the next quarter the arc passes
		now := from + t*turn
		q := math.Floor(now/(math.Pi/2)+1e-9) + 1
		if turn < 0 {
			q = math.Ceil(now/(math.Pi/2)-1e-9) - 1
		}
		end := min(1, (q*math.Pi/2-from)/turn)
		n := int(math.Ceil(math.Abs((end-t)*turn) / step))
		n = max(n, 1)
		d := (end - t) / float64(n)
		for k := 1; k <= n; k++ {
			e := t + d*float64(k)
			if k == n {
				e = end
			}
			c := at(e)
			o := s
			o.curve = line(xy(p), xy(c))
			o.z0, o.z1 = p[2], c[2]
			o.fuzz = max(r0, r1) * d * turn * d * turn / 8
			if m.From[w] != m.To[w] {
				o.wide = o.fuzz
			}
			dst = append(dst, o)
			p = c
		}
		t = end
	}
	return dst
}

// below is the part of the stretch that lies at or below the height z: none, all,
// or the piece on one side of the place where it passes through.
func (s *stretch) below(z float64) (stretch, bool) {
	switch {
	case s.z0 <= z && s.z1 <= z:
		return *s, true
	case s.z0 > z && s.z1 > z:
		return stretch{}, false
	}
	t := (z - s.z0) / (s.z1 - s.z0)
	o := *s
	if s.z0 > z {
		if t >= 1 {
			o.curve, o.z0 = line(s.B, s.B), s.z1
			return o, true
		}
		o.curve, o.z0 = s.between(t, 1), z
	} else {
		if t <= 0 {
			o.curve, o.z1 = line(s.A, s.A), s.z0
			return o, true
		}
		o.curve, o.z1 = s.between(0, t), z
	}
	return o, true
}

// low is the stretch's deepest height: that of an end, since upright arcs are
// parted where they turn.
func (s *stretch) low() float64 { return min(s.z0, s.z1) }
