package dxf

import (
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"blockwright/geom"
)

// Gap is the greatest distance in mm between two ends that still meet. Programs
// write arcs with four to six decimals of a degree; ours needs none of it.
const Gap = 0.002

const maxLoops = 5000

// Region joins what lies on the layer into closed boundaries, outers
// counter-clockwise and holes clockwise by how they are nested. Points are left
// out.
//
// It fails with [Faults] if the layer does not exist or is empty, if an end
// meets no other within [Gap] or more than one, if a boundary encloses no area,
// if two boundaries cross or one crosses itself, and if something was skipped
// that could belong to it.
func (d *Drawing) Region(name, file string) (geom.Region, error) {
	s := scanner{file: file}
	l := d.Layer(name)
	for _, k := range d.Skipped {
		if k.touches(name) {
			s.fault(k.At, "%s on layer %s cannot be read; want lines, arcs, circles and polylines", k.Kind, k.Layer)
		}
	}
	switch {
	case len(s.faults) > 0:
		return nil, s.faults
	case l == nil:
		s.fault(0, "no layer %s; it has %s", name, d.names())
		return nil, s.faults
	}
	loops := s.loops(l)
	if len(s.faults) > 0 {
		return nil, s.faults
	}
	if len(loops) == 0 {
		s.fault(0, "nothing on layer %s; want closed boundaries", l.Name)
		return nil, s.faults
	}
	if len(loops) > maxLoops {
		s.fault(0, "%d boundaries on layer %s; want at most %d", len(loops), l.Name, maxLoops)
		return nil, s.faults
	}
	if s.crossings(loops, l.Name); len(s.faults) > 0 {
		return nil, s.faults
	}
	return nest(loops), nil
}

func (d *Drawing) names() string {
	if len(d.Layers) == 0 {
		return "none"
	}
	var out []string
	for i, l := range d.Layers {
		if i == 12 {
			out = append(out, "…")
			break
		}
		out = append(out, l.Name)
	}
	return strings.Join(out, ", ")
}

// touches tells whether the skipped entity may draw on the layer.
func (k Skip) touches(layer string) bool {
	if !k.Shape {
		return false
	}
	for _, in := range k.Inside {
		if in == "*" || strings.EqualFold(in, layer) || in == "0" && strings.EqualFold(k.Layer, layer) {
			return true
		}
	}
	return k.Kind != "INSERT" && strings.EqualFold(k.Layer, layer)
}

// loops are the closed boundaries of the layer.
func (s *scanner) loops(l *Layer) []geom.Path {
	var loops []geom.Path
	var open []Path
	for _, p := range l.Paths {
		switch {
		case len(p.V) < 2, !p.Closed && p.Length() < Gap: // nothing that could be missed
		case p.Closed:
			if math.Abs(p.Area()) < geom.Tol {
				s.fault(p.At, "a closed path on layer %s encloses no area", l.Name)
				continue
			}
			loops = append(loops, p.Path)
		default:
			open = append(open, p)
		}
	}
	for _, c := range l.Circles {
		loops = append(loops, geom.Circle(c.Centre, c.Radius))
	}
	return append(loops, s.join(open, l.Name)...)
}

// An end is one end of an open path: 2i its start, 2i+1 its end.
type end int

// join chains open paths whose ends meet.
func (s *scanner) join(open []Path, layer string) []geom.Path {
	at := func(e end) orb.Point {
		if e%2 == 0 {
			return open[e/2].Start()
		}
		return open[e/2].End()
	}
	mate, ok := s.mates(open, at, layer)
	if !ok {
		return nil
	}
	var out []geom.Path
	used := make([]bool, len(open))
	for i := range open {
		if used[i] {
			continue
		}
		var v []geom.Vertex
		for e := end(2 * i); !used[e/2]; { // e is the end where the next piece begins
			used[e/2] = true
			p := open[e/2].Path
			if e%2 == 1 {
				p = p.Reverse()
			}
			v = append(v, p.V[:len(p.V)-1]...)
			e = mate[e^1]
		}
		p, err := geom.NewPath(true, v...)
		if err != nil || math.Abs(p.Area()) < geom.Tol {
			s.fault(open[i].At, "a boundary on layer %s encloses no area", layer)
			continue
		}
		out = append(out, p)
	}
	return out
}

