package cutter

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"blockwright/geom"
)

// A Size is one caliper size of a family of cutters.
type Size struct {
	Name   string  // a word: the flag that gives it
	Letter string  // by which the family's drawing calls it
	Says   string  // what to measure
	Usual  float64 // taken where it is not given; 0 = it must be given
	Plain  bool    // a bare number and no length: an angle in degrees, a count
}

// A Family is a kind of cutter whose profile follows from a dozen sizes. Diameters
// are measured over opposite wings, heights from the end of the edge nearest the
// shank upward.
type Family struct {
	Joint   string
	Shape   string // of plain edges; "" for the others
	Sizes   []Size
	Drawing string // of the right half of the edge: the axis at the left, the shank below

	build func(m *measured)
}

// Name is how messages call the family.
func (f *Family) Name() string {
	if f.Shape != "" {
		return f.Shape
	}
	return f.Joint
}

// Families are all families, those of plain edges one for each shape.
func Families() []*Family {
	return []*Family{lockMiterFamily, drawerLockFamily, edgeGlueFamily, chamferFamily, roundOverFamily, coveFamily, rebateFamily}
}

// FamilyOf finds the family for a joint, and for edges of a shape.
func FamilyOf(joint, shape string) (*Family, error) {
	var shapes []string
	for _, f := range Families() {
		if f.Joint != joint {
			continue
		}
		if f.Shape == shape {
			return f, nil
		}
		shapes = append(shapes, f.Shape)
	}
	switch {
	case len(shapes) == 0:
		return nil, fmt.Errorf("no sizes are known that make the profile for %s; import a drawing or trace a cut", joint)
	case shape == "":
		return nil, fmt.Errorf("an edge of which shape: want one of %s", strings.Join(shapes, ", "))
	}
	return nil, fmt.Errorf("%s has no shape %q", joint, shape)
}

// Calipers is by how much in mm a caliper is likely to err on a cutting edge, which
// it must not be pressed on. Common practice, no source.
const Calipers = 0.1

// A Contradiction is the error of sizes that cannot all be right.
type Contradiction struct {
	Why  string
	From []string // names of the sizes among which the wrong one is
}

func (c *Contradiction) Error() string {
	return fmt.Sprintf("the sizes contradict each other: %s; measure again --%s", c.Why, strings.Join(c.From, ", --"))
}

// Profile is the profile that the sizes make. Sizes that say the same twice, as those
// of the two halves of a lock do, are balanced: the profile is exactly symmetric about
// its centre where its family is. sure is by how much in mm each size may be wrong;
// [Calipers] is usual. Where two ways to one figure differ by more than all of them
// together explain, the error is a [*Contradiction].
//
// The result's spread is how far in mm the profile may be from the cutter.
func (f *Family) Profile(sizes map[string]float64, sure float64) (p geom.Path, spread float64, err error) {
	m := &measured{size: map[string]float64{}, sure: sure}
	if !(sure > 0 && sure <= 2) {
		return p, 0, fmt.Errorf("sizes sure to %g mm; want more than 0, at most 2", sure)
	}
	var missing []string
	for _, s := range f.Sizes {
		v, there := sizes[s.Name]
		if !there {
			if v = s.Usual; v == 0 {
				missing = append(missing, "--"+s.Name)
			}
		}
		if there && !(v > 0 && v <= 2*SizeMax) {
			return p, 0, fmt.Errorf("--%s is %g; want more than 0, at most %d", s.Name, v, 2*SizeMax)
		}
		m.size[s.Name] = v
	}
	if len(missing) > 0 {
		return p, 0, fmt.Errorf("%s needs %s", f.Name(), strings.Join(missing, ", "))
	}
	for name := range sizes {
		if !slices.ContainsFunc(f.Sizes, func(s Size) bool { return s.Name == name }) {
			return p, 0, fmt.Errorf("%s has no size --%s", f.Name(), name)
		}
	}
	f.build(m)
	if m.err != nil {
		return p, 0, m.err
	}
	for i := 1; i < len(m.v); i++ {
		if m.v[i].Y() < m.v[i-1].Y()-1e-9 {
			return p, 0, &Contradiction{fmt.Sprintf("they make the edge go down from height %.3f to %.3f", m.v[i-1].Y(), m.v[i].Y()), m.heights(f)}
		}
		if m.v[i].X() < -1e-9 || m.v[i-1].X() < -1e-9 {
			return p, 0, &Contradiction{"they put the edge across the axis", m.heights(f)}
		}
	}
	// Points that fall together are one.
	v := m.v[:1:1]
	for _, q := range m.v[1:] {
		if l := &v[len(v)-1]; math.Hypot(q.X()-l.X(), q.Y()-l.Y()) < 1e-6 {
			l.Bulge = q.Bulge
			continue
		}
		v = append(v, q)
	}
	return geom.Path{V: v}, sure, nil
}

// measured are sizes on their way to a profile.
type measured struct {
	size map[string]float64
	sure float64
	v    []geom.Vertex
	err  error
}

func (m *measured) heights(f *Family) []string {
	var out []string
	for _, s := range f.Sizes {
		if !s.Plain {
			out = append(out, s.Name)
		}
	}
	return out
}

// radius is half of a diameter.
func (m *measured) radius(name string) float64 { return m.size[name] / 2 }

// agree wants two ways to one figure to agree, as far as the sizes they come from
// may err, and gives their mean. Each of the sizes counts with weight.
func (m *measured) agree(what string, a, b, weight float64, from ...string) float64 {
	limit := weight * float64(len(from)) * m.sure
	if d := math.Abs(a - b); d > limit && m.err == nil {
		m.err = &Contradiction{fmt.Sprintf("%s comes out as %.3f and as %.3f mm, and %.3g mm is all that calipers explain", what, a, b, limit), from}
	}
	return (a + b) / 2
}

// more wants the size a to be more than b.
func (m *measured) more(a, b string) {
	if m.size[a] <= m.size[b] && m.err == nil {
		m.err = &Contradiction{fmt.Sprintf("--%s is %g and --%s %g; the first is the larger one", a, m.size[a], b, m.size[b]), []string{a, b}}
	}
}

func (m *measured) point(r, h float64) { m.v = append(m.v, geom.V(r, h)) }
