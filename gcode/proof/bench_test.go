package proof_test

import (
	"fmt"
	"math"
	"sort"

	"github.com/paulmach/orb"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/gcode/route"
	"blockwright/geom"
)

func sortedKeys[V any](m map[string]V) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

// A bench mills a program in a grid of heights, point by point, and looks at what
// happens: a second opinion that shares nothing with the proof. Its cells are
// coarse, so it looks at walls by samples apart.
type bench struct {
	w     *trade
	part  proof.Part
	wall  *geom.Index
	good  []gcode.Move
	known map[gcode.Move]bool // moves of the good program, which need no second look at the wall
	pause int                 // pauses of the good program
	nx    int
	cell  float64
	lo    orb.Point
	tabs  []orb.Point // middles of the good program's tabs
}

func key(m gcode.Move) gcode.Move {
	m.Block, m.Job, m.Feed = 0, 0, 0
	return m
}

func newBench(w *trade, ms []gcode.Move) *bench {
	b := &bench{w: w, part: w.part(), cell: 0.25, known: map[gcode.Move]bool{}, good: ms}
	ps := walls(&b.part)
	b.wall = geom.NewIndex(ps...)
	box := geom.Bound(ps).Pad(2 * w.tool.Diameter)
	b.lo = box.Min
	b.nx = int((box.Max[0]-box.Min[0])/b.cell) + 1
	r := proof.Hold(ms, w.tool.Diameter, b.part)
	for _, t := range r.Tabs {
		b.tabs = append(b.tabs, t.At)
	}
	b.pause = pauses(ms)
	for _, m := range ms {
		b.known[key(m)] = true
	}
	return b
}

func pauses(ms []gcode.Move) int {
	n := 0
	for i := range ms {
		if ms[i].Op == gcode.Pause {
			n++
		}
	}
	return n
}

// harm says what a program does that the good one does not, "" if nothing.
func (b *bench) harm(ms []gcode.Move) string {
	if b.same(ms) {
		return ""
	}
	if why := b.motions(ms); why != "" {
		return why
	}
	if why := b.gouge(ms); why != "" {
		return why
	}
	if why := b.left(ms); why != "" {
		return why
	}
	return b.mill(ms)
}

// same tells whether the moves are the good program's own, one by one.
func (b *bench) same(ms []gcode.Move) bool {
	if len(ms) != len(b.good) {
		return false
	}
	for i, m := range ms {
		g := b.good[i]
		if m.Block = g.Block; m != g {
			return false
		}
	}
	return true
}

// motions looks at heights, feeds and speeds.
func (b *bench) motions(ms []gcode.Move) string {
	t, top := &b.w.tool, b.part.Top
	if pauses(ms) < b.pause {
		return "a pause is gone"
	}
	dwelt, moved := 0.0, false
	for i := range ms {
		m := &ms[i]
		at := fmt.Sprintf("move %d to %v", i+1, m.To)
		if m.RPM == 0 {
			dwelt = 0
		}
		switch m.Op {
		case gcode.Dwell:
			dwelt += m.Feed
			continue
		case gcode.Pause:
			if m.RPM != 0 || m.To[2] < top+t.SafeZ-0.001 {
				return at + ": a pause at a mill that turns or is low"
			}
			continue
		}
		xy := m.From[0] != m.To[0] || m.From[1] != m.To[1]
		low := math.Min(m.From[2], m.To[2])
		if !moved && (xy || m.To[2] < top+t.SafeZ-0.001) {
			return at + ": does not lift first"
		}
		if m.Op == gcode.Rapid {
			if xy && low < top+t.SafeZ-0.001 {
				return at + ": rapid across, low"
			}
			if moved && m.To[2] < m.From[2] && m.To[2] < top+0.999 {
				return at + ": rapid down, low"
			}
			moved = true
			continue
		}
		moved = true
		if low < top-b.part.Thick-t.Through-0.001 {
			return at + ": too deep"
		}
		if low < top-0.001 {
			if math.Abs(m.RPM-t.RPM) > 1 || dwelt < 3 {
				return at + ": the spindle is not at its speed"
			}
			if m.Feed > t.Feed*1.01 || m.Feed < t.Plunge*0.99 {
				return at + fmt.Sprintf(": feed %g", m.Feed)
			}
			if !xy && m.To[2] < m.From[2] && m.Feed > t.Plunge*1.01 {
				return at + fmt.Sprintf(": down at %g", m.Feed)
			}
		}
	}
	if ms[len(ms)-1].To[2] < top+t.SafeZ-0.001 {
		return "ends low"
	}
	return ""
}

// gouge looks at the way of every move that is not the good program's.
func (b *bench) gouge(ms []gcode.Move) string {
	worst, at := 0.0, orb.Point{}
	for i := range ms {
		m := &ms[i]
		if b.known[key(*m)] || i == 0 {
			continue
		}
		walk(m, 0.01, func(q [3]float64) {
			if q[2] >= b.part.Top-1e-6 {
				return
			}
			p := orb.Point{q[0], q[1]}
			g := b.w.tool.Diameter/2 - solidDist(&b.part, b.wall, p)
			for _, k := range b.part.Pockets {
				if q[2] >= b.part.Top-k.Depth-3e-4 { // where the pocket is, nothing stands above its floor
					g = math.Min(g, b.w.tool.Diameter/2+k.Floor.SignedDist(p))
				}
			}
			if g > worst {
				worst, at = g, p
			}
		})
	}
	if worst > b.part.Rules.Limit+1e-4 {
		return fmt.Sprintf("gouge %.4f at %v", worst, at)
	}
	return ""
}