// mates finds for every end the one end that it meets.
func (s *scanner) mates(open []Path, at func(end) orb.Point, layer string) ([]end, bool) {
	cells := map[[2]int64][]end{}
	cell := func(q orb.Point) [2]int64 {
		return [2]int64{int64(math.Floor(q[0] / Gap)), int64(math.Floor(q[1] / Gap))}
	}
	for i := range open {
		for _, e := range []end{end(2 * i), end(2*i + 1)} {
			c := cell(at(e))
			cells[c] = append(cells[c], e)
		}
	}
	mate := make([]end, 2*len(open))
	ok := true
	for e := range mate {
		e := end(e)
		q := at(e)
		c := cell(q)
		var found []end
		for dx := int64(-1); dx <= 1 && len(found) < 2; dx++ {
			for dy := int64(-1); dy <= 1; dy++ {
				for _, o := range cells[[2]int64{c[0] + dx, c[1] + dy}] {
					if o != e && near(at(o), q, Gap) && len(found) < 2 {
						found = append(found, o)
					}
				}
			}
		}
		switch len(found) {
		case 1:
			mate[e] = found[0]
		case 0:
			ok = false
			s.fault(open[e/2].At, "the end at (%s) on layer %s meets no other within %g mm", show(q), layer, Gap)
		default:
			ok = false
			s.fault(open[e/2].At, "more than two ends meet at (%s) on layer %s (see lines %d and %d)",
				show(q), layer, open[found[0]/2].At, open[found[1]/2].At)
		}
		if len(s.faults) >= maxFaults {
			return nil, false
		}
	}
	return mate, ok
}

func show(q orb.Point) string { return fmt.Sprintf("%.4g, %.4g", q[0], q[1]) }

// crossings reports where boundaries cross: there is no telling which side is
// inside. Places nearer than [Gap] to an end of both edges count as touching.
func (s *scanner) crossings(loops []geom.Path, layer string) {
	report := func(p, q geom.Path, cs []geom.Contact) {
		for _, c := range cs {
			for _, m := range c.Meet[:c.N] {
				a, b := p.Edge(c.I), q.Edge(c.J)
				if m.Kind == geom.Crosses && !atEnd(a, m.At) && !atEnd(b, m.At) {
					s.fault(0, "boundaries on layer %s cross at (%s)", layer, show(m.At))
					return
				}
			}
		}
	}
	bounds := make([]orb.Bound, len(loops))
	for i, p := range loops {
		bounds[i] = p.Bound()
		report(p, p, geom.SelfCrossings(p))
		for j := range i {
			if bounds[i].Intersects(bounds[j]) {
				report(p, loops[j], geom.Crossings(p, loops[j]))
			}
		}
		if len(s.faults) >= maxFaults {
			return
		}
	}
}

func atEnd(e geom.Edge, q orb.Point) bool { return near(e.A, q, Gap) || near(e.B, q, Gap) }

// nest turns each boundary by how many others it lies in.
func nest(loops []geom.Path) geom.Region {
	bounds := make([]orb.Bound, len(loops))
	for i, p := range loops {
		bounds[i] = p.Bound()
	}
	out := make(geom.Region, len(loops))
	for i, p := range loops {
		depth := 0
		for j, o := range loops {
			if i != j && bounds[j].Contains(bounds[i].Min) && bounds[j].Contains(bounds[i].Max) && holds(o, p) {
				depth++
			}
		}
		if p.Area() > 0 != (depth%2 == 0) {
			p = p.Reverse()
		}
		out[i] = p
	}
	return out
}

// holds tells whether p lies in o, by the vertex of p (of up to 64 of them) that
// is farthest from o's boundary: one that touches it would not tell.
func holds(o, p geom.Path) bool {
	best, at := -1.0, p.V[0].Point
	for i := 0; i < len(p.V); i += 1 + len(p.V)/64 {
		v := p.V[i]
		if d := o.Nearest(v.Point).Dist; d > best {
			best, at = d, v.Point
		}
	}
	return o.Winding(at) != 0
}
