package geom

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"
)

// shape draws a region on a lattice, so that edges coincide, vertices touch and
// arcs are tangent: what generic shapes never do.
func shape(r *rand.Rand) Region {
	n := func(k int) float64 { return float64(r.Intn(k)) }
	c := orb.Point{n(9), n(9)}
	switch r.Intn(8) {
	case 0:
		return Region{Rect(c[0], c[1], c[0]+1+n(5), c[1]+1+n(5))}
	case 1:
		return Region{Circle(c, 1+n(4))}
	case 2:
		return Region{Circle(c, 1+n(4)).Move(Turn(n(8)*math.Pi/4, c))}
	case 3:
		return Region{Slot(c, orb.Point{n(9), n(9)}, 2+2*n(2))}
	case 4:
		return Region{Circle(c, 3), Circle(c, 1+n(2)).Reverse()}
	case 5:
		x, y := c[0]+2+n(3), c[1]+2+n(3)
		return Region{Rect(c[0], c[1], x+2, y+2), Rect(c[0]+1, c[1]+1, x, y).Reverse()}
	case 6: // triangles and quadrangles, any way round
		p := Path{Closed: true}
		for range 3 + r.Intn(2) {
			p.V = append(p.V, V(n(9), n(9)))
		}
		return Region{p}.Clean()
	}
	return Region{lattice(r)}.Clean()
}

// lattice draws a closed path that may cross, overlap and touch itself.
func lattice(r *rand.Rand) Path {
	for {
		vs := make([]Vertex, 2+r.Intn(6))
		for i := range vs {
			vs[i] = B(float64(r.Intn(9)), float64(r.Intn(9)), 0)
			switch r.Intn(8) {
			case 0:
				vs[i].Bulge = 1
			case 1:
				vs[i].Bulge = -1
			case 2:
				vs[i].Bulge = math.Sqrt2 - 1
			case 3:
				vs[i].Bulge = 1 - math.Sqrt2
			}
		}
		if p, err := NewPath(true, vs...); err == nil && len(p.V) > 1 {
			return p
		}
	}
}

// holds checks what is promised of any result: winding numbers of 0 and 1 only,
// the right ones, away from the boundary, and a boundary that lies on the given.
func holds(t *testing.T, r *rand.Rand, got Region, of []Region, inside func(w []int) bool) {
	t.Helper()
	b := Bound(got)
	var all Region
	for _, x := range of {
		b = b.Union(x.Bound())
		all = append(all, x...)
	}
	for range 60 {
		q := orb.Point{b.Min[0] - 1 + r.Float64()*(b.Max[0]-b.Min[0]+2), b.Min[1] - 1 + r.Float64()*(b.Max[1]-b.Min[1]+2)}
		if Nearest(all, q).Dist < 1e-4 {
			continue
		}
		w := make([]int, len(of))
		for i := range of {
			w[i] = of[i].Winding(q)
		}
		want := 0
		if inside(w) {
			want = 1
		}
		require.Equal(t, want, got.Winding(q), "at %v", q)
	}
	for _, p := range got {
		require.Greater(t, math.Abs(p.Area()), 0.0)
		seen := map[orb.Point]bool{}
		for i := range p.V {
			require.False(t, seen[p.V[i].Point], "passes %v twice", p.V[i].Point)
			seen[p.V[i].Point] = true
			require.LessOrEqual(t, math.Abs(p.V[i].Bulge), 1.0)
			e := p.Edge(i)
			for _, f := range []float64{0, 0.31, 0.5, 0.8} {
				require.LessOrEqual(t, Nearest(all, e.At(f)).Dist, Tol)
			}
		}
	}
}

