package proof_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/geom"
)

// walk calls see with points along a move at most step apart, ends included.
func walk(m *gcode.Move, step float64, see func(p [3]float64)) {
	a, b := m.From, m.To
	if m.Op == gcode.Rapid || m.Op == gcode.Line {
		l := math.Sqrt((b[0]-a[0])*(b[0]-a[0]) + (b[1]-a[1])*(b[1]-a[1]) + (b[2]-a[2])*(b[2]-a[2]))
		n := int(l/step) + 1
		for i := range n + 1 {
			t := float64(i) / float64(n)
			see([3]float64{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1]), a[2] + t*(b[2]-a[2])})
		}
		return
	}
	if m.Op != gcode.CW && m.Op != gcode.CCW {
		return
	}
	u, v, w := 0, 1, 2
	switch m.Plane {
	case gcode.PlaneZX:
		u, v, w = 2, 0, 1
	case gcode.PlaneYZ:
		u, v, w = 1, 2, 0
	}
	a0 := math.Atan2(a[v]-m.Centre[1], a[u]-m.Centre[0])
	a1 := math.Atan2(b[v]-m.Centre[1], b[u]-m.Centre[0])
	turn := a1 - a0
	if a[u] == b[u] && a[v] == b[v] {
		turn = 0
	}
	for m.Op == gcode.CCW && turn <= 1e-12 {
		turn += 2 * math.Pi
	}
	for m.Op == gcode.CW && turn >= -1e-12 {
		turn -= 2 * math.Pi
	}
	r0, r1 := math.Hypot(a[u]-m.Centre[0], a[v]-m.Centre[1]), math.Hypot(b[u]-m.Centre[0], b[v]-m.Centre[1])
	n := int(math.Hypot(math.Max(r0, r1)*turn, b[w]-a[w])/step) + 1
	for i := range n + 1 {
		t := float64(i) / float64(n)
		r := r0 + t*(r1-r0)
		var p [3]float64
		p[u] = m.Centre[0] + r*math.Cos(a0+t*turn)
		p[v] = m.Centre[1] + r*math.Sin(a0+t*turn)
		p[w] = a[w] + t*(b[w]-a[w])
		see(p)
	}
}

// solidDist is the signed distance to walls less bores, by geom's own functions;
// x indexes both. Bores lie inside the wall.
func solidDist(p *proof.Part, x *geom.Index, q orb.Point) float64 {
	d := x.Nearest(q).Dist
	in := p.Wall.Winding(q) > 0
	for _, b := range p.Drill {
		in = in && b.Winding(q) == 0
	}
	if in {
		return -d
	}
	return d
}

// walls are the part's walls and bores.
func walls(p *proof.Part) []geom.Path {
	return append(append([]geom.Path{}, p.Wall...), p.Drill...)
}

// sampled gouge: points at most step apart, so short by at most step/2.
func sampledGouge(ms []gcode.Move, mill float64, p *proof.Part, step float64) float64 {
	g := math.Inf(-1)
	x := geom.NewIndex(walls(p)...)
	for i := range ms {
		if ms[i].From[2] >= p.Top && ms[i].To[2] >= p.Top && ms[i].Plane == gcode.PlaneXY {
			continue
		}
		walk(&ms[i], step, func(q [3]float64) {
			if q[2] < p.Top {
				g = math.Max(g, mill/2-solidDist(p, x, orb.Point{q[0], q[1]}))
			}
		})
	}
	return g
}

// edges are the ways of the moves that are wholly through the sheet, by geom.
func edges(ms []gcode.Move, bottom float64) []geom.Edge {
	var out []geom.Edge
	for i := range ms {
		m := &ms[i]
		if m.Op > gcode.CCW || m.Op == gcode.Rapid || m.RPM <= 0 || m.From[2] > bottom || m.To[2] > bottom {
			continue
		}
		var q []orb.Point
		n := 0
		walk(m, 1, func(p [3]float64) { q = append(q, orb.Point{p[0], p[1]}); n++ })
		// the move's pieces as edges through sampled points; an arc's from its own turn
		for k := 1; k < n; k++ {
			e := geom.Edge{A: q[k-1], B: q[k]}
			if m.Op != gcode.Line {
				u := orb.Point{e.A[0] - m.Centre[0], e.A[1] - m.Centre[1]}
				v := orb.Point{e.B[0] - m.Centre[0], e.B[1] - m.Centre[1]}
				e.Bulge = math.Tan(math.Atan2(u[0]*v[1]-u[1]*v[0], u[0]*v[0]+u[1]*v[1]) / 4)
			}
			out = append(out, e)
		}
	}
	return out
}

// index over edges.
func index(es []geom.Edge) *geom.Index {
	ps := make([]geom.Path, len(es))
	for i, e := range es {
		ps[i] = geom.Path{V: []geom.Vertex{{Point: e.A, Bulge: e.Bulge}, {Point: e.B}}}
	}
	return geom.NewIndex(ps...)
}

