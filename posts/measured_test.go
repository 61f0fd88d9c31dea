package posts

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"blockwright/gcode"
	"blockwright/gcode/proof"
	"blockwright/geom"
	"blockwright/jig/adjust"
)

// A worn machine is what no program knows: the mill cuts another diameter, and an
// axis that turns stands still for a while.
type worn struct {
	diameter float64
	play     [2]float64
	centre   []orb.Point // where the mill has been at full depth
	at, told orb.Point
}

// run runs a program from its bytes. The mill follows as lost motion lets it: every
// step of a hundredth of a millimetre or less pushes each axis only as far as the
// play needs. What lies at or below the sheet's underside is cut through.
func (w *worn) run(t testing.TB, text []byte, underside float64) {
	t.Helper()
	p, findings := gcode.Parse("run.ngc", text)
	require.Empty(t, findings)
	p.Run(gcode.RS274NGC(), func(m *gcode.Move) {
		if !m.Moves() {
			return
		}
		n := 1
		if m.Cuts() {
			n = max(1, int(math.Ceil(math.Hypot(m.Length(), 0)/0.01)))
		}
		for k := 1; k <= n; k++ {
			q := m.At(float64(k) / float64(n))
			w.told = orb.Point{q[0], q[1]}
			for a := range 2 {
				half := w.play[a] / 2
				w.at[a] = math.Max(w.told[a]-half, math.Min(w.told[a]+half, w.at[a]))
			}
			if m.Cuts() && q[2] <= underside+1e-6 {
				w.centre = append(w.centre, w.at)
			}
		}
	})
}

// stands is how far the material at q stands out along the normal n: the nearest
// place on the ray to where some disc has cut.
func (w *worn) stands(q, n orb.Point, near []orb.Point) float64 {
	r := w.diameter / 2
	best := math.Inf(1)
	for _, c := range near {
		v := orb.Point{c[0] - q[0], c[1] - q[1]}
		across := v[0]*n[1] - v[1]*n[0]
		if math.Abs(across) >= r {
			continue
		}
		along := v[0]*n[0] + v[1]*n[1]
		half := math.Sqrt(r*r - across*across)
		if along+half < 0 {
			continue // behind the face, where another cut is
		}
		best = math.Min(best, along-half)
	}
	return best
}

// beside are the places of the mill that can touch the path.
func (w *worn) beside(p geom.Path) []orb.Point {
	b := p.Bound().Pad(w.diameter + 1)
	var out []orb.Point
	for _, c := range w.centre {
		if b.Contains(c) {
			out = append(out, c)
		}
	}
	return out
}

// span is what a caliper reads between two opposite flats: its jaws rest on what
// stands out most.
func (w *worn) span(a, b geom.Path) float64 {
	high := func(p geom.Path) float64 {
		e := p.Edge(0)
		d := e.Direction(0)
		n := orb.Point{d[1], -d[0]}
		most, near := math.Inf(-1), w.beside(p)
		for k := 2; k <= 18; k++ {
			q := e.At(float64(k) / 20)
			most = math.Max(most, w.stands(q, n, near)+q[0]*n[0]+q[1]*n[1])
		}
		return most
	}
	return high(a) + high(b)
}

// off is the greatest distance of any seat from where it should be.
func (w *worn) off(t testing.TB, f *Fixture) float64 {
	worst := 0.0
	for _, c := range f.Plates {
		for i, s := range c.Kept {
			near := w.beside(s)
			for k := range s.Edges() {
				e := s.Edge(k)
				l := e.Length()
				for d := 0.3; d <= l-0.3; d += math.Max(0.25, l/40) {
					q, u := e.At(d/l), e.Direction(d/l)
					x := w.stands(q, orb.Point{u[1], -u[0]}, near)
					if math.Abs(x) > worst {
						worst = math.Abs(x)
						if worst > 0.02 {
							t.Logf("%s %s at %v: %.4f", c.Part, c.Seats[i].Name, q, x)
						}
					}
				}
			}
		}
	}
	return worst
}

// measure runs the first program, reads the witness and makes the second.
func measure(t testing.TB, r Request, w *worn) (first, second *Fixture) {
	t.Helper()
	r.Measured = true
	first, files, _, err := Make(t.Context(), r)
	require.NoError(t, err)
	under := 0.0
	if first.Milling.Top {
		under = -first.Sheet.Thick()
	}
	w.run(t, files["ngc"], under)
	flats := first.Plates[len(first.Plates)-1].Kept
	x, y := w.span(flats[0], flats[2]), w.span(flats[1], flats[3])
	found, err := adjust.FromWitness(*first.Witness, math.Round(x*100)/100, math.Round(y*100)/100)
	require.NoError(t, err, "x %.4f y %.4f", x, y)
	t.Logf("D %.4f play %v: x %.4f y %.4f, found %+v", w.diameter, w.play, x, y, found)
	assert.InDelta(t, w.diameter, found.Diameter, 0.012)
	assert.InDelta(t, w.play[0], found.Backlash, 0.012)
	r.Found = &found
	second, files, _, err = Make(t.Context(), r)
	require.NoError(t, err)
	require.NotEmpty(t, files["finish.ngc"])
	w.run(t, files["finish.ngc"], under)
	return first, second
}

