package gcode

import (
	"math"

	"github.com/paulmach/orb"
)

// arc writes an arc in parts of at most a half circle, also after rounding.
//
// The parts are equal and their ends points of the true arc, so rounding does not
// add up from one to the next.
func (p *printer) arc(m *Move) {
	a, b, _ := m.Axes()
	if !finite(m.Centre[0]) || !finite(m.Centre[1]) || m.Plane > PlaneYZ {
		p.fail("an arc about %v in plane %d", m.Centre, m.Plane)
		return
	}
	for k := range 3 {
		p.grid(k, m.To[k]) // judges it
	}
	if p.err != nil {
		return
	}
	r := m.Radius()
	if r1 := math.Hypot(m.To[a]-m.Centre[0], m.To[b]-m.Centre[1]); math.Abs(r-r1) > p.d.arcSlack(r, p.unit != 1)+1e-6 {
		p.fail("an arc that starts at radius %v and ends at %v", r, r1)
		return
	}
	sweep := m.Sweep()
	// Rounding may add a little to the sweep of a part: three steps at most at
	// both ends and the centre together.
	most := math.Pi - min(1, 3*p.mm(1)/max(r, 1e-9))
	n := max(1, int(math.Ceil(math.Abs(sweep)/most-1e-12)))
	for k := 1; k <= n; k++ {
		p.arcPart(m, float64(k-1)/float64(n), float64(k)/float64(n))
	}
}

// leastRadius in mm of an arc that is written as one: controllers take an arc
// whose radius is below their tolerance for a mistake.
const leastRadius = 0.005

// arcPart writes the part of the arc between two fractions of it.
func (p *printer) arcPart(m *Move, t0, t1 float64) {
	to := m.At(t1)
	r := m.Radius()
	step := p.mm(1)
	theta := math.Abs(m.Sweep()) * (t1 - t0)
	sagitta := r * (1 - math.Cos(theta/2))
	if sagitta <= step/2 || r < leastRadius || r > MostLength {
		p.chords(m, t0, t1, sagitta)
		return
	}
	a, b, h := m.Axes()
	end := [3]int64{p.grid(0, to[0]), p.grid(1, to[1]), p.grid(2, to[2])}
	c, ok := p.centre(m, end, theta)
	if !ok {
		p.chords(m, t0, t1, sagitta)
		return
	}
	if m.Plane != p.plane {
		p.words([3]string{"G17", "G18", "G19"}[m.Plane])
		p.plane = m.Plane
	}
	p.line([2]string{"G2", "G3"}[m.Op-CW])
	from := p.at
	// The ends in the plane are written even if one of them stays.
	for k := range 3 {
		if k != h || !p.known[k] || end[k] != p.at[k] {
			p.at[k], p.known[k] = end[k], true
			p.word('X'+byte(k), end[k], p.decimals)
		}
	}
	offset := [3]int64{}
	offset[a], offset[b] = c[0]-from[a], c[1]-from[b]
	for k := range 3 {
		if k != h {
			p.word('I'+byte(k), offset[k], p.decimals)
		}
	}
	p.feedWord(m.Feed)
	p.end()
}

// chords writes lines in place of an arc, each within half a step of it.
func (p *printer) chords(m *Move, t0, t1, sagitta float64) {
	n := 1
	if half := p.mm(1) / 2; sagitta > half {
		n = int(math.Ceil(math.Sqrt(sagitta / half))) // the sagitta falls with the square of the chord
	}
	n = min(n, 1<<16)
	for k := 1; k <= n; k++ {
		p.straight(Line, m.At(t0+(t1-t0)*float64(k)/float64(n)), m.Feed)
	}
}

// centre picks the centre of an arc from where the tool stands to end, on the
// grid. Of the nine grid points about the true centre it takes the one where the
// radii differ least, and of those nearly equal the nearest. If the ends do not
// lie on one circle about there (an arc that was only just allowed) it starts from
// the point of the same radius on the middle line of the ends. ok is false if the
// arc would not survive: no grid point serves, or the sweep comes out different.
func (p *printer) centre(m *Move, end [3]int64, theta float64) (c [2]int64, ok bool) {
	a, b, _ := m.Axes()
	if !p.known[a] || !p.known[b] {
		return c, false
	}
	sx, sy := float64(p.at[a]), float64(p.at[b]) // all in steps
	ex, ey := float64(end[a]), float64(end[b])
	scale := powers[p.decimals] / p.unit
	true0 := orb.Point{m.Centre[0] * scale, m.Centre[1] * scale}
	slack := p.d.arcSlack(m.Radius(), p.unit != 1) * scale / 4
	try := func(at orb.Point) bool {
		cx, cy := math.Round(at[0]), math.Round(at[1])
		best := math.Inf(1)
		for dx := -1.0; dx <= 1; dx++ {
			for dy := -1.0; dy <= 1; dy++ {
				x, y := cx+dx, cy+dy
				r0, r1 := math.Hypot(sx-x, sy-y), math.Hypot(ex-x, ey-y)
				if math.Abs(r0-r1) > slack || r0 < 1 {
					continue
				}
				s := math.Abs(r0-r1) + math.Hypot(x-at[0], y-at[1])
				if math.Abs(x-at[0])+math.Abs(y-at[1]) < 0.01 {
					s = 0 // it lies on the grid: what is printed again stays
				}
				if s < best {
					best, c = s, [2]int64{int64(x), int64(y)}
				}
			}
		}
		if math.IsInf(best, 1) {
			return false
		}
		got := Move{Op: m.Op, From: [3]float64{sx, sy}, To: [3]float64{ex, ey}, Centre: orb.Point{float64(c[0]), float64(c[1])}}
		return math.Abs(math.Abs(got.Sweep())-theta) < 0.5
	}
	if try(true0) {
		return c, true
	}
	chord := math.Hypot(ex-sx, ey-sy)
	if chord < 1 {
		return c, false
	}
	// The foot of the true centre on the middle line of the ends.
	ux, uy := (ex-sx)/chord, (ey-sy)/chord
	off := (true0[0]-(sx+ex)/2)*ux + (true0[1]-(sy+ey)/2)*uy
	return c, try(orb.Point{true0[0] - off*ux, true0[1] - off*uy})
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
