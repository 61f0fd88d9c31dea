package geom

import (
	"fmt"
	"math"
	"math/rand"

	"github.com/paulmach/orb"
)

// The checks here know only the definition of an offset: distances to the path,
// sides and winding numbers. They share no step with the code under test.

// proof holds an offset of paths against the definition. Side +1 is left.
type proof struct {
	ps    []Path // sources
	d     float64
	out   []Path
	x     *Index
	base  int  // winding number of the sources on the wanted side
	sided bool // all closed and not crossing: base is known
}

func prove(ps []Path, d float64, out []Path) *proof {
	f := &proof{ps: ps, d: d, out: out, x: NewIndex(ps...)}
	area, closed := 0.0, true
	for _, p := range ps {
		area += p.Area()
		closed = closed && p.Closed
	}
	f.sided = closed && math.Abs(area) > 1e-6
	if (area > 0) == (d > 0) {
		if area > 0 {
			f.base = 1
		} else {
			f.base = -1
		}
	}
	return f
}

// distances: every point of the result is |d| from the sources within 2·Tol.
func (f *proof) distances() error {
	want := math.Abs(f.d)
	for i, p := range f.out {
		if len(p.V) == 0 {
			return fmt.Errorf("path %d is empty", i)
		}
		look := func(q orb.Point) error {
			if g := f.x.Nearest(q).Dist; !(math.Abs(g-want) <= 2*Tol) {
				return fmt.Errorf("path %d: %.9f %.9f lies %.9f from the path, %g off", i, q[0], q[1], g, g-want)
			}
			return nil
		}
		for _, v := range p.V {
			if err := look(v.Point); err != nil {
				return err
			}
			if !(math.Abs(v.Bulge) <= 1) {
				return fmt.Errorf("path %d: bulge %g", i, v.Bulge)
			}
		}
		for k := range p.Edges() {
			e := p.Edge(k)
			if e.Length() < Tol/4 {
				return fmt.Errorf("path %d: edge %d is %g long", i, k, e.Length())
			}
			for j := 1; j < 12; j++ {
				if err := look(e.At(float64(j) / 12)); err != nil {
					return fmt.Errorf("edge %d (%+v): %w", k, e, err)
				}
			}
			for _, t := range []float64{1e-5, 1e-3, 1 - 1e-3, 1 - 1e-5} {
				if err := look(e.At(t)); err != nil {
					return fmt.Errorf("edge %d (%+v): %w", k, e, err)
				}
			}
		}
	}
	return nil
}