func TestBooleansOnTheLattice(t *testing.T) {
	for seed := range 1500 {
		r := rand.New(rand.NewSource(int64(seed)))
		a, b := shape(r), shape(r)
		ok := t.Run(fmt.Sprint(seed), func(t *testing.T) {
			u, x, d := Union(a, b), Intersection(a, b), Difference(a, b)
			holds(t, r, u, []Region{a, b}, func(w []int) bool { return w[0]+w[1] > 0 })
			holds(t, r, x, []Region{a, b}, func(w []int) bool { return w[0] > 0 && w[1] > 0 })
			holds(t, r, d, []Region{a, b}, func(w []int) bool { return w[0] > 0 && w[1] == 0 })
			require.InDelta(t, a.Area()+b.Area(), u.Area()+x.Area(), 1e-4)
			require.InDelta(t, a.Area(), d.Area()+x.Area(), 1e-4)
			require.InDelta(t, u.Area(), Union(b, a).Area(), 1e-5)
			require.InDelta(t, u.Area(), Union(u, a).Area(), 1e-5)
			require.Empty(t, Difference(a, u))
		})
		if !ok {
			t.Logf("a: %+v\nb: %+v", a, b)
			break
		}
	}
}

// proper checks that no path of the result crosses another or itself, nor runs
// nearer to it than what counts as one.
func proper(t *testing.T, r Region) {
	t.Helper()
	check := func(p, q Path, c Contact) {
		t.Helper()
		if c.Kind == Overlap {
			// within Tol, which is not yet one
			e, f := p.Edge(c.I), q.Edge(c.J)
			part := e.part(c.Meet[0].TA, c.Meet[1].TA)
			d := 0.0
			for _, x := range []float64{0, 0.5, 1} {
				d = math.Max(d, f.Dist(part.At(x)))
			}
			if part.Length() > 5e-3 {
				require.Greater(t, d, near/2, "edges %d %d overlap: %v", c.I, c.J, c)
			}
			return
		}
		require.Equal(t, Touches, c.Kind, "edges %d %d: %v", c.I, c.J, c)
	}
	for i, p := range r {
		for _, c := range SelfCrossings(p) {
			check(p, p, c)
		}
		for j := range i {
			for _, c := range Crossings(p, r[j]) {
				check(p, r[j], c)
			}
		}
	}
}

// Vertices off the lattice by less and by more than what counts as one: whatever
// is made of the near coincidences, the result is closed, has winding numbers of 0
// and 1 and the right area.
func TestBooleansBesideTheLattice(t *testing.T) {
	for seed := range 1500 {
		r := rand.New(rand.NewSource(int64(seed)))
		by := []float64{1e-10, 1e-9, 3e-8, 1e-7, 3e-7, 1e-6, 3e-6, 1e-5}[r.Intn(8)]
		jitter := func(rg Region) Region {
			for i := range rg {
				for k := range rg[i].V {
					rg[i].V[k].Point[0] += by * float64(r.Intn(3)-1)
					rg[i].V[k].Point[1] += by * float64(r.Intn(3)-1)
				}
			}
			return rg
		}
		a, b := jitter(shape(r)), jitter(shape(r))
		ok := t.Run(fmt.Sprint(seed), func(t *testing.T) {
			u, x, d := Union(a, b), Intersection(a, b), Difference(a, b)
			holds(t, r, u, []Region{a, b}, func(w []int) bool { return w[0]+w[1] > 0 })
			holds(t, r, x, []Region{a, b}, func(w []int) bool { return w[0] > 0 && w[1] > 0 })
			holds(t, r, d, []Region{a, b}, func(w []int) bool { return w[0] > 0 && w[1] == 0 })
			slack := 0.0
			for _, p := range append(append(Region{}, a...), b...) {
				slack += 2 * Tol * p.Length()
			}
			require.InDelta(t, a.Area()+b.Area(), u.Area()+x.Area(), slack)
			require.InDelta(t, a.Area(), d.Area()+x.Area(), slack)
			proper(t, u)
			proper(t, x)
			proper(t, d)
		})
		if !ok {
			t.Logf("by %g\na: %+v\nb: %+v", by, a, b)
			break
		}
	}
}

