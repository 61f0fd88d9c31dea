package gcode

import "math"

// Arc tells whether the move is an arc.
func (m *Move) Arc() bool { return m.Op == CW || m.Op == CCW }

// Cuts tells whether the move is a feed move: G1, G2 or G3.
func (m *Move) Cuts() bool { return m.Op >= Line && m.Op <= CCW }

// Moves tells whether the tool goes anywhere: not in a dwell or a pause.
func (m *Move) Moves() bool { return m.Op <= CCW }

// Axes are the first and second axis of the move's plane and the one across it.
func (m *Move) Axes() (a, b, h int) {
	ax := planeAxes[m.Plane]
	return ax[0], ax[1], ax[2]
}

// Radius of an arc in mm, at its start.
func (m *Move) Radius() float64 {
	a, b, _ := m.Axes()
	return math.Hypot(m.From[a]-m.Centre[0], m.From[b]-m.Centre[1])
}

// Sweep of an arc in radians, positive counter-clockwise, in the plane's own
// sense; 0 for a line. An arc that ends where it starts sweeps 2π.
func (m *Move) Sweep() float64 {
	if !m.Arc() {
		return 0
	}
	a, b, _ := m.Axes()
	ux, uy := m.From[a]-m.Centre[0], m.From[b]-m.Centre[1]
	vx, vy := m.To[a]-m.Centre[0], m.To[b]-m.Centre[1]
	t := math.Atan2(ux*vy-uy*vx, ux*vx+uy*vy)
	full := m.From[a] == m.To[a] && m.From[b] == m.To[b]
	if m.Op == CCW {
		if t <= 0 || full {
			t += 2 * math.Pi
		}
		if full {
			t = 2 * math.Pi
		}
		return t
	}
	if full {
		return -2 * math.Pi
	}
	if t >= 0 {
		t -= 2 * math.Pi
	}
	return t
}

// Length of the move in mm, along the helix of an arc that rises.
func (m *Move) Length() float64 {
	switch {
	case m.Op <= Line:
		return dist3(m.From, m.To)
	case !m.Arc():
		return 0
	}
	_, _, h := m.Axes()
	return math.Hypot(m.Radius()*m.Sweep(), m.To[h]-m.From[h])
}

// At is the point at the fraction t of the move, 0 ≤ t ≤ 1. Where the radii of an
// arc differ, the radius changes evenly from one to the other.
func (m *Move) At(t float64) [3]float64 {
	var p [3]float64
	for k := range 3 {
		p[k] = m.From[k] + t*(m.To[k]-m.From[k])
	}
	if !m.Arc() || t <= 0 || t >= 1 {
		if t >= 1 {
			return m.To
		}
		return p
	}
	a, b, _ := m.Axes()
	ux, uy := m.From[a]-m.Centre[0], m.From[b]-m.Centre[1]
	r0 := math.Hypot(ux, uy)
	r1 := math.Hypot(m.To[a]-m.Centre[0], m.To[b]-m.Centre[1])
	s, c := math.Sincos(t * m.Sweep())
	k := 1.0
	if r0 > 0 {
		k = (r0 + t*(r1-r0)) / r0
	}
	p[a] = m.Centre[0] + k*(c*ux-s*uy)
	p[b] = m.Centre[1] + k*(s*ux+c*uy)
	return p
}

// Bound is the smallest box around the move.
func (m *Move) Bound() (lo, hi [3]float64) {
	for k := range 3 {
		lo[k], hi[k] = math.Min(m.From[k], m.To[k]), math.Max(m.From[k], m.To[k])
	}
	if !m.Arc() {
		return lo, hi
	}
	a, b, _ := m.Axes()
	r := m.Radius()
	sweep := m.Sweep()
	start := math.Atan2(m.From[b]-m.Centre[1], m.From[a]-m.Centre[0])
	// The quarter points within the sweep.
	first, last := start, start+sweep
	if sweep < 0 {
		first, last = last, first
	}
	for q := math.Ceil(first / (math.Pi / 2)); q*math.Pi/2 <= last; q++ {
		switch (int(q)%4 + 4) % 4 {
		case 0:
			hi[a] = math.Max(hi[a], m.Centre[0]+r)
		case 1:
			hi[b] = math.Max(hi[b], m.Centre[1]+r)
		case 2:
			lo[a] = math.Min(lo[a], m.Centre[0]-r)
		case 3:
			lo[b] = math.Min(lo[b], m.Centre[1]-r)
		}
	}
	return lo, hi
}