func TestMeasuredFinish(t *testing.T) {
	s, c := startedShop(t, "mm")
	r := Request{Shop: s, Kind: "block", Stock: Measure{19, "mm"}}
	r.Joint.Cutter, r.Joint.Stock = c, 19
	plain := &worn{diameter: 3.275, play: [2]float64{0.08, 0.08}}
	f, files, _, err := Make(t.Context(), r)
	require.NoError(t, err)
	plain.run(t, files["ngc"], 0)
	assert.Greater(t, plain.off(t, f), 0.03, "without measuring it is wrong")

	w := &worn{diameter: 3.275, play: [2]float64{0.08, 0.08}}
	_, second := measure(t, r, w)
	assert.LessOrEqual(t, w.off(t, second), 0.02)
}

func TestMeasuredFinishAnyMachine(t *testing.T) {
	s, c := startedShop(t, "mm")
	r := Request{Shop: s, Stock: Measure{19, "mm"}}
	r.Joint.Cutter, r.Joint.Stock = c, 19
	random := rand.New(rand.NewPCG(19, 5))
	for n := range 6 {
		r.Kind = []string{"block", "gauge", "coupon"}[n%3]
		b := random.Float64() * 0.16
		wider := (random.Float64() - 0.5) * 0.3
		if wider/2+b/2 > 0.16 {
			wider = -wider
		}
		t.Run(fmt.Sprintf("%s %+.3f %.3f", r.Kind, wider, b), func(t *testing.T) {
			f, _, _, err := Make(t.Context(), withMeasured(r))
			require.NoError(t, err)
			w := &worn{diameter: f.Diameter + wider, play: [2]float64{b, b}}
			_, second := measure(t, r, w)
			assert.LessOrEqual(t, w.off(t, second), 0.02)
		})
	}
}

func withMeasured(r Request) Request { r.Measured = true; return r }

func TestMeasuredProvesEveryFixture(t *testing.T) {
	for _, c := range fixtures(t) {
		if c.request.Kind == "trial" {
			continue
		}
		if c.request.Kind == "facing" { // it stands clear of everything
			_, _, _, err := Make(t.Context(), withMeasured(c.request))
			require.ErrorContains(t, err, "needs no measured finish")
			continue
		}
		t.Run(c.name, func(t *testing.T) {
			r := withMeasured(c.request)
			f, files, reports, err := Make(t.Context(), r)
			require.NoError(t, err)
			assert.NotEmpty(t, files["ngc"])
			assert.Empty(t, files["finish.ngc"])
			for _, ext := range []string{"ngc", "nc"} {
				assert.InDelta(t, 0, reports[ext].Gouge.Size, inchLimit, ext)
				assert.LessOrEqual(t, reports[ext].Leftover.Size, inchLimit, ext)
			}
			for _, found := range []adjust.Found{{Diameter: f.Diameter + 0.07, Backlash: 0.05}, {Diameter: f.Diameter - 0.1}, {Diameter: f.Diameter, Backlash: 0.2}} {
				r.Found = &found
				g, files, reports, err := Make(t.Context(), r)
				require.NoError(t, err, "%+v", found)
				assert.Len(t, files, 2)
				for _, ext := range []string{"finish.ngc", "finish.nc"} {
					assert.NotEmpty(t, files[ext])
					assert.InDelta(t, 0, reports[ext].Gouge.Size, inchLimit, ext)
					assert.LessOrEqual(t, reports[ext].Leftover.Size, inchLimit, ext)
				}
				// What the proof knows of the first program counts.
				prog, ms := readProgram(t, files["finish.ngc"])
				part := g.part(g.Finishing, prog)
				require.Empty(t, proof.Hold(ms, found.Diameter, part).Findings)
				part.Before = nil
				assert.Contains(t, codes(proof.Hold(ms, found.Diameter, part)), proof.Plunge, "without the first program")
				if found.Backlash > 0 {
					part = g.part(g.Finishing, prog)
					part.Rules.Play = [2]float64{}
					assert.NotEmpty(t, codes(proof.Hold(ms, found.Diameter, part)), "without the play")
					part.Rules.Play = [2]float64{found.Backlash + 0.01, found.Backlash}
					assert.Contains(t, codes(proof.Hold(ms, found.Diameter, part)), proof.NotTaken, "with another play")
				}
			}
		})
	}
}

func readProgram(t *testing.T, text []byte) (*gcode.Program, []gcode.Move) {
	t.Helper()
	p, findings := gcode.Parse("finish.ngc", text)
	require.Empty(t, findings)
	var ms []gcode.Move
	require.Empty(t, p.Run(gcode.RS274NGC(), func(m *gcode.Move) { ms = append(ms, *m) }))
	return p, ms
}

func codes(r proof.Report) []string {
	var out []string
	for _, f := range r.Findings {
		out = append(out, f.Code)
	}
	return out
}
