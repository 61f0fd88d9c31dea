package proof

import (
	"math"

	"blockwright/gcode"
)

// A holder is one proof at work.
type holder struct {
	moves []gcode.Move
	ok    []bool    // the move's coordinates are numbers
	spun  []float64 // s the spindle has dwelt when the move begins
	stops []stops   // before each move
	mill  float64
	part  *Part
	cuts  []stretch // what lies in the sheet, in order
	floor float64   // deepest Z allowed
	under float64   // at or below this Z a move is through
	rep   Report
	met   []meeting          // of each cut; Milling with a wall
	on    map[string]float64 // see news
}

// Hold holds the moves of a program for a mill of the given diameter in mm
// against the part. It assumes nothing of how the moves were made, and no move is
// sampled: every figure is a bound that is met.
//
// A fault of the part (an open wall, a bore across a wall) is a finding too, and
// nothing is then said of gouge and leftover.
func Hold(ms []gcode.Move, mill float64, part Part) Report {
	if part.Rules == (Rules{}) {
		part.Rules = House()
	}
	h := &holder{moves: ms, mill: mill, part: &part}
	if !(mill >= 0 && mill <= widest) {
		h.findPart("mill diameter %g; want 0 to %g mm", mill, widest)
		return h.rep
	}
	h.moves = h.played(ms)
	h.survey()
	if part.Program != nil && part.Rules.Own {
		h.rep.Findings = append(h.rep.Findings, Opening(part.Program, part.Dialect, part.Kind)...)
	}
	h.motions()
	if part.Kind == Frame {
		h.frame()
		h.finish()
		return h.rep
	}
	for n := range h.cuts {
		h.cutting(n)
	}
	if part.Kind == Engraving {
		h.engraving()
	} else {
		h.milling()
	}
	h.finish()
	return h.rep
}

// widest is the greatest diameter in mm that is taken for a mill's.
const widest = 500.0

// survey parts the moves into stretches and keeps those in the sheet.
func (h *holder) survey() {
	p := h.part
	h.ok = make([]bool, len(h.moves))
	h.spun = make([]float64, len(h.moves))
	h.stops = make([]stops, len(h.moves))
	h.cuts = make([]stretch, 0, len(h.moves)+len(h.moves)/4) // arcs may be parted
	var buf []stretch
	deepest := math.Inf(1)
	dwelt, turned := 0.0, false
	var calls stops
	start := true // where the first motion comes from, no program knows
	for i := range h.moves {
		m := &h.moves[i]
		h.ok[i] = sound(m)
		if m.RPM == 0 {
			dwelt = 0
		} else if m.Op == gcode.Dwell && m.Feed > 0 {
			dwelt += m.Feed
		}
		if turns := m.RPM != 0; turns && !turned {
			calls.started++
		}
		turned = m.RPM != 0
		h.stops[i], h.spun[i] = calls, dwelt
		if m.Op == gcode.Pause && m.RPM == 0 {
			calls.paused++
		}
		if !h.ok[i] || !m.Moves() {
			continue
		}
		if start && m.Op == gcode.Rapid && m.To[2] >= p.Top {
			start = false
			continue
		}
		start = false
		was := len(h.cuts)
		h.cuts, buf = p.inSheet(h.cuts, buf, m, i)
		for k := was; k < len(h.cuts); k++ {
			deepest = min(deepest, h.cuts[k].low())
		}
	}
	switch {
	case p.Kind == Engraving:
		h.floor = p.Top - p.Rules.Engrave
	case p.Thick > 0:
		bottom := p.Top - p.Thick
		h.floor = bottom - p.Rules.Through
		h.under = bottom + 1e-6
		if p.Rules.Hold == BySkin {
			h.under += p.Rules.Skin + depthSlack
		}
	default:
		h.floor = math.Inf(-1)
		h.under = deepest + depthSlack
	}
}

// inSheet appends what of the move lies in the sheet; buf is room to work in.
func (p *Part) inSheet(dst, buf []stretch, m *gcode.Move, i int) (cuts, room []stretch) {
	if m.Plane == gcode.PlaneXY && m.From[2] >= p.Top && m.To[2] >= p.Top {
		return dst, buf
	}
	buf = stretches(buf[:0], m, i)
	for k := range buf {
		s := &buf[k]
		if s.low() >= p.Top-1e-6 {
			continue
		}
		if o, ok := s.below(p.Top + s.fuzz); ok {
			dst = append(dst, o)
		}
	}
	return dst, buf
}