// sampledLeft is the greatest distance of a sampled wall point to the moves
// through the sheet, less the radius, outside the tabs. A tab is where it is at
// least 0.5, and on to both sides as long as it falls.
func sampledLeft(ms []gcode.Move, mill float64, p *proof.Part, step float64) (most float64, tabs int) {
	x := index(edges(ms, p.Top-p.Thick))
	most = math.Inf(-1)
	for _, w := range walls(p) {
		var d []float64
		for i := range w.Edges() {
			e := w.Edge(i)
			n := int(e.Length()/step) + 1
			for k := range n {
				q := e.At(float64(k) / float64(n))
				d = append(d, x.Nearest(q).Dist-mill/2)
			}
		}
		n := len(d)
		tab := make([]bool, n)
		for i := range d {
			tab[i] = d[i] >= 0.5
			if tab[i] && d[(i+n-1)%n] < 0.5 {
				tabs++
			}
		}
		for i := range d {
			if d[i] >= 0.5 {
				for k := 1; k < n && float64(k)*step < mill && d[(i+k)%n] < d[(i+k-1)%n]-1e-4*step; k++ {
					tab[(i+k)%n] = true
				}
				for k := 1; k < n && float64(k)*step < mill && d[(i+2*n-k)%n] < d[(i+2*n-k+1)%n]-1e-4*step; k++ {
					tab[(i+2*n-k)%n] = true
				}
			}
		}
		for i := range d {
			if !tab[i] {
				most = math.Max(most, d[i])
			}
		}
	}
	return most, tabs
}

// movable: the end of a deep line that is followed by a line, so that no arc gets
// two radii.
func movable(ms []gcode.Move, i int) bool {
	return ms[i].To[2] < -6 && ms[i].Op == gcode.Line && i+1 < len(ms) && ms[i+1].Op < gcode.CW
}

// Every figure lies between the sampled one and that plus what sampling may miss.
func TestHoldAgainstDenseSampling(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 8))
	for range 6 {
		h, p := good(), plate()
		// push a few words about
		for range 3 {
			i := rnd.IntN(len(h.ms))
			for !movable(h.ms, i) {
				i = rnd.IntN(len(h.ms))
			}
			k := rnd.IntN(2)
			d := (rnd.Float64() - 0.5) * math.Pow(10, -3*rnd.Float64())
			h.ms[i].To[k] += d
			h.ms[i+1].From[k] += d
		}
		r := proof.Hold(h.ms, mill, p)
		const step = 0.04
		g := sampledGouge(h.ms, mill, &p, step)
		assert.GreaterOrEqual(t, r.Gouge.Size, g-1e-6)
		assert.LessOrEqual(t, r.Gouge.Size, g+step/2+1e-6)
		assert.InDelta(t, r.Gouge.Size, mill/2-solidDist(&p, geom.NewIndex(walls(&p)...), r.Gouge.At), 2e-6, "the place has the size")
	}
}

func TestHoldMovedWordIsSeen(t *testing.T) {
	tried := 0
	for i := range good().ms {
		h := good()
		m := &h.ms[i]
		onWall := slices.Contains([]float64{18.5, 51.5, 98.5, 121.5}, m.From[0])
		if !onWall || m.Op != gcode.Line || m.From[2] > -6 || m.To[2] > -6 || m.From[0] != m.To[0] || math.Abs(m.From[1]-m.To[1]) < 20 {
			continue
		}
		tried++
		for _, d := range []float64{0.003, -0.003} {
			h, p := good(), plate()
			m := &h.ms[i]
			// both ends of a finishing line along Y, a word each
			m.From[0] += d
			m.To[0] += d
			h.ms[i-1].To[0] += d
			h.ms[i+1].From[0] += d
			r := proof.Hold(h.ms, mill, p)
			assert.InDelta(t, 0.003, math.Max(r.Gouge.Size, r.Leftover.Size), 1e-5, "move %d by %g", i, d)
			require.NotEmpty(t, r.Findings)
		}
	}
	require.GreaterOrEqual(t, tried, 4)
}

func TestHoldLeftoverAgainstSampling(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for range 3 {
		h, p := good(), plate()
		for range 4 {
			i := rnd.IntN(len(h.ms))
			for !movable(h.ms, i) {
				i = rnd.IntN(len(h.ms))
			}
			k := rnd.IntN(2)
			d := (rnd.Float64() - 0.5) * 0.6
			h.ms[i].To[k] += d
			h.ms[i+1].From[k] += d
		}
		r := proof.Hold(h.ms, mill, p)
		const step = 0.05
		most, tabs := sampledLeft(h.ms, mill, &p, step)
		assert.Len(t, r.Tabs, tabs)
		assert.GreaterOrEqual(t, r.Leftover.Size, most-1e-6)
		assert.LessOrEqual(t, r.Leftover.Size, most+step/2+0.004, "the tab's end is sampled differently")
	}
}