// inForm gives a region mirrored, reversed in the order and start of its paths,
// moved 10 m or with divided edges.
func inForm(r Region, form int, rng *rand.Rand) Region {
	switch form {
	case 1:
		r = r.Move(MirrorX(3))
	case 2:
		out := Region{}
		for i := len(r) - 1; i >= 0; i-- {
			out = append(out, r[i].Rotate(1+rng.Intn(3)))
		}
		r = out
	case 3:
		r = r.Move(Shift(1e4, -1e4))
	case 4:
		out := Region{}
		for _, p := range r {
			q := Path{Closed: true}
			for i := range p.V {
				e := p.Edge(i)
				if rng.Intn(2) == 0 {
					q.V = append(q.V, p.V[i])
					continue
				}
				a, b := e.Split(0.1 + 0.8*rng.Float64())
				q.V = append(q.V, Vertex{a.A, a.Bulge}, Vertex{b.A, b.Bulge})
			}
			out = append(out, q)
		}
		r = out
	case 5:
		r = r.Move(Turn(0.7, orb.Point{}))
	}
	return r
}

// Flat arcs beside lines and each other: rises from less than what counts as one
// to a tenth of a millimetre.
func TestBooleansOfFlatArcs(t *testing.T) {
	for seed := range 1500 {
		r := rand.New(rand.NewSource(int64(seed)))
		draw := func() Region {
			x, y := float64(r.Intn(3)), float64(r.Intn(3))
			p := Rect(x, y, x+10+float64(r.Intn(3)), y+8)
			for i := range p.V {
				if r.Intn(2) == 0 {
					p.V[i].Bulge = math.Pow(10, -9+7*r.Float64()) * float64(1-2*r.Intn(2))
				}
			}
			return Region{p}
		}
		a, b := draw(), draw()
		u, x, d := Union(a, b), Intersection(a, b), Difference(a, b)
		ok := t.Run(fmt.Sprint(seed), func(t *testing.T) {
			holds(t, r, u, []Region{a, b}, func(w []int) bool { return w[0]+w[1] > 0 })
			holds(t, r, x, []Region{a, b}, func(w []int) bool { return w[0] > 0 && w[1] > 0 })
			holds(t, r, d, []Region{a, b}, func(w []int) bool { return w[0] > 0 && w[1] == 0 })
			require.InDelta(t, a.Area()+b.Area(), u.Area()+x.Area(), 2e-4)
			require.InDelta(t, a.Area(), d.Area()+x.Area(), 2e-4)
			proper(t, u)
			proper(t, x)
			proper(t, d)
		})
		if !ok {
			t.Logf("a: %+v\nb: %+v", a, b)
			break
		}
	}
}

func BenchmarkUnion(b *testing.B) {
	for _, n := range []int{8, 200, 5000} {
		p, q := Region{wavy(n)}, Region{wavy(n).Move(Shift(7, 3))}
		b.Run(fmt.Sprint("wavy ", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Union(p, q)
			}
		})
	}
}

// Many shapes at once: nodes where many edges meet, edges shared by several.
func TestBooleansOfMany(t *testing.T) {
	for seed := range 300 {
		r := rand.New(rand.NewSource(int64(seed)))
		of := make([]Region, 3+r.Intn(8))
		for i := range of {
			of[i] = inForm(shape(r), []int{0, 2, 4}[r.Intn(3)], r)
		}
		ok := t.Run(fmt.Sprint(seed), func(t *testing.T) {
			u, d := Union(of...), Difference(of[0], of[1:]...)
			any := func(w []int) bool {
				n := 0
				for _, v := range w {
					n += v
				}
				return n > 0
			}
			holds(t, r, u, of, any)
			holds(t, r, d, of, func(w []int) bool { return w[0] > 0 && !any(w[1:]) })
			proper(t, u)
			proper(t, d)
			// one after the other gives the same
			var step Region
			rest := of[0]
			for i, x := range of {
				step = Union(step, x)
				if i > 0 {
					rest = Difference(rest, x)
				}
			}
			require.InDelta(t, u.Area(), step.Area(), 1e-5)
			require.InDelta(t, d.Area(), rest.Area(), 1e-5)
		})
		if !ok {
			t.Logf("%+v", of)
			break
		}
	}
}