// left looks along the walls for what no through-cut reaches.
func (b *bench) left(ms []gcode.Move) string {
	floor := b.part.Top - b.part.Thick
	if b.w.tool.Hold == route.Skin {
		floor += b.w.tool.Skin + 1e-4
	}
	x := index(edges(ms, floor+1e-6))
	r := b.w.tool.Diameter / 2
	for _, w := range walls(&b.part) {
		for i := range w.Edges() {
			e := w.Edge(i)
			n := int(e.Length()/0.05) + 1
			for k := range n {
				q := e.At(float64(k) / float64(n))
				left := x.Nearest(q).Dist - r
				if left > b.part.Rules.Limit+1e-4 && !b.onTab(q) {
					return fmt.Sprintf("%.4f is left at %v", left, q)
				}
			}
		}
	}
	return b.leftInPockets(ms)
}

// leftInPockets looks along the pockets' walls for what no way at the floor reaches,
// and over their ground.
func (b *bench) leftInPockets(ms []gcode.Move) string {
	r := b.w.tool.Diameter / 2
	for _, k := range b.part.Pockets {
		x := index(edges(ms, b.part.Top-k.Depth+3e-4))
		for _, w := range geom.Intersection(b.part.Wall, k.Floor) {
			for i := range w.Edges() {
				e := w.Edge(i)
				n := int(e.Length()/0.1) + 1
				for s := range n {
					q := e.At(float64(s) / float64(n))
					if left := x.Nearest(q).Dist - r; left > b.part.Rules.Limit+1e-4 {
						return fmt.Sprintf("%.4f is left of a pocket's wall at %v", left, q)
					}
				}
			}
		}
		box := k.Floor.Bound()
		for u := box.Min[0]; u < box.Max[0]; u += 0.5 {
			for v := box.Min[1]; v < box.Max[1]; v += 0.5 {
				q := orb.Point{u, v}
				if left := x.Nearest(q).Dist - r; left > b.part.Rules.Limit+1e-4 &&
					k.Floor.SignedDist(q) < 0 && b.part.Wall.SignedDist(q) < 0 {
					return fmt.Sprintf("%.4f is left of a pocket's floor at %v", left, q)
				}
			}
		}
	}
	return ""
}

func (b *bench) onTab(q orb.Point) bool {
	for _, t := range b.tabs {
		if math.Hypot(q[0]-t[0], q[1]-t[1]) < (b.w.tool.TabWidth+b.w.tool.Diameter)/2+0.01 {
			return true
		}
	}
	return false
}

// mill cuts the grid: nothing thicker than the step-down at once, nothing by
// going down steeply, and the tabs stay.
func (b *bench) mill(ms []gcode.Move) string {
	t, top := &b.w.tool, b.part.Top
	h := make([]float64, b.nx*(b.nx+400))
	for i := range h {
		h[i] = top
	}
	r := t.Diameter / 2
	// Cells at the rim of the mill are left out of judgement: slivers, and the
	// grid's own coarseness.
	sure := r - 0.3
	why := ""
	for i := range ms {
		m := &ms[i]
		if !m.Cuts() || math.Min(m.From[2], m.To[2]) >= top {
			continue
		}
		xy := m.Length()
		dz := m.From[2] - m.To[2]
		if xy > math.Abs(dz) {
			xy = math.Sqrt(xy*xy - dz*dz)
		} else {
			xy = 0
		}
		steep := math.Atan2(dz, xy) > t.RampAngle*math.Pi/180+0.02
		walk(m, 0.1, func(q [3]float64) {
			x0, x1 := int((q[0]-r-b.lo[0])/b.cell), int((q[0]+r-b.lo[0])/b.cell)+1
			y0, y1 := int((q[1]-r-b.lo[1])/b.cell), int((q[1]+r-b.lo[1])/b.cell)+1
			for y := max(y0, 0); y <= y1; y++ {
				for x := max(x0, 0); x <= x1 && x < b.nx; x++ {
					dx, dy := b.lo[0]+float64(x)*b.cell-q[0], b.lo[1]+float64(y)*b.cell-q[1]
					d := dx*dx + dy*dy
					k := y*b.nx + x
					if d > r*r || k >= len(h) || h[k] <= q[2] {
						continue
					}
					took := h[k] - q[2]
					h[k] = q[2]
					if d > sure*sure || why != "" {
						continue
					}
					if steep && took > 0.01 {
						why = fmt.Sprintf("move %d to %v goes down into the sheet, %.3f", i+1, m.To, took)
					}
					// a ramp's own slope over the mill's width is no step
					if took > t.StepDown+0.02 {
						why = fmt.Sprintf("move %d to %v takes %.3f at once", i+1, m.To, took)
					}
				}
			}
		})
		if why != "" {
			return why
		}
	}
	for _, p := range b.tabs {
		high := 0.0
		for dx := -1.0; dx <= 1; dx += 0.25 {
			for dy := -1.0; dy <= 1; dy += 0.25 {
				x, y := int((p[0]+dx-b.lo[0])/b.cell), int((p[1]+dy-b.lo[1])/b.cell)
				high = math.Max(high, h[y*b.nx+x])
			}
		}
		if high < top-b.part.Thick+t.TabHeight-0.011 {
			return fmt.Sprintf("the tab at %v is gone", p)
		}
	}
	return ""
}
