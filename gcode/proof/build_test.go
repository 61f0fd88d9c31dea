package proof_test

import (
	"math"

	"github.com/paulmach/orb"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/geom"
)

// A hand writes moves for the tests: a planner of its own, simple enough to be
// right at sight.
type hand struct {
	ms   []gcode.Move
	at   [3]float64
	rpm  float64
	feed float64
}

func (h *hand) add(m gcode.Move) {
	m.From, m.Block = h.at, uint32(len(h.ms))
	if m.Op != gcode.Dwell && m.Op != gcode.Pause {
		m.Feed = h.feed
	} else {
		m.To = h.at
	}
	m.RPM = h.rpm
	h.ms = append(h.ms, m)
	h.at = m.To
}

func (h *hand) rapid(x, y, z float64) { h.add(gcode.Move{Op: gcode.Rapid, To: [3]float64{x, y, z}}) }
func (h *hand) line(x, y, z float64)  { h.add(gcode.Move{Op: gcode.Line, To: [3]float64{x, y, z}}) }
func (h *hand) up()                   { h.rapid(h.at[0], h.at[1], 5) }
func (h *hand) to(x, y float64)       { h.up(); h.rapid(x, y, 5); h.rapid(x, y, 1) }
func (h *hand) down(z float64)        { h.line(h.at[0], h.at[1], z) }

// edge follows one edge to the height z.
func (h *hand) edge(e geom.Edge, z float64) {
	m := gcode.Move{Op: gcode.Line, To: [3]float64{e.B[0], e.B[1], z}}
	if !e.Straight() {
		m.Op = gcode.CCW
		if e.Bulge < 0 {
			m.Op = gcode.CW
		}
		m.Centre, _ = e.Arc()
	}
	h.add(m)
}

// follow goes round a path from its start, at one height.
func (h *hand) follow(p geom.Path, z float64) {
	for i := range p.Edges() {
		h.edge(p.Edge(i), z)
	}
}

// helix goes down from the sheet's top to z, round a path as often as the slope
// wants, and once more at the bottom.
func (h *hand) helix(p geom.Path, z, slope float64) {
	h.to(p.Start()[0], p.Start()[1])
	h.down(0.001)
	turns := math.Ceil(-z / (p.Length() * slope))
	at := 0.0
	for range int(turns) {
		for i := range p.Edges() {
			at += p.Edge(i).Length()
			h.edge(p.Edge(i), math.Max(z, z*at/(turns*p.Length())))
		}
	}
	h.follow(p, z)
	h.up()
}

// start lifts the mill and turns the spindle on.
func start() *hand {
	h := &hand{feed: 800}
	h.up()
	h.rpm = 18000
	h.add(gcode.Move{Op: gcode.Dwell})
	h.ms[len(h.ms)-1].Feed = 3
	return h
}

// rounded is a rectangle with rounded corners, counter-clockwise, starting on its
// lower side.
func rounded(x0, y0, x1, y1, r float64) geom.Path {
	if r == 0 {
		return geom.Path{Closed: true, V: []geom.Vertex{geom.V((x0+x1)/2, y0), geom.V(x1, y0), geom.V(x1, y1), geom.V(x0, y1), geom.V(x0, y0)}}
	}
	k := math.Tan(math.Pi / 8)
	return geom.Path{Closed: true, V: []geom.Vertex{
		geom.V((x0+x1)/2, y0), geom.B(x1-r, y0, k), geom.V(x1, y0+r), geom.B(x1, y1-r, k), geom.V(x1-r, y1),
		geom.B(x0+r, y1, k), geom.V(x0, y1-r), geom.B(x0, y0+r, k), geom.V(x0+r, y0),
	}}
}

const (
	thick = 6.0
	deep  = -6.3
	mill  = 3.0
)

var sheet = orb.Bound{Min: orb.Point{0, 0}, Max: orb.Point{200, 150}}

// plate is a rounded plate with a rounded window and a bore.
func plate() proof.Part {
	p := proof.Part{
		Wall:  geom.Region{rounded(20, 20, 120, 90, 8), rounded(50, 40, 100, 70, 4).Reverse()},
		Drill: []geom.Path{geom.Circle(orb.Point{32, 55}, 2.5)},
		Sheet: sheet, Thick: thick, Rules: proof.House(),
	}
	p.Rules.Step = 2
	return p
}

// kerf cuts round p in layers, then once at full depth, lifting over tabs: given
// as lengths along p at which the lift begins and ends.
func (h *hand) kerf(p geom.Path, tabs ...[2]float64) {
	s := p.Start()
	h.to(s[0], s[1])
	h.down(0)
	for _, z := range []float64{-2, -4, -4.8} {
		// ramp on the first 25 mm, back, and round
		ramp := p.Cut(0, 25)
		z0 := h.at[2]
		at := 0.0
		for i := range ramp.Edges() {
			at += ramp.Edge(i).Length()
			h.edge(ramp.Edge(i), z0+(z-z0)*at/ramp.Length())
		}
		h.back(ramp, z)
		h.follow(p, z)
	}
	if len(tabs) == 0 {
		tabs = [][2]float64{{p.Length(), p.Length()}}
	}
	// between tabs: ramp to full depth and back
	for i, t := range tabs {
		from, to := t[1], tabs[(i+1)%len(tabs)][0]
		if to <= from {
			to += p.Length()
		}
		if len(tabs) == 1 && t[0] == t[1] {
			from, to = 0, p.Length()
		}
		piece := p.Cut(from, to)
		q := piece.Start()
		h.to(q[0], q[1])
		h.down(-4.5) // into the kerf
		h.down(-4.8)
		ramp := piece.Cut(0, 20)
		at := 0.0
		for i := range ramp.Edges() {
			at += ramp.Edge(i).Length()
			h.edge(ramp.Edge(i), -4.8+(deep+5.1)*at/ramp.Length())
		}
		h.back(ramp, deep)
		h.follow(piece, deep)
	}
	h.up()
}

// window cuts plate()'s window and all that is in it, from the inside.
func (h *hand) window() {
	for d := 12.0; d > 0; d -= 2 {
		h.inset(d)
	}
	h.kerf(rounded(51.5, 41.5, 98.5, 68.5, 2.5))
}

// inset mills away waste of plate()'s window along a way d mm inside its kerf.
func (h *hand) inset(d float64) {
	p := rounded(51.5+d, 41.5+d, 98.5-d, 68.5-d, 0)
	h.helix(p, deep, math.Min(math.Tan(4*math.Pi/180), 1.8/p.Length()))
}

func (h *hand) back(p geom.Path, z float64) { h.follow(p.Reverse(), z) }

// good is a program that cuts plate() right, with two tabs of 4 mm on its outline.
func good() *hand {
	h := start()
	h.helix(geom.Circle(orb.Point{32, 55}, 1), deep, math.Tan(4*math.Pi/180))
	h.window()
	out := rounded(18.5, 18.5, 121.5, 91.5, 9.5)
	l := out.Length()
	h.kerf(out, [2]float64{0.25*l - 3.5, 0.25*l + 3.5}, [2]float64{0.75*l - 3.5, 0.75*l + 3.5})
	return h
}