// each calls f for points at the working distance from the sources, on the side,
// that nothing is nearer to: certified points of the set's boundary.
func (f *proof) each(rng *rand.Rand, per int, visit func(q orb.Point, what string) error) error {
	work := math.Abs(f.d) - Tol/2
	sign := math.Copysign(1, f.d)
	closed := true
	for _, p := range f.ps {
		closed = closed && p.Closed
	}
	try := func(q orb.Point, what string) error {
		if f.x.Closer(q, work-1e-10) {
			return nil
		}
		if !f.sided && (closed && f.widthless(q) || f.astray(q, work, sign)) {
			return nil
		}
		if f.sided && f.x.Winding(q) != f.base {
			return nil
		}
		return visit(q, what)
	}
	for pi, p := range f.ps {
		n := p.Edges()
		for i := range n {
			e := p.Edge(i)
			if s := e.span(); sign*s.k*work >= 1 {
				continue // across an arc's centre its own ends are nearer
			}
			at := func(t float64) error {
				q, u := e.At(t), e.Direction(t)
				return try(orb.Point{q[0] - sign*work*u[1], q[1] + sign*work*u[0]}, fmt.Sprintf("path %d edge %d at %g", pi, i, t))
			}
			for k := range per {
				if err := at((float64(k) + rng.Float64()) / float64(per)); err != nil {
					return err
				}
			}
			for k := 3.0; k < 7; k++ {
				if err := at(math.Pow(10, -k)); err != nil {
					return err
				}
				if err := at(1 - math.Pow(10, -k)); err != nil {
					return err
				}
			}
		}
		for i := range p.V {
			if !p.Closed && (i == 0 || i == len(p.V)-1) && n > 0 {
				continue
			}
			v := p.V[i].Point
			a, sweep := 0.0, 2*math.Pi
			if n > 0 {
				u0, u1 := p.Edge((i+n-1)%n).Direction(1), p.Edge(i).Direction(0)
				if s := cross(u0, u1) * sign; s > -1e-9 && (s > 1e-9 || dot(u0, u1) > 0) {
					continue
				} else if s*s <= 1e-18+2*Tol*math.Abs(p.Edge((i+n-1)%n).span().k+p.Edge(i).span().k) && dot(u0, u1) < 0 && !f.sided {
					continue // its edges may cross once more within Tol: a cusp to either side
				}
				a = math.Atan2(sign*u0[0], -sign*u0[1])
				sweep = math.Atan2(cross(u0, u1), dot(u0, u1))
				if math.Abs(cross(u0, u1)) < 1e-9 {
					sweep = -sign * math.Pi
				}
			}
			for k := range per {
				t := (float64(k) + rng.Float64()) / float64(per)
				s, c := math.Sincos(a + t*sweep)
				if err := try(orb.Point{v[0] + work*c, v[1] + work*s}, fmt.Sprintf("path %d vertex %d", pi, i)); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// widthless tells whether the point of the sources nearest to q lies on edges
// that run back on each other: both sides are left and right of such a spike.
func (f *proof) widthless(q orb.Point) bool {
	at := f.x.Nearest(q)
	var dirs []orb.Point
	for _, p := range f.ps {
		for i := range p.Edges() {
			if e := p.Edge(i); e.Dist(at.At) < 1e-7 {
				_, _, t := e.Nearest(at.At)
				dirs = append(dirs, e.Direction(t))
			}
		}
	}
	for i := range dirs {
		for j := range i {
			if dot(dirs[i], dirs[j]) < -1+1e-9 {
				return true
			}
		}
	}
	return false
}

// astray tells whether some edge as near to q as any sees it on the wrong side.
func (f *proof) astray(q orb.Point, d, sign float64) bool {
	for _, p := range f.ps {
		for i := range p.Edges() {
			e := p.Edge(i)
			if e.Dist(q) > d+1e-9 {
				continue
			}
			at, _, t := e.Nearest(q)
			if dist(at, e.A) < 1e-9 || dist(at, e.B) < 1e-9 {
				continue
			}
			if cross(e.Direction(t), sub(q, at))*sign < 0 {
				return true
			}
		}
	}
	return false
}

// complete: every certified point lies within 10·Tol of the result.
func (f *proof) complete(rng *rand.Rand, per int) error {
	y := NewIndex(f.out...)
	return f.each(rng, per, func(q orb.Point, what string) error {
		if g := y.Nearest(q).Dist; g > 10*Tol {
			return fmt.Errorf("missing: %.9f %.9f (%s), the result is %g away", q[0], q[1], what, g)
		}
		return nil
	})
}

// windings: where closed sources do not cross, the result winds once round the
// points of the set that do not reach outward, and not round the others. A loop
// lost, doubled or turned round shows here.
func (f *proof) windings(rng *rand.Rand, n int) error {
	if !f.sided {
		return nil
	}
	for i, p := range f.out {
		if !p.Closed {
			return fmt.Errorf("path %d of the result is open", i)
		}
	}
	y := NewIndex(f.out...)
	want := math.Abs(f.d)
	infinite := 0 // is the far field in the set?
	if f.base == 0 {
		infinite = 1
	}
	look := func(q orb.Point) error {
		in := 0
		g := f.x.Nearest(q).Dist
		if math.Abs(g-want) < 20*Tol || y.NearestWithin(q, 20*Tol).Dist < 20*Tol {
			return nil
		}
		if g > want && f.x.Winding(q) == f.base {
			in = 1
		}
		w := y.Winding(q)
		if f.d < 0 {
			w = -w
		}
		if w != in-infinite {
			return fmt.Errorf("the result winds %d times round %.9f %.9f, %g from the path; want %d", w, q[0], q[1], g, in-infinite)
		}
		return nil
	}
	b := Bound(f.ps).Pad(1.2 * want)
	for range n {
		if err := look(orb.Point{b.Min[0] + rng.Float64()*(b.Max[0]-b.Min[0]), b.Min[1] + rng.Float64()*(b.Max[1]-b.Min[1])}); err != nil {
			return err
		}
	}
	for _, p := range append(append([]Path{}, f.out...), f.ps...) {
		for range n / 8 {
			k := rng.Intn(len(p.V))
			q := p.V[k].Point
			if p.Edges() > k {
				q = p.Edge(k).At(rng.Float64())
			}
			r := math.Pow(10, -4+4*rng.Float64())
			s, c := math.Sincos(rng.Float64() * 2 * math.Pi)
			if err := look(orb.Point{q[0] + r*c, q[1] + r*s}); err != nil {
				return err
			}
		}
	}
	return nil
}

func (f *proof) all(rng *rand.Rand, per int) error {
	if err := f.distances(); err != nil {
		return err
	}
	if err := f.complete(rng, per); err != nil {
		return err
	}
	return f.windings(rng, 8*per)
}

// figures of a result that do not depend on how it is written.
type figures struct {
	loops, points int
	area, length  float64
	open          int
}

func figuresOf(ps []Path) (f figures) {
	for _, p := range ps {
		f.loops++
		if len(p.V) == 1 {
			f.points++
		}
		if !p.Closed {
			f.open++
		}
		f.area += p.Area()
		f.length += p.Length()
	}
	return f
}

func (f figures) same(g figures) error {
	size := 1 + f.length
	if f.loops != g.loops || f.points != g.points || f.open != g.open ||
		math.Abs(f.area-g.area) > 4*Tol*size || math.Abs(f.length-g.length) > 2e-4*math.Sqrt(size) {
		return fmt.Errorf("%+v, not %+v", g, f)
	}
	return nil
}

// forms: the same path written otherwise, its edges split too, gives the same
// figures.
func forms(rng *rand.Rand, p Path, d float64, want figures) error {
	if err := sameForms(p, d, want); err != nil {
		return err
	}
	s := Path{Closed: p.Closed}
	for i := range p.V {
		if i < p.Edges() {
			a, b := p.Edge(i).Split(0.2 + 0.6*rng.Float64())
			s.V = append(s.V, Vertex{a.A, a.Bulge}, Vertex{b.A, b.Bulge})
		} else {
			s.V = append(s.V, p.V[i])
		}
	}
	return sameForm(want, "split", s, d, 1)
}

// sameForm holds the figures of one form against those wanted; turn is -1 where
// the area changes its sign.
func sameForm(want figures, name string, q Path, d, turn float64) error {
	out, err := q.Offset(d)
	if err != nil {
		return err
	}
	got := figuresOf(out)
	got.area *= turn
	if err := want.same(got); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return nil
}

// sameForms: the same path reversed, mirrored, moved by 10 m, turned and begun at
// other vertices gives the same figures.
func sameForms(p Path, d float64, want figures) error {
	try := func(name string, q Path, d, turn float64) error { return sameForm(want, name, q, d, turn) }
	if err := try("reversed", p.Reverse(), -d, -1); err != nil {
		return err
	}
	if err := try("mirrored", p.Move(MirrorX(3)), -d, -1); err != nil {
		return err
	}
	if err := try("moved", p.Move(Shift(10000-17, -9999)), d, 1); err != nil {
		return err
	}
	if err := try("turned", p.Move(Turn(0.7, orb.Point{3, 4})), d, 1); err != nil {
		return err
	}
	if p.Closed {
		for k := 1; k < len(p.V); k += 1 + len(p.V)/12 {
			if err := try(fmt.Sprintf("from vertex %d", k), p.Rotate(k), d, 1); err != nil {
				return err
			}
		}
	}
	return nil
}
