package proof

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"blockwright/gcode"
)

// motions checks what each move does, whatever the part is: where rapids go, how
// the program starts and ends, feeds and speeds.
func (h *holder) motions() {
	p, r := h.part, &h.part.Rules
	safe := p.Top + r.Safe - depthSlack
	near := p.Top + r.Near - depthSlack
	moved := false
	var last *gcode.Move
	lo := [3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}
	hi := [3]float64{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	for i := range h.moves {
		m := &h.moves[i]
		if !h.ok[i] {
			h.find(i, NoPlace, "the move from %v to %v is no place; want numbers", m.From, m.To)
			continue
		}
		if m.Op == gcode.Pause {
			h.pause(i, m, safe)
			continue
		}
		if m.Op == gcode.Dwell {
			continue
		}
		if moved && r.Own && min(m.From[2], m.To[2]) < safe {
			lo, hi := m.Bound()
			h.place(i, orb.Bound{Min: orb.Point{lo[0], lo[1]}, Max: orb.Point{hi[0], hi[1]}})
		}
		if !moved && r.Own && !(xy(m.From) == xy(m.To) && m.To[2] >= safe) {
			h.find(i, FirstMove, "the first motion goes to %s; want straight up to Z %.4g or higher", spot(m.To), p.Top+r.Safe)
		}
		moved = true
		if r.Own && last != nil && far(last.To, m.From) > depthSlack {
			h.find(i, Jump, "the move starts at %s, the one before ended at %s; want one place", spot(m.From), spot(last.To))
		}
		last = m
		for k := range 3 {
			lo[k] = min(lo[k], min(m.From[k], m.To[k]))
			hi[k] = max(hi[k], max(m.From[k], m.To[k]))
		}
		if a, b, is := radii(m); is && r.Own && math.Abs(a-b) > twoRadii {
			h.find(i, gcode.ArcRadii, "the arc's radius is %.4f at its start and %.4f at its end; want them equal within %.4g", a, b, twoRadii)
		}
		switch {
		case m.Op == gcode.Rapid:
			h.rapid(i, m, safe, near)
		case r.Own && m.Op != gcode.Line && m.Plane != gcode.PlaneXY:
			h.find(i, Upright, "arc outside the XY plane; want G17")
		}
	}
	if last != nil && r.Own && last.To[2] < safe {
		h.find(len(h.moves)-1, LastMove, "the program ends at Z %.4f; want the mill lifted to Z %.4g or higher", last.To[2], p.Top+r.Safe)
	}
	for k, name := range [3]string{"X", "Y", "Z"} {
		if t := r.Travel[k]; t > 0 && hi[k]-lo[k] > t+depthSlack {
			h.find(0, gcode.Travel, "%s runs from %.4f to %.4f; the machine's travel is %.4g", name, lo[k], hi[k], t)
		}
	}
}

func (h *holder) rapid(i int, m *gcode.Move, safe, near float64) {
	low := min(m.From[2], m.To[2])
	switch {
	case gap(xy(m.From), xy(m.To)) > depthSlack:
		if low < safe {
			code := RapidLow
			if low < h.part.Top-depthSlack {
				code = gcode.RapidBelow
			}
			h.find(i, code, "rapid to %s at Z %.4f; want Z %.4g or higher, %.4g above the sheet",
				place(xy(m.To)), low, h.part.Top+h.part.Rules.Safe, h.part.Rules.Safe)
		}
	case h.part.Rules.Own && m.To[2] < m.From[2] && m.To[2] < near:
		h.find(i, RapidEnd, "rapid down to Z %.4f; want it to stop at Z %.4g or higher, %.4g above the sheet",
			m.To[2], h.part.Top+h.part.Rules.Near, h.part.Rules.Near)
	}
}

func (h *holder) pause(i int, m *gcode.Move, safe float64) {
	if m.To[2] < safe && (h.part.Rules.Own || m.To[2] < h.part.Top-depthSlack) {
		h.find(i, PauseLow, "pause with the mill at Z %.4f; want it lifted to Z %.4g or higher", m.To[2], h.part.Top+h.part.Rules.Safe)
	}
	if m.RPM != 0 && h.part.Rules.Own {
		h.find(i, PauseSpin, "pause with the spindle at %.4g rpm; want it stopped", m.RPM)
	}
}

// twoRadii is by how much in mm an arc's radii at its ends may differ (NISTIR 6556,
// 3.5.3.2). Beyond it controllers do different things.
const twoRadii = 0.002

// radii of an arc at its ends.
func radii(m *gcode.Move) (a, b float64, arc bool) {
	if m.Op != gcode.CW && m.Op != gcode.CCW {
		return 0, 0, false
	}
	u, v, _ := m.Axes()
	at := func(p [3]float64) float64 { return gap(orb.Point{p[u], p[v]}, m.Centre) }
	return at(m.From), at(m.To), true
}

func far(a, b [3]float64) float64 {
	return math.Hypot(math.Hypot(a[0]-b[0], a[1]-b[1]), a[2]-b[2])
}

func place(q orb.Point) string { return fmt.Sprintf("(%.4f, %.4f)", q[0], q[1]) }

func spot(q [3]float64) string { return fmt.Sprintf("(%.4f, %.4f, %.4f)", q[0], q[1], q[2]) }