// sound tells whether all numbers of a move are numbers a machine can reach.
func sound(m *gcode.Move) bool {
	for k := range 3 {
		if !(math.Abs(m.From[k]) < 1e6) || !(math.Abs(m.To[k]) < 1e6) {
			return false
		}
	}
	arc := m.Op == gcode.CW || m.Op == gcode.CCW
	return !arc || math.Abs(m.Centre[0]) < 1e9 && math.Abs(m.Centre[1]) < 1e9
}

// milling holds the cuts against walls and bores.
func (h *holder) milling() {
	p := h.part
	var s *solid
	if len(p.Wall)+len(p.Drill) > 0 {
		var err error
		if s, err = newSolid(p); err != nil {
			h.findPart("%v", err)
			s = nil
		}
	}
	mark := h.markings()
	ls := []layer{}
	if s != nil && len(p.Pockets) > 0 {
		var err error
		if ls, err = newLayers(p, s); err != nil {
			h.findPart("%v", err)
			ls, s = nil, nil
		}
	}
	switch {
	case s == nil || len(s.field.c) == 0:
	case len(ls) > 0:
		h.gougesInLayers(ls, mark)
	default:
		h.gouges(s, mark)
	}
	h.layers(mark)
	if s != nil {
		h.leftovers(s)
		h.floors(ls, s)
		h.order(s, mark)
	}
	if len(p.Engrave) > 0 {
		h.faint(mark)
	}
}

// gouges finds the deepest cut into the part.
func (h *holder) gouges(s *solid, mark []bool) {
	if len(h.cuts) == 0 {
		return
	}
	b := newProber(s)
	h.met = make([]meeting, len(h.cuts))
	worst, at := math.Inf(-1), -1
	r := h.mill / 2
	var told int32 = -1
	for n := range h.cuts {
		c := &h.cuts[n]
		if mark[n] {
			h.met[n].loop = -1
			continue
		}
		h.met[n] = b.probe(&c.curve)
		m := &h.met[n]
		m.deep += c.wide
		g := r + m.deep
		if g > worst {
			worst, at = g, n
		}
		if g > h.part.Rules.Limit && told != c.move {
			told = c.move
			h.find(int(c.move), Gouged, "the mill cuts %.4f into the part at %s; want at most %.4g", g, place(b.place(&c.curve, m)), h.part.Rules.Limit)
		}
	}
	if at >= 0 {
		c := &h.cuts[at]
		h.rep.Gouge = Worst{Size: worst, At: b.place(&c.curve, &h.met[at]), Block: h.moves[c.move].Block}
	}
}

// layers checks ramps and the thickness of what is cut in one pass.
func (h *holder) layers(mark []bool) {
	r := &h.part.Rules
	if r.Ramp == 0 && r.Step == 0 || h.mill == 0 {
		return
	}
	side := r.Side
	if side == 0 {
		side = h.mill / 4
	}
	all := h.before()
	was := len(all)
	all = append(all, h.cuts...)
	past := newHistory(all, h.mill, h.mill-math.Hypot(r.Play[0], r.Play[1]))
	var steep, thick int32 = -1, -1
	for n := range h.cuts {
		s := &h.cuts[n]
		if mark[n] || !s.live {
			continue
		}
		if a := s.steep(); r.Ramp > 0 && steep != s.move && a > r.Ramp+1e-3 && past.plunges(was+n, s, r.Sliver) {
			steep = s.move
			h.find(int(s.move), Plunge, "goes down into uncut sheet at %.1f° at %s; want at most %.3g°", a/degree, place(s.B), r.Ramp/degree)
		}
		if r.Step > 0 && thick != s.move && past.slots(was+n, s, h.part.Top, r.Step, side) {
			thick = s.move
			h.find(int(s.move), StepDown, "takes more than %.4g in one pass at Z %.4f near %s", r.Step, s.low(), place(s.B))
		}
	}
}
